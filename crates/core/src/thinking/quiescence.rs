//! Following captures until the position is quiet enough to evaluate.

use shakmaty::Role;

use super::alpha_beta::Here;
use super::order::{Hints, Order};
use super::table::{Bound, Known};
use super::{FURTHEST, Thinking, exchange};
use crate::evaluation;
use crate::search::{Bounds, Checks, MATE, Move, MoveList, Promotions, SearchBoard};

/// A capture that leaves the side this far short, in centipawns, is not worth trying.
const MARGIN: i32 = 150;

impl Thinking<'_> {
    /// The value of a board in the view of the side to move, when only captures, promotions to a
    /// queen and, in check, all evasions are played.
    pub(super) fn quiescence(
        &mut self,
        board: &SearchBoard,
        alpha: i32,
        beta: i32,
        here: Here,
    ) -> i32 {
        if !self.halt.visit() {
            return 0;
        }
        if here.ply >= FURTHEST {
            return evaluation::standing(board);
        }
        let known = self.table.known(board.hash(), here.ply);
        if let Some(known) = known
            && known.settles(alpha, beta)
        {
            return known.value;
        }
        let (value, best) = if here.in_check {
            self.evasions(board, (alpha, beta), here, known)
        } else {
            self.captures(board, (alpha, beta), here)
        };
        if !self.halt.halted {
            let bound = if value >= beta {
                Bound::AtLeast
            } else if value > alpha {
                Bound::Exact
            } else {
                Bound::AtMost
            };
            let known = Known {
                value,
                bound,
                depth: 0,
                best,
            };
            self.table.keep(board.hash(), here.ply, known);
        }
        value
    }

    fn captures(
        &mut self,
        board: &SearchBoard,
        (mut alpha, beta): (i32, i32),
        here: Here,
    ) -> (i32, Option<Move>) {
        let standing = evaluation::standing(board);
        if standing >= beta {
            return (standing, None);
        }
        let mut best = (standing, None);
        alpha = alpha.max(standing);
        let bounds = Bounds::of(board, false);
        let mut list = MoveList::new();
        board.forcing_moves(&bounds, Promotions::QueenOnly, &mut list);
        let mut checks = None;
        for &m in &list {
            let checks = checks.get_or_insert_with(|| Checks::of(board));
            let in_check = checks.given_by(m, board);
            if m.promotion().is_none() {
                let taken = m.capture().map_or(0, |role| self.values.of(role));
                let ceiling = standing + taken + MARGIN;
                if ceiling <= alpha && !in_check {
                    best.0 = best.0.max(ceiling);
                    continue;
                }
                if exchange::loses(board, m, &self.values) {
                    continue;
                }
            }
            let child = board.after(m, &self.values);
            let value = -self.quiescence(&child, -beta, -alpha, here.below(m, in_check));
            if self.halt.halted {
                return best;
            }
            if value > best.0 {
                best = (value, Some(m));
                alpha = alpha.max(value);
                if value >= beta {
                    break;
                }
            }
        }
        best
    }

    fn evasions(
        &mut self,
        board: &SearchBoard,
        (mut alpha, beta): (i32, i32),
        here: Here,
        known: Option<Known>,
    ) -> (i32, Option<Move>) {
        let mut best = (here.ply as i32 - MATE, None);
        let hints = Hints {
            remembered: known.and_then(|known| known.best),
            killers: self.memory.killers(here.ply),
            reply: None,
        };
        let checks = Checks::of(board);
        let mut order = Order::new(board, true, hints);
        while let Some(m) = order.next(self.memory, &self.values) {
            if m.promotion().is_some_and(|to| to != Role::Queen) {
                continue;
            }
            let child = board.after(m, &self.values);
            let below = here.below(m, checks.given_by(m, board));
            let value = -self.quiescence(&child, -beta, -alpha, below);
            if self.halt.halted {
                return best;
            }
            if value > best.0 {
                best = (value, Some(m));
                alpha = alpha.max(value);
                if value >= beta {
                    break;
                }
            }
        }
        best
    }
}
