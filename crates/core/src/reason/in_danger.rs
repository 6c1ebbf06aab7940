//! What was in danger before a move, and still falls after it.

use shakmaty::{Bitboard, Square};

use super::refutation::Refutation;
use super::seen_from;
use crate::remedy::Segment;

impl Refutation<'_> {
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
