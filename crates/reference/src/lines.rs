//! Lines of best play, move by move, and whom they charge.

use shakmaty::{CastlingMode, Chess, Color, Move, Position, Role, Square, uci::UciMove};

use crate::moves::{after, all_moves, captures_and_queenings, evasions};
use crate::{EVASION_PLIES, MATE, Values, balance, value, value_in_quiescence};

/// Values beyond this are mates.
const MATES_FROM: i32 = MATE - 1_000;

/// What the attacker is asked about: the table of values, its side, and the balance it counts from.
pub(crate) struct Attack<'a> {
    pub(crate) values: &'a Values,
    pub(crate) attacker: Color,
    pub(crate) base: i32,
}

/// A place in a line. `left` counts the plies of full width to come; below 0 so many plies of the
/// quiescence were played. `captured` is where the last move took something.
#[derive(Clone)]
pub(crate) struct Place {
    pub(crate) pos: Chess,
    pub(crate) left: i32,
    pub(crate) captured: Option<Square>,
}

impl Place {
    pub(crate) fn after(&self, m: Move) -> Place {
        Place {
            pos: after(&self.pos, m),
            left: self.left - 1,
            captured: m.is_capture().then(|| landing(m)),
        }
    }
}

impl Attack<'_> {
    /// The value at a place in the attacker's view.
    pub(crate) fn worth(&self, place: &Place) -> i32 {
        let Place { pos, left, .. } = place;
        let left = *left;
        if left >= 0 {
            value(pos, self.values, left as u32, self.attacker, self.base)
        } else {
            let played = left.unsigned_abs();
            value_in_quiescence(pos, self.values, played, self.attacker, self.base)
        }
    }

    /// The value at a place by one of its moves, in the attacker's view.
    pub(crate) fn worth_of(&self, place: &Place, m: Move) -> i32 {
        one_ply_earlier(self.worth(&place.after(m)))
    }

    /// Whether a move is among the best at a place that is worth `worth`.
    pub(crate) fn is_best(&self, place: &Place, m: Move, worth: i32) -> bool {
        self.worth_of(place, m) == worth
    }

    /// Whether a line ends at a place: the balance stands at its value, and no recapture that
    /// keeps to the value is to come.
    pub(crate) fn ends(&self, place: &Place, worth: i32) -> bool {
        let standing = balance(place.pos.board(), self.values, self.attacker) - self.base;
        let retakes = |m: &Move| m.is_capture() && Some(landing(*m)) == place.captured;
        standing == worth
            && !searched(place)
                .into_iter()
                .any(|m| retakes(&m) && self.is_best(place, m, worth))
    }

    /// The moves of best play from a place that is worth `worth`, until the line ends.
    pub(crate) fn play_out(&self, mut place: Place, mut worth: i32) -> Vec<Move> {
        let mut line = Vec::new();
        while !self.ends(&place, worth) {
            let mut moves = searched(&place);
            moves.sort_by_key(|m| self.preference(&place, *m));
            let best = moves.into_iter().find(|m| self.is_best(&place, *m, worth));
            let Some(m) = best else {
                break;
            };
            line.push(m);
            place = place.after(m);
            worth = one_ply_later(worth);
        }
        line
    }

    /// Recapture on the square of the last capture, by the king last; the attacker's captures, most
    /// valuable first; quiet moves; the defender's captures; and the order of UCI text seen from the
    /// mover's side.
    fn preference(&self, place: &Place, m: Move) -> (u8, i32, [u32; 5]) {
        let order = uci_order(m, place.pos.turn());
        let taken = m.capture().map(|role| worth_of_unit(role, self.values));
        match taken {
            None => (2, 0, order),
            Some(_) if place.captured == Some(landing(m)) => {
                (0, i32::from(m.role() == Role::King), order)
            }
            Some(taken) if place.pos.turn() == self.attacker => (1, -taken, order),
            Some(_) => (3, 0, order),
        }
    }
}

/// Whom a line charges: the square where the unit stood when the line began, or that of a
/// promotion, and where it was taken.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Charge {
    pub(crate) square: Square,
    pub(crate) on_unit: bool,
    pub(crate) taken_on: Square,
}

/// One square's captures and promotions in a line, netted in the attacker's view.
struct Account {
    square: Square,
    net: i32,
    first_taken: Option<Square>,
}

/// The charges of a line from `start`; `None` in the line is a pass.
pub(crate) fn charges(
    start: &Chess,
    line: &[Option<Move>],
    attack: &Attack,
    least: i32,
) -> Vec<Charge> {
    let mut pos = start.clone();
    let mut began: [Square; 64] = Square::ALL;
    let mut accounts: Vec<Account> = Vec::new();
    for step in line {
        let Some(m) = *step else {
            pos = crate::pass(&pos).expect("no pass of a line is in check");
            continue;
        };
        let attacks = pos.turn() == attack.attacker;
        if m.is_capture() || m.is_promotion() {
            let to = landing(m);
            let taken = m.capture().map(|_| began[capture_square(m) as usize]);
            let at = accounts.iter().position(|account| account.square == to);
            let at = at.unwrap_or_else(|| {
                accounts.push(Account {
                    square: to,
                    net: 0,
                    first_taken: None,
                });
                accounts.len() - 1
            });
            let gain = gain(m, attack.values);
            accounts[at].net += if attacks { gain } else { -gain };
            if attacks && accounts[at].first_taken.is_none() {
                accounts[at].first_taken = taken;
            }
        }
        follow(&mut began, m);
        pos = after(&pos, m);
    }
    if pos.turn() != attack.attacker && pos.is_checkmate() {
        let king = pos.board().king_of(pos.turn()).expect("a king");
        return vec![Charge {
            square: began[king as usize],
            on_unit: true,
            taken_on: king,
        }];
    }
    charged(&accounts, least)
}

/// Where several squares gain, losses on others cancel the earliest gains first.
fn charged(accounts: &[Account], least: i32) -> Vec<Charge> {
    let gaining = accounts.iter().filter(|account| account.net > 0).count();
    let lost: i32 = accounts.iter().map(|account| (-account.net).max(0)).sum();
    let mut to_cancel = if gaining > 1 { lost } else { 0 };
    let mut found = Vec::new();
    for account in accounts.iter().filter(|account| account.net > 0) {
        let cancelled = to_cancel.min(account.net);
        to_cancel -= cancelled;
        if account.net - cancelled >= least {
            found.push(Charge {
                square: account.first_taken.unwrap_or(account.square),
                on_unit: account.first_taken.is_some(),
                taken_on: account.square,
            });
        }
    }
    found
}

/// The moves searched at a place.
pub(crate) fn searched(place: &Place) -> Vec<Move> {
    let Place { pos, left, .. } = place;
    if *left > 0 {
        all_moves(pos)
    } else if pos.is_check() && left.unsigned_abs() < EVASION_PLIES {
        evasions(pos)
    } else {
        captures_and_queenings(pos)
    }
}

/// Follows where the unit on each square stood when the line began.
fn follow(began: &mut [Square; 64], m: Move) {
    if let Move::Castle { king, rook } = m {
        let side = m.castling_side().expect("castling has a side");
        let (color, old) = (
            Color::from_white(king.rank() == shakmaty::Rank::First),
            *began,
        );
        began[side.king_to(color) as usize] = old[king as usize];
        began[side.rook_to(color) as usize] = old[rook as usize];
    } else {
        let from = m.from().expect("no unit is dropped in chess");
        began[m.to() as usize] = began[from as usize];
    }
}

/// Where a unit lands; in castling, where the king does.
fn landing(m: Move) -> Square {
    match m.to_uci(CastlingMode::Standard) {
        UciMove::Normal { to, .. } => to,
        _ => m.to(),
    }
}

fn capture_square(m: Move) -> Square {
    match m {
        Move::EnPassant { from, to } => Square::from_coords(to.file(), from.rank()),
        _ => m.to(),
    }
}

fn gain(m: Move, values: &Values) -> i32 {
    let taken = m.capture().map_or(0, |role| worth_of_unit(role, values));
    let promoted = m
        .promotion()
        .map_or(0, |role| worth_of_unit(role, values) - values.pawn);
    taken + promoted
}

pub(crate) fn worth_of_unit(role: Role, values: &Values) -> i32 {
    match role {
        Role::Pawn => values.pawn,
        Role::Knight => values.knight,
        Role::Bishop => values.bishop,
        Role::Rook => values.rook,
        Role::Queen => values.queen,
        Role::King => 0,
    }
}

/// The order of UCI text with the board turned to the mover, a queen before other promotions.
fn uci_order(m: Move, mover: Color) -> [u32; 5] {
    let text = m.to_uci(CastlingMode::Standard).to_string();
    let letters: Vec<u32> = text.bytes().map(u32::from).collect();
    let rank = |letter: u32| match mover {
        Color::White => letter,
        Color::Black => u32::from(b'9') - letter,
    };
    let promotion = match letters.get(4) {
        None => 0,
        Some(&letter) if letter == u32::from(b'q') => 0,
        Some(&letter) => letter,
    };
    [
        letters[0],
        rank(letters[1]),
        letters[2],
        rank(letters[3]),
        promotion,
    ]
}

/// A value one ply before: a mate is then a ply farther away.
fn one_ply_earlier(worth: i32) -> i32 {
    if worth > MATES_FROM {
        worth - 1
    } else if worth < -MATES_FROM {
        worth + 1
    } else {
        worth
    }
}

/// A value one ply after: a mate is then a ply nearer.
pub(crate) fn one_ply_later(worth: i32) -> i32 {
    if worth > MATES_FROM {
        worth + 1
    } else if worth < -MATES_FROM {
        worth - 1
    } else {
        worth
    }
}
