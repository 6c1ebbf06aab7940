//! Which of a position's moves a survey judges, and whether they hold, told by bounds alone.

use shakmaty::Bitboard;

use crate::search::{Move, Search};
use crate::threat::THRESHOLD;
use crate::trade::Standpoint;
use crate::verdict::Question;

/// Which of the legal moves are judged.
#[derive(Debug, Clone, Copy)]
pub enum Judged {
    Every,
    /// Those that land on one of these squares.
    Landing(Bitboard),
    /// Those that hold, and this one; every one where none holds.
    HoldingAnd(Move),
}

impl Search {
    /// The legal moves that a question asks for.
    pub(crate) fn moves_judged(&mut self, question: &Question) -> Vec<Move> {
        let legal = question.standpoint.board.legal_moves().into_iter();
        match question.judged {
            Judged::Every => legal.collect(),
            Judged::Landing(squares) => legal.filter(|m| squares.contains(m.to())).collect(),
            Judged::HoldingAnd(played) => {
                let every: Vec<Move> = legal.collect();
                let holds =
                    |m: &Move| self.holds_at(question.standpoint, *m, question.defence.reach);
                let mut holding: Vec<Move> = every.iter().copied().filter(holds).collect();
                if holding.is_empty() {
                    return every;
                }
                if !holding.contains(&played) {
                    holding.push(played);
                }
                holding
            }
        }
    }

    /// Whether a move holds to a reach, told by bounds alone.
    fn holds_at(&mut self, standpoint: &Standpoint, m: Move, reach: u32) -> bool {
        let child = standpoint.board.after(m, self.values());
        // Each reach leaves the table with good first tries for the next.
        let falls = (1..=reach).map(|reach| self.reaches(&child, 2 * reach - 1, THRESHOLD));
        falls.last() != Some(true)
    }

    /// Whether each legal move holds to a reach, and nothing more.
    pub fn holds(&mut self, standpoint: &Standpoint, reach: u32) -> Vec<(Move, bool)> {
        self.begin(standpoint.base(), reach);
        standpoint
            .board
            .legal_moves()
            .into_iter()
            .map(|m| (m, self.holds_at(standpoint, m, reach)))
            .collect()
    }
}
