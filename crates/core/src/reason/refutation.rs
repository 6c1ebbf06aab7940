//! A move that falls with its refutation, played through.

use std::cell::OnceCell;

use shakmaty::{Bitboard, Color, Role, Square};

use super::stake::Stake;
use super::winnable::{Winnable, squares, winnable};
use crate::count;
use crate::line::Step;
use crate::natural::{Aims, Counterattack};
use crate::replay::Replay;
use crate::search::{Move, Search, SearchBoard};
use crate::threat::THRESHOLD;
use crate::values::Values;

/// A unit that the refutation charges.
#[derive(Debug, Clone, Copy)]
pub(super) struct Loss {
    /// Where it stood before the move.
    pub unit: Square,
    pub role: Role,
    /// Where it stands after the move.
    pub stands: Square,
    /// Where it is taken.
    pub on: Square,
    /// The place in the line of the move that takes it.
    pub at: usize,
    /// What takes it, and where that stands after the move.
    pub taker: (Role, Square),
}

/// A move that falls and what comes of it.
pub(super) struct Refutation<'a> {
    pub stake: &'a Stake<'a>,
    pub aims: Aims,
    pub counterattack: Counterattack,
    pub values: &'a Values,
    /// The move, then its refutation.
    pub moves: Vec<Move>,
    /// The board before each move, and the last one.
    pub boards: Vec<SearchBoard>,
    /// What is lost: the unit that loses most, others that lose as much, and the one that the
    /// reply takes with gain.
    pub losses: Vec<Loss>,
    /// Squares on which the opponent promotes and takes nothing, where nothing loses more.
    pub promotions: Bitboard,
    pub ends_in_mate: bool,
    at_once: OnceCell<Bitboard>,
}

impl<'a> Refutation<'a> {
    pub fn new(
        stake: &'a Stake<'a>,
        aims: Aims,
        counterattack: Counterattack,
        line: &[Step],
        search: &'a Search,
    ) -> Refutation<'a> {
        let moves = line.iter().filter_map(|step| match step {
            Step::Move(m) => Some(*m),
            Step::Pass => None,
        });
        let mut refutation = Refutation {
            stake,
            aims,
            counterattack,
            values: search.values(),
            moves: moves.collect(),
            boards: vec![*stake.board],
            losses: Vec::new(),
            promotions: Bitboard::EMPTY,
            ends_in_mate: false,
            at_once: OnceCell::new(),
        };
        for &m in &refutation.moves {
            let board = refutation.boards[refutation.boards.len() - 1];
            refutation.boards.push(board.after(m, search.values()));
        }
        refutation.charge(line, search);
        refutation
    }

    fn charge(&mut self, line: &[Step], search: &Search) {
        let opponent = !self.us();
        let replay = Replay::of(self.before(), line, opponent, search);
        self.ends_in_mate = replay.is_mate(opponent);
        let mut charges = replay.charges(opponent, THRESHOLD);
        let most = charges.iter().map(|charge| charge.loses).max();
        charges.retain(|charge| Some(charge.loses) == most && !charge.by_mate);
        for charge in charges {
            match self.loss(charge.square, charge.taken_on) {
                Some(loss) => self.losses.push(loss),
                None => self.promotions.add(charge.square),
            }
        }
        self.losses.extend(self.taken_at_once());
    }

    /// The unit that the reply takes with gain by the exchange count, if it is not among the
    /// losses already.
    fn taken_at_once(&self) -> Option<Loss> {
        let reply = self.reply().filter(|reply| reply.capture().is_some())?;
        let at = reply.capture_square();
        let units = self.before().side(self.us()).into_iter();
        let unit = units.into_iter().find(|&unit| self.now_at(unit) == at)?;
        let known = self.losses.iter().any(|loss| loss.unit == unit);
        let gains = || count::exchange(self.after(), reply, self.values) >= THRESHOLD;
        (!known && !self.ends_in_mate && gains())
            .then(|| self.loss(unit, reply.to()))
            .flatten()
    }

    /// How the unit that stood on a square before the move is taken.
    fn loss(&self, unit: Square, on: Square) -> Option<Loss> {
        let mut origins = Square::ALL;
        let stood = |origins: &[Square; 64], square: Square| origins[square as usize];
        for (at, &m) in self.moves.iter().enumerate() {
            let takes = m.capture().is_some() && at % 2 == 1;
            if takes && m.to() == on && stood(&origins, m.capture_square()) == unit {
                return Some(Loss {
                    unit,
                    role: self.before().role_at(unit)?,
                    stands: self.now_at(unit),
                    on: m.capture_square(),
                    at,
                    taker: (m.role(), stood(&origins, m.from())),
                });
            }
            origins[m.to() as usize] = origins[m.from() as usize];
            if m.is_castling() {
                let (from, to) = m.rook_squares();
                origins[to as usize] = origins[from as usize];
            }
        }
        None
    }

    /// The side whose move falls.
    pub fn us(&self) -> Color {
        self.before().turn()
    }

    pub fn before(&self) -> &SearchBoard {
        &self.boards[0]
    }

    /// The board after the move.
    pub fn after(&self) -> &SearchBoard {
        &self.boards[1]
    }

    pub fn played(&self) -> Move {
        self.moves[0]
    }

    /// Whether nothing is lost in the line itself.
    pub fn loses_nothing_more(&self) -> bool {
        self.losses.is_empty() && self.promotions.is_empty() && !self.ends_in_mate
    }

    pub fn reply(&self) -> Option<Move> {
        self.moves.get(1).copied()
    }

    /// Where the unit on a square before the move stands after it.
    pub fn now_at(&self, square: Square) -> Square {
        let m = self.played();
        if square == m.from() {
            m.to()
        } else if m.is_castling() && square == m.rook_squares().0 {
            m.rook_squares().1
        } else {
            square
        }
    }

    /// The loss of the unit that moved, where the move put it.
    pub fn mover_falls(&self) -> Option<&Loss> {
        let m = self.played();
        self.losses
            .iter()
            .find(|loss| loss.unit == m.from() && loss.on == m.to())
    }

    /// Losses of units that stood still and are taken where they stand.
    pub fn taken_in_place(&self) -> impl Iterator<Item = &Loss> {
        self.losses
            .iter()
            .filter(|loss| loss.unit != self.played().from() && loss.on == loss.stands)
    }

    /// What the opponent can take with gain right after the move, by the exchange count.
    pub fn at_once(&self) -> Bitboard {
        *self
            .at_once
            .get_or_init(|| squares(&winnable(self.after(), self.values)))
    }

    /// What the opponent attacks after its move at a place in the line: what it could take with
    /// gain if it were to move again, and the king in check.
    pub fn attacked_after(&self, at: usize) -> Bitboard {
        self.threatened_after(at).0
    }

    /// Of that, what it did not attack before that move, nor before the move that falls.
    pub fn fresh_after(&self, at: usize) -> Bitboard {
        let Some(board) = self.boards.get(at) else {
            return Bitboard::EMPTY;
        };
        let before = if at == 1 {
            let exposed = self.stake.exposed.into_iter();
            let now = exposed.map(|unit| self.now_at(unit));
            now.fold(self.at_once(), Bitboard::with)
        } else {
            self.attacked_after(at - 2) | squares(&winnable(board, self.values))
        };
        self.attacked_after(at) & !before
    }

    /// What the opponent attacks after its move at a place in the line, with what it gains.
    pub fn threatened_after(&self, at: usize) -> (Bitboard, Vec<Winnable>) {
        let Some(board) = self.boards.get(at + 1) else {
            return (Bitboard::EMPTY, Vec::new());
        };
        let units = winnable(&board.passed(), self.values);
        let mut attacked = squares(&units);
        if board.in_check() {
            attacked.add(board.king(self.us()));
        }
        (attacked, units)
    }
}
