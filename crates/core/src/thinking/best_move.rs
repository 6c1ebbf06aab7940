//! The search at one position: its moves in turn, the unlikely ones less deep or not at all.

use arrayvec::ArrayVec;
use shakmaty::{Role, attacks};

use super::Thinking;
use super::alpha_beta::{DRAW, Here, INFINITE, PLY_MARGIN, SHALLOW};
use super::exchange;
use super::order::{Hints, Order};
use super::table::{Bound, Known};
use crate::search::{Checks, MATE, MOST_MOVES, Move, SearchBoard, is_mated};

/// What the search at one position goes by.
struct Tries {
    depth: i32,
    alpha: i32,
    beta: i32,
    /// The evaluation of the position; none in check.
    standing: Option<i32>,
    /// Whether the side to move stands better than at its last turn.
    improving: bool,
    /// Moves tried so far.
    number: u32,
    best: (i32, Option<Move>),
}

impl Tries {
    const fn exact_wanted(&self) -> bool {
        self.beta - self.alpha > 1
    }

    fn bound(&self) -> Bound {
        if self.best.0 >= self.beta {
            Bound::AtLeast
        } else if self.best.0 > self.alpha {
            Bound::Exact
        } else {
            Bound::AtMost
        }
    }
}

impl Thinking<'_> {
    pub(super) fn best_of(
        &mut self,
        board: &SearchBoard,
        depth: i32,
        (alpha, beta): (i32, i32),
        here: Here,
        known: Option<Known>,
    ) -> i32 {
        let ply = here.ply;
        let side = board.turn();
        let mut tries = Tries {
            depth,
            alpha,
            beta,
            standing: self.standings[ply],
            improving: self.is_improving(ply),
            number: 0,
            best: (-INFINITE, None),
        };
        let hints = Hints {
            remembered: known.and_then(|known| known.best),
            killers: self.memory.killers(ply),
            reply: self.memory.reply(!side, here.last),
        };
        let checks = Checks::of(board);
        let mut order = Order::new(board, here.in_check, hints);
        let mut quiet_tried: ArrayVec<Move, MOST_MOVES> = ArrayVec::new();
        let mut bar = alpha;
        while let Some(m) = order.next(self.memory, &self.values) {
            let gives_check = checks.given_by(m, board);
            if ply > 0 && !gives_check && self.is_hopeless(board, &tries, m) {
                continue;
            }
            let value = self.value_of(board, m, gives_check, &tries, bar, here);
            if self.halt.halted {
                return 0;
            }
            tries.number += 1;
            if value > tries.best.0 {
                tries.best = (value, Some(m));
                if value > bar {
                    bar = value;
                    self.keep_line(ply, value, m);
                }
                if value >= beta {
                    if m.is_quiet() {
                        self.memory
                            .learn(side, (ply, depth), here.last, m, &quiet_tried);
                    }
                    break;
                }
            }
            if m.is_quiet() {
                quiet_tried.push(m);
            }
        }
        if tries.number == 0 {
            return if here.in_check {
                ply as i32 - MATE
            } else {
                DRAW
            };
        }
        let found = Known {
            value: tries.best.0,
            bound: tries.bound(),
            depth,
            best: if tries.best.0 > alpha {
                tries.best.1
            } else {
                None
            },
        };
        self.table.keep(board.hash(), ply, found);
        tries.best.0
    }

    fn is_improving(&self, ply: usize) -> bool {
        match (
            self.standings[ply],
            ply.checked_sub(2).map(|ply| self.standings[ply]),
        ) {
            (Some(now), Some(Some(then))) => now > then,
            (Some(_), _) => true,
            (None, _) => false,
        }
    }

    /// Whether a move without check is left out so near to the end: a quiet one after many others
    /// or where the side stands far below alpha, or one that loses more than a little material.
    fn is_hopeless(&self, board: &SearchBoard, tries: &Tries, m: Move) -> bool {
        let Some(standing) = tries.standing else {
            return false;
        };
        let depth = tries.depth;
        if depth > SHALLOW || tries.number == 0 || is_mated(tries.best.0) {
            return false;
        }
        if m.is_quiet() {
            let most = (3 + depth * depth) / if tries.improving { 1 } else { 2 };
            let far_below = standing + PLY_MARGIN * (depth + 1) <= tries.alpha;
            let late = tries.number as i32 > most;
            late || far_below || exchange::gain(board, m, &self.values) < -25 * depth * depth
        } else {
            exchange::loses(board, m, &self.values)
                && exchange::gain(board, m, &self.values) < -100 * depth
        }
    }

    /// The value of a move in the mover's view.
    fn value_of(
        &mut self,
        board: &SearchBoard,
        m: Move,
        gives_check: bool,
        tries: &Tries,
        bar: i32,
        here: Here,
    ) -> i32 {
        let child = board.after(m, &self.values);
        // A check that costs nothing is followed up.
        let extension = i32::from(gives_check && !exchange::loses(board, m, &self.values));
        let depth = tries.depth - 1 + extension;
        let reduction = if extension == 0 && !here.in_check && m.is_quiet() {
            self.reduction(board, tries, m)
        } else {
            0
        };
        let quiet_plies = if m.capture().is_some() || m.role() == Role::Pawn {
            0
        } else {
            self.course.quiet_plies().saturating_add(1)
        };
        self.course.enter(child.hash(), quiet_plies);
        let window = (bar, tries.beta);
        let below = here.below(m, gives_check);
        let value = self.child_value(&child, (depth, reduction), window, tries.number == 0, below);
        self.course.leave();
        value
    }

    /// How many plies less a late quiet move is searched at first: by half the product of the
    /// lengths of depth and number in bits, less for moves that have done well.
    fn reduction(&self, board: &SearchBoard, tries: &Tries, m: Move) -> i32 {
        if tries.number < 3 || tries.depth < 3 || is_lever(board, m) {
            return 0;
        }
        let plies = (tries.depth.ilog2() * (tries.number + 1).ilog2()) as i32 / 2;
        let history = self.memory.history(board.turn(), m) / 4096;
        let reduction =
            plies - history - i32::from(tries.exact_wanted()) + i32::from(!tries.improving);
        reduction.clamp(0, tries.depth - 2)
    }

    /// The value of a move's board in the mover's view: the first move with the whole window,
    /// the others to show that they are no better, less deep at first where `reduction` says so.
    fn child_value(
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
    fn keep_line(&mut self, ply: usize, value: i32, m: Move) {
        let (head, tail) = self.lines.split_at_mut(ply + 1);
        let line = &mut head[ply];
        line.clear();
        line.push(m);
        line.extend_from_slice(&tail[0]);
        if ply == 0 {
            self.at_start = Some((value, self.lines[0].clone()));
        }
    }
}

/// Whether a pawn moves up to attack a pawn: what opens lines is looked at as deep as the rest.
#[inline]
fn is_lever(board: &SearchBoard, m: Move) -> bool {
    let us = board.turn();
    m.role() == Role::Pawn
        && (attacks::pawn_attacks(us, m.to()) & board.units(!us, Role::Pawn)).any()
}
