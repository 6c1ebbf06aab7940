//! The search: alpha-beta with a table, passing, and less depth for late moves.

use arrayvec::ArrayVec;
use shakmaty::Role;

use super::order::{Hints, Order};
use super::table::{Bound, Known};
use super::{FURTHEST, Thinking};
use crate::evaluation;
use crate::search::{Checks, MATE, Move, SearchBoard, is_mate, is_mated};

pub(super) const INFINITE: i32 = 32_000;

/// The value of a draw.
const DRAW: i32 = 0;

/// A quiet move is worth about this much at most, in centipawns: the margin a ply.
const PLY_MARGIN: i32 = 90;

/// Margins are trusted so near to the end of the search, in plies.
const SHALLOW: i32 = 6;

/// How a node was come to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Here {
    /// Plies from the position thought about.
    pub(super) ply: usize,
    pub(super) in_check: bool,
    /// The move that led here; none at the start and after a pass.
    pub(super) last: Option<Move>,
}

impl Here {
    #[inline]
    pub(super) const fn below(self, m: Move, in_check: bool) -> Here {
        Here {
            ply: self.ply + 1,
            in_check,
            last: Some(m),
        }
    }
}

impl Thinking<'_> {
    /// The value of a board `depth` plies deep in the view of the side to move: exact inside the
    /// window, otherwise a bound on its own side of the window. Meaningless once halted.
    pub(super) fn alpha_beta(
        &mut self,
        board: &SearchBoard,
        depth: i32,
        (alpha, beta): (i32, i32),
        here: Here,
    ) -> i32 {
        let ply = here.ply;
        self.lines[ply].clear();
        if ply > 0 {
            if self.course.is_repeated() {
                return DRAW;
            }
            if self.course.is_exhausted() {
                let mated = here.in_check && board.legal_moves().is_empty();
                return if mated { ply as i32 - MATE } else { DRAW };
            }
        }
        if depth <= 0 || ply >= FURTHEST {
            return self.quiescence(board, alpha, beta, here);
        }
        if !self.halt.visit() {
            return 0;
        }
        let exact_wanted = beta - alpha > 1;
        let known = self.table.known(board.hash(), ply);
        if let Some(known) = known
            && !exact_wanted
            && known.depth >= depth
            && known.settles(alpha, beta)
        {
            return known.value;
        }
        if !exact_wanted
            && !here.in_check
            && let Some(value) = self.settled_early(board, depth, beta, here)
        {
            return value;
        }
        self.best_of(board, depth, (alpha, beta), here, known)
    }

    /// A value at or above beta that needs no look at the moves: the evaluation is far above it,
    /// or even passing reaches it.
    fn settled_early(
        &mut self,
        board: &SearchBoard,
        depth: i32,
        beta: i32,
        here: Here,
    ) -> Option<i32> {
        let standing = evaluation::standing(board);
        if is_mate(beta) || is_mated(beta) || standing < beta {
            return None;
        }
        if depth <= SHALLOW && standing - PLY_MARGIN * depth >= beta {
            return Some(standing);
        }
        let pieces =
            board.side(board.turn()) & !board.of_role(Role::Pawn) & !board.of_role(Role::King);
        // With pawns only, having to move is often what loses.
        if depth < 3 || here.last.is_none() || pieces.is_empty() {
            return None;
        }
        let passed = board.passed();
        let reduced = depth - 3 - depth / 4 - ((standing - beta) / 200).min(2);
        self.course.enter(passed.hash(), 0);
        let below = Here {
            ply: here.ply + 1,
            in_check: false,
            last: None,
        };
        let value = -self.alpha_beta(&passed, reduced, (-beta, -beta + 1), below);
        self.course.leave();
        if self.halt.halted || value < beta {
            return None;
        }
        Some(if is_mate(value) { beta } else { value })
    }

    fn best_of(
        &mut self,
        board: &SearchBoard,
        depth: i32,
        (alpha, beta): (i32, i32),
        here: Here,
        known: Option<Known>,
    ) -> i32 {
        let ply = here.ply;
        let side = board.turn();
        let exact_wanted = beta - alpha > 1;
        let hints = Hints {
            remembered: known.and_then(|known| known.best),
            killers: self.memory.killers(ply),
            reply: self.memory.reply(!side, here.last),
        };
        let checks = Checks::of(board);
        let mut order = Order::new(board, here.in_check, hints);
        let mut tried: ArrayVec<Move, 256> = ArrayVec::new();
        let mut number = 0;
        let mut best = (-INFINITE, None);
        let mut bar = alpha;
        while let Some(m) = order.next(self.memory, &self.values) {
            let gives_check = checks.given_by(m, board);
            let below = here.below(m, gives_check);
            let child = board.after(m, &self.values);
            let extended = depth - 1 + i32::from(gives_check);
            let quiet = m.is_quiet();
            let reduction = if number >= 3 && depth >= 3 && !here.in_check && !gives_check && quiet
            {
                reduction(depth, number, exact_wanted)
            } else {
                0
            };
            let quiet_plies = if m.capture().is_some() || m.role() == Role::Pawn {
                0
            } else {
                self.course.quiet_plies() + 1
            };
            self.course.enter(child.hash(), quiet_plies);
            let value = self.tried_value(
                &child,
                (extended, reduction),
                (bar, beta),
                number == 0,
                below,
            );
            self.course.leave();
            if self.halt.halted {
                return 0;
            }
            number += 1;
            if value > best.0 {
                best = (value, Some(m));
                if value > bar {
                    bar = value;
                    self.keep_line(ply, m);
                    if ply == 0 {
                        self.at_start = Some((value, self.lines[0].clone()));
                    }
                }
                if value >= beta {
                    if quiet {
                        self.memory.learn(side, (ply, depth), here.last, m, &tried);
                    }
                    break;
                }
            }
            if quiet {
                tried.push(m);
            }
        }
        if number == 0 {
            return if here.in_check {
                ply as i32 - MATE
            } else {
                DRAW
            };
        }
        let bound = if best.0 >= beta {
            Bound::AtLeast
        } else if best.0 > alpha {
            Bound::Exact
        } else {
            Bound::AtMost
        };
        let found = Known {
            value: best.0,
            bound,
            depth,
            best: if best.0 > alpha { best.1 } else { None },
        };
        self.table.keep(board.hash(), ply, found);
        best.0
    }

    /// The value of a move's board in the mover's view: the first move with the whole window,
    /// the others to show that they are no better, less deep at first where `reduction` says so.
    fn tried_value(
        &mut self,
        child: &SearchBoard,
        (depth, reduction): (i32, i32),
        (alpha, beta): (i32, i32),
        is_first: bool,
        below: Here,
    ) -> i32 {
        if !is_first {
            let narrow = (-alpha - 1, -alpha);
            let mut value = alpha + 1;
            if reduction > 0 {
                value = -self.alpha_beta(child, depth - reduction, narrow, below);
            }
            if value > alpha {
                value = -self.alpha_beta(child, depth, narrow, below);
            }
            if value <= alpha || value >= beta {
                return value;
            }
        }
        -self.alpha_beta(child, depth, (-beta, -alpha), below)
    }

    /// The best line from here: a move and the best line after it.
    fn keep_line(&mut self, ply: usize, m: Move) {
        let (head, tail) = self.lines.split_at_mut(ply + 1);
        let line = &mut head[ply];
        line.clear();
        line.push(m);
        line.extend_from_slice(&tail[0]);
    }
}

/// How many plies less a late quiet move is searched at first.
#[inline]
fn reduction(depth: i32, number: u32, exact_wanted: bool) -> i32 {
    let plies = (depth.ilog2() * (number + 1).ilog2()) as i32 / 2;
    (plies - i32::from(exact_wanted)).clamp(0, depth - 2)
}
