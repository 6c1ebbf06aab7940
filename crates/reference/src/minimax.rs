//! The search without any window, each value seen by the attacker: the judge of [`crate::value`].

use shakmaty::{Chess, Color, Move, Position};

use crate::moves::{after, all_moves, captures_and_queenings, evasions};
use crate::{EVASION_PLIES, MATE, Values, balance};

/// The same number as [`crate::value`], by pure minimax: for positions with few units.
pub fn minimax(pos: &Chess, values: &Values, plies: u32, attacker: Color, base: i32) -> i32 {
    Tree {
        values,
        attacker,
        base,
    }
    .search(pos, plies, 0)
}

struct Tree<'a> {
    values: &'a Values,
    attacker: Color,
    base: i32,
}

impl Tree<'_> {
    fn search(&self, pos: &Chess, plies: u32, depth: u32) -> i32 {
        if plies == 0 {
            return self.quiescence(pos, 0, depth);
        }
        let moves = all_moves(pos);
        match (moves.is_empty(), pos.is_check()) {
            (true, true) => self.mated(pos, depth),
            (true, false) => 0,
            _ => self.best(pos, None, &moves, |next| {
                self.search(next, plies - 1, depth + 1)
            }),
        }
    }

    fn quiescence(&self, pos: &Chess, played: u32, depth: u32) -> i32 {
        let look = |next: &Chess| self.quiescence(next, played + 1, depth + 1);
        if pos.is_check() && played < EVASION_PLIES {
            let moves = evasions(pos);
            if moves.is_empty() {
                return self.mated(pos, depth);
            }
            return self.best(pos, None, &moves, look);
        }
        let stand = balance(pos.board(), self.values, self.attacker) - self.base;
        self.best(pos, Some(stand), &captures_and_queenings(pos), look)
    }

    /// The largest value for the attacker to move, the smallest for the other side; 0 for nothing.
    fn best(
        &self,
        pos: &Chess,
        stand: Option<i32>,
        moves: &[Move],
        look: impl Fn(&Chess) -> i32,
    ) -> i32 {
        let reached = moves.iter().map(|m| look(&after(pos, *m)));
        let all = stand.into_iter().chain(reached);
        let best = if pos.turn() == self.attacker {
            all.max()
        } else {
            all.min()
        };
        best.unwrap_or(0)
    }

    fn mated(&self, pos: &Chess, depth: u32) -> i32 {
        let nearness = MATE - depth as i32;
        if pos.turn() == self.attacker {
            -nearness
        } else {
            nearness
        }
    }
}
