//! A move that falls with its refutation, played through.

use std::cell::OnceCell;

use shakmaty::{Bitboard, Color, Role, Square};

use super::seen_from;
use super::stake::Stake;
use super::winnable::{Winnable, squares, winnable};
use crate::count;
use crate::line::Step;
use crate::natural::{Aims, Counterattack};
use crate::remedy::Segment;
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

    /// Whether the move does anything about the danger, or attacks in turn.
    pub fn tries(&self) -> bool {
        self.aims.any() || self.counterattack.any()
    }

    /// What was in danger and is lost where it stands, although the move does something for others:
    /// it neither attacks in turn nor takes a carrier, adds no guard to this one and does not close
    /// the line of what takes it.
    pub fn in_danger_as_before(&self) -> Bitboard {
        if self.counterattack.any() || self.aims.captures || self.played().is_castling() {
            return Bitboard::EMPTY;
        }
        let taken = self.taken_in_place().filter(|loss| {
            let closed = |segment: &Segment| segment.slider == loss.taker.1;
            !self.aims.guards.contains(loss.unit) && !self.aims.blocks.as_ref().is_some_and(closed)
        });
        let taken = taken.map(|loss| loss.unit);
        let left = taken.fold(self.promotions, Bitboard::with) & !self.aims.guards;
        left & self.endangered_before()
    }

    /// What was in danger before the move by what could be taken with gain at once, by the threat
    /// that the reply carries out, or by a promotion.
    fn endangered_before(&self) -> Bitboard {
        let direct = self.stake.exposed | self.promotions;
        (direct & self.stake.all.charged) | self.threatened_by_the_reply()
    }

    /// What the real threats charge of which the reply is the first move.
    fn threatened_by_the_reply(&self) -> Bitboard {
        let reply = self.reply();
        let threats = self.stake.firsts.iter();
        threats
            .filter(|(first, _)| Some(*first) == reply)
            .fold(Bitboard::EMPTY, |all, (_, charged)| all | *charged)
    }

    /// Whether something that was in danger so is lost, or taken by the reply, or there is mate.
    pub fn falls_as_before(&self) -> bool {
        let lost = self.lost() | self.taken_by_the_reply();
        self.ends_in_mate || (lost & self.endangered_before()).any()
    }

    /// Whether the refutation ends in mate, or what was charged before the move is lost after it
    /// or taken by the reply.
    pub fn still_falls(&self) -> bool {
        self.ends_in_mate || (self.lost() | self.taken_by_the_reply()).any()
    }

    /// The charged units and promotion squares that are lost, as they stood before the move.
    fn lost(&self) -> Bitboard {
        let lost = self.losses.iter().map(|loss| loss.unit);
        lost.fold(self.promotions, Bitboard::with) & self.stake.all.charged
    }

    /// The charged unit that the reply takes, as it stood before the move.
    fn taken_by_the_reply(&self) -> Bitboard {
        let takes = self.reply().filter(|reply| reply.capture().is_some());
        let charged = self.stake.all.charged.into_iter();
        charged
            .filter(|&unit| takes.is_some_and(|m| m.capture_square() == self.now_at(unit)))
            .fold(Bitboard::EMPTY, Bitboard::with)
    }

    /// What a real threat put in danger, where it stands after the move, if the reply is its first
    /// move.
    pub fn what_the_reply_threatened(&self) -> Option<Vec<Square>> {
        let charged = self.threatened_by_the_reply().into_iter();
        let charged = charged
            .map(|square| self.now_at(square))
            .fold(Bitboard::EMPTY, Bitboard::with);
        charged.any().then(|| seen_from(self.us(), charged))
    }

    /// What falls, where it stands after the move: the king if it is mated; else the charged units
    /// that are lost; else the one that the reply takes; else what is not taken back; else all
    /// that is lost.
    pub fn what_still_falls(&self) -> Vec<Square> {
        if self.ends_in_mate {
            return self
                .boards
                .last()
                .map_or_else(Vec::new, |last| vec![last.king(self.us())]);
        }
        let all = self.losses.iter().map(|loss| loss.unit);
        let all = all.fold(self.promotions, Bitboard::with);
        let still = if self.lost().any() {
            self.lost()
        } else if self.taken_by_the_reply().any() {
            self.taken_by_the_reply()
        } else if let Some(square) = self.stake.to_retake {
            return vec![square];
        } else if all.any() {
            all
        } else {
            self.stake.all.charged
        };
        let now = still.into_iter().map(|square| self.now_at(square));
        seen_from(self.us(), now.fold(Bitboard::EMPTY, Bitboard::with))
    }
}
