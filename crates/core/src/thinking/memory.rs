//! Which quiet moves have refuted others: killers, replies and history.

use shakmaty::Color;

use super::FURTHEST;
use crate::search::Move;

/// Scores of history stay within this.
const MOST: i32 = 1 << 14;

#[derive(Debug)]
pub(super) struct Memory {
    /// Two refutations at each ply.
    killers: [[Option<Move>; 2]; FURTHEST + 2],
    /// The refutation of each move, by who made it, with what and where to.
    replies: [[[Option<Move>; 64]; 8]; 2],
    /// How well a unit's move to a square has done.
    history: [[[i32; 64]; 64]; 2],
}

impl Memory {
    pub(super) fn new() -> Memory {
        Memory {
            killers: [[None; 2]; FURTHEST + 2],
            replies: [[[None; 64]; 8]; 2],
            history: [[[0; 64]; 64]; 2],
        }
    }

    /// Make room for a new thought: what was learnt counts for less.
    pub(super) fn fade(&mut self) {
        self.killers = [[None; 2]; FURTHEST + 2];
        for score in self.history.as_flattened_mut().as_flattened_mut() {
            *score /= 8;
        }
    }

    #[inline]
    pub(super) fn killers(&self, ply: usize) -> [Option<Move>; 2] {
        self.killers[ply]
    }

    /// The refutation of the move that `side` has just made.
    #[inline]
    pub(super) fn reply(&self, side: Color, last: Option<Move>) -> Option<Move> {
        let last = last?;
        self.replies[side as usize][last.role() as usize][last.to() as usize]
    }

    #[inline]
    pub(super) fn history(&self, side: Color, m: Move) -> i32 {
        self.history[side as usize][m.from() as usize][m.to() as usize]
    }

    /// Learn that a quiet move of `side` refuted `last`, and that those tried before it did not.
    pub(super) fn learn(
        &mut self,
        side: Color,
        (ply, depth): (usize, i32),
        last: Option<Move>,
        refutation: Move,
        tried: &[Move],
    ) {
        let killers = &mut self.killers[ply];
        if killers[0] != Some(refutation) {
            killers[1] = killers[0];
            killers[0] = Some(refutation);
        }
        if let Some(last) = last {
            self.replies[!side as usize][last.role() as usize][last.to() as usize] =
                Some(refutation);
        }
        let step = (depth * depth * 16).min(MOST / 8);
        self.shift(side, refutation, step);
        for &m in tried {
            self.shift(side, m, -step);
        }
    }

    /// Moves a score towards its bound, the less the nearer it is.
    #[inline]
    fn shift(&mut self, side: Color, m: Move, step: i32) {
        let score = &mut self.history[side as usize][m.from() as usize][m.to() as usize];
        *score += step - *score * step.abs() / MOST;
    }
}
