//! Proof lines: the moves that show a value, chosen by fixed rules where several would do.

use shakmaty::{Bitboard, Color, Role, Square};

use crate::search::{
    EVASION_PLIES, Move, MoveList, Search, SearchBoard, is_mate, is_mated, later_by_one_ply,
};

/// How much of a search is left at a point of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Left {
    /// So many plies of full width.
    Plies(u32),
    /// Quiescence, with so many of its plies played.
    Quiet(u32),
}

impl Left {
    /// What is left one ply later.
    #[must_use]
    pub const fn next(self) -> Left {
        match self {
            Left::Plies(0) => Left::Quiet(1),
            Left::Plies(1) => Left::Quiet(0),
            Left::Plies(plies) => Left::Plies(plies - 1),
            Left::Quiet(played) => Left::Quiet(played + 1),
        }
    }
}

/// A point of a line: the board, what is left to search, and what the line must show.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    pub board: SearchBoard,
    pub left: Left,
    /// Where the last move captured, if it did.
    pub last_capture: Option<Square>,
}

impl Point {
    /// The point after a move.
    #[must_use]
    pub fn after(&self, m: Move, search: &Search) -> Point {
        Point {
            board: self.board.after(m, search.values()),
            left: self.left.next(),
            last_capture: m.capture().map(|_| m.to()),
        }
    }
}

impl Search {
    /// Whether the side to move at a point attains `bound` or more.
    pub fn attains(&mut self, point: &Point, bound: i32) -> bool {
        match point.left {
            Left::Plies(plies) => self.reaches(&point.board, plies, bound),
            Left::Quiet(played) => self.reaches_quietly(&point.board, played, bound),
        }
    }

    /// Whether `m` is among the moves that show the value at a point, in the mover's view.
    pub fn shows(&mut self, point: &Point, m: Move, value: i32) -> bool {
        let next = point.after(m, self);
        !self.attains(&next, later_by_one_ply(value) + 1)
    }

    /// The moves searched at a point.
    fn candidates(point: &Point) -> MoveList {
        let mut list = point.board.legal_moves();
        if let Left::Quiet(played) = point.left {
            if point.board.in_check() && played < EVASION_PLIES {
                list.retain(|m| m.capture().is_none() || is_queening_or_none(*m));
            } else {
                list.retain(|m| !m.is_quiet() && is_queening_or_none(*m));
            }
        }
        list
    }

    /// The candidates at a point, those that a line prefers first.
    #[must_use]
    pub fn preferred(&self, point: &Point, attacker: Color) -> MoveList {
        let mut list = Search::candidates(point);
        list.sort_by_key(|&m| self.preference(point, m, attacker));
        list
    }

    /// Recapture first; then the attacker's captures, dearest unit first; quiet moves; the
    /// defender's captures; and the order of UCI text seen from the mover's side of the board.
    fn preference(&self, point: &Point, m: Move, attacker: Color) -> (u8, i32, u32) {
        let mover = point.board.turn();
        let victim = m.capture().map_or(0, |role| self.values().of(role));
        let kind = if m.capture().is_some() && point.last_capture == Some(m.to()) {
            0
        } else if m.capture().is_none() {
            2
        } else if mover == attacker {
            1
        } else {
            3
        };
        (
            kind,
            if kind == 1 { -victim } else { 0 },
            uci_order(m, mover),
        )
    }

    /// Whether the balance at a point stands at its value: it is equal to it, and no recapture
    /// that would show the value too is still to come.
    pub fn stands(&mut self, point: &Point, value: i32) -> bool {
        if self.standing(&point.board) != value {
            return false;
        }
        let Some(square) = point.last_capture else {
            return true;
        };
        !Search::candidates(point)
            .into_iter()
            .any(|m| m.capture().is_some() && m.to() == square && self.shows(point, m, value))
    }

    /// Plays on from a point whose value (in the view of the side to move) is known, until the
    /// balance stands at it, or to mate or stalemate.
    pub fn play_out(&mut self, mut point: Point, mut value: i32, attacker: Color) -> Vec<Move> {
        let mut line = Vec::new();
        while !self.stands(&point, value) {
            let preferred = self.preferred(&point, attacker);
            let Some(m) = preferred
                .into_iter()
                .find(|&m| self.shows(&point, m, value))
            else {
                break;
            };
            line.push(m);
            point = point.after(m, self);
            value = later_by_one_ply(value);
        }
        line
    }
}

/// A promotion to a queen, or no promotion at all.
fn is_queening_or_none(m: Move) -> bool {
    m.promotion().is_none_or(|to| to == Role::Queen)
}

/// The order of UCI text from the mover's side of the board, a queen before other promotions.
fn uci_order(m: Move, mover: Color) -> u32 {
    let seen = |square: Square| {
        let square = match mover {
            Color::White => square,
            Color::Black => square.flip_vertical(),
        };
        square.file() as u32 * 8 + square.rank() as u32
    };
    let promotion = match m.promotion() {
        None | Some(Role::Queen) => 0,
        Some(Role::Bishop) => 1,
        Some(Role::Knight) => 2,
        Some(_) => 3,
    };
    (seen(m.from()) * 64 + seen(m.to())) * 4 + promotion
}

/// One step of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    Pass,
    Move(Move),
}

impl Step {
    /// UCI text; a pass is `0000`.
    #[must_use]
    pub fn uci(self) -> String {
        match self {
            Step::Pass => "0000".to_owned(),
            Step::Move(m) => m.uci(),
        }
    }
}

/// What a line won and lost on one square, from the attacker's view.
#[derive(Debug, Clone, Copy)]
struct Account {
    square: Square,
    net: i32,
    /// Where the first unit of the defender taken here stood when the line began.
    first_taken: Option<Square>,
}

/// A unit (or the square of a promotion) that a line charges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Charge {
    /// Where the unit stood when the line began; the promotion square if no unit was taken.
    pub square: Square,
    /// Where it was taken.
    pub taken_on: Square,
    /// Centipawns, before it is capped by the value of the line.
    pub loses: i32,
    pub by_mate: bool,
}

/// A line played through, with each unit followed from where it first stood.
pub struct Replay {
    pub last: SearchBoard,
    /// Where the unit now on each square stood when the line began.
    origins: [Square; 64],
    accounts: Vec<Account>,
    /// Squares at the start of the attacker's units that took something.
    pub takers: Bitboard,
    /// From and to of each slider's move of the attacker.
    pub slides: Vec<(Square, Square)>,
    /// Squares on which the attacker landed.
    pub landings: Bitboard,
    /// The least valuable unit of the attacker that took each unit, by where that one stood.
    pub taken_by: Vec<(Square, Role)>,
}

impl Replay {
    /// Plays `line` from `board`; gains are seen from `attacker`.
    #[must_use]
    pub fn of(board: &SearchBoard, line: &[Step], attacker: Color, search: &Search) -> Replay {
        let mut replay = Replay {
            last: *board,
            origins: Square::ALL,
            accounts: Vec::new(),
            takers: Bitboard::EMPTY,
            slides: Vec::new(),
            landings: Bitboard::EMPTY,
            taken_by: Vec::new(),
        };
        for step in line {
            match *step {
                Step::Pass => replay.last = replay.last.passed(),
                Step::Move(m) => {
                    replay.account(m, attacker, search);
                    replay.follow(m);
                    replay.last = replay.last.after(m, search.values());
                }
            }
        }
        replay
    }

    fn follow(&mut self, m: Move) {
        self.origins[m.to() as usize] = self.origins[m.from() as usize];
        if m.is_castling() {
            let (from, to) = m.rook_squares();
            self.origins[to as usize] = self.origins[from as usize];
        }
    }

    /// Where the unit now on a square stood when the line began.
    #[must_use]
    pub fn origin(&self, square: Square) -> Square {
        self.origins[square as usize]
    }

    fn account(&mut self, m: Move, attacker: Color, search: &Search) {
        let attacks = self.last.turn() == attacker;
        if attacks {
            self.landings.add(m.to());
            if matches!(m.role(), Role::Bishop | Role::Rook | Role::Queen) {
                self.slides.push((m.from(), m.to()));
            }
        }
        if m.is_quiet() {
            return;
        }
        let taken = m.capture().map(|_| self.origin(m.capture_square()));
        if attacks && let Some(taken) = taken {
            self.takers.add(self.origin(m.from()));
            self.taken_by.push((taken, m.role()));
        }
        let gain = search.gain(m);
        let known = self.accounts.iter().position(|a| a.square == m.to());
        let index = known.unwrap_or_else(|| {
            self.accounts.push(Account {
                square: m.to(),
                net: 0,
                first_taken: None,
            });
            self.accounts.len() - 1
        });
        let account = &mut self.accounts[index];
        account.net += if attacks { gain } else { -gain };
        if attacks {
            account.first_taken = account.first_taken.or(taken);
        }
    }

    /// The units the line charges: the king if it ends in mate; otherwise, square by square,
    /// what the attacker netted there. Where several squares gain, losses elsewhere cancel the
    /// earliest gains first, so that an even trade which removes a guard charges the unit that
    /// it guarded.
    #[must_use]
    pub fn charges(&self, attacker: Color, threshold: i32) -> Vec<Charge> {
        if self.is_mate(attacker) {
            let king = self.origin(self.last.king(!attacker));
            return vec![Charge {
                square: king,
                taken_on: king,
                loses: 0,
                by_mate: true,
            }];
        }
        let gaining = self.accounts.iter().filter(|a| a.net > 0).count();
        let mut to_cancel: i32 = if gaining > 1 {
            self.accounts.iter().map(|a| (-a.net).max(0)).sum()
        } else {
            0
        };
        let mut charges = Vec::new();
        for account in self.accounts.iter().filter(|a| a.net > 0) {
            let cancelled = to_cancel.min(account.net);
            to_cancel -= cancelled;
            let net = account.net - cancelled;
            if net >= threshold {
                charges.push(Charge {
                    square: account.first_taken.unwrap_or(account.square),
                    taken_on: account.square,
                    loses: net,
                    by_mate: false,
                });
            }
        }
        charges
    }

    /// Whether the attacker has given mate at the end.
    #[must_use]
    pub fn is_mate(&self, attacker: Color) -> bool {
        self.last.turn() != attacker && self.last.in_check() && self.last.legal_moves().is_empty()
    }
}

/// Whether a value is mate for either side.
#[must_use]
pub const fn is_decided(value: i32) -> bool {
    is_mate(value) || is_mated(value)
}
