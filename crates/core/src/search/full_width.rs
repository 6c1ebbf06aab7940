//! Full-width search: every legal move at every ply.

use arrayvec::ArrayVec;

use super::checks::Checks;
use super::generation::Bounds;
use super::moves::{MOST_MOVES, Move, MoveList, Promotions};
use super::table::{Found, Known};
use super::{INFINITE, MATE, MATE_RANGE, Path, Search, SearchBoard};

/// So many quiet moves are tried in the order of their history; the rest as they come.
const ORDERED: usize = 6;

impl Search {
    /// The value of `board` with `plies` left in the view of the side to move: exact inside the
    /// window, otherwise a bound on its own side of the window.
    pub(super) fn full_width(
        &mut self,
        board: &SearchBoard,
        plies: u32,
        alpha: i32,
        beta: i32,
        path: Path,
    ) -> i32 {
        match plies {
            0 => self.quiescence(board, 0, alpha, beta, path),
            1 => self.known_last_ply(board, alpha, beta, path),
            _ => self.inner_ply(board, plies, alpha, beta, path),
        }
    }

    fn inner_ply(
        &mut self,
        board: &SearchBoard,
        plies: u32,
        alpha: i32,
        beta: i32,
        path: Path,
    ) -> i32 {
        self.nodes += 1;
        let key = table_key(board, plies);
        let mut first = None;
        if let Some(known) = self.table.known(key) {
            if let Some(value) = settled(known, alpha, beta, path.ply) {
                return value;
            }
            first = known.best;
        } else if plies > 3
            && let Some(shallower) = self.table.known(table_key(board, plies - 2))
        {
            first = shallower.best;
        }
        let (value, best) = self.best_move(board, plies, (alpha, beta), path, first);
        let value = value.unwrap_or_else(|| no_moves(path));
        self.table
            .keep(key, found(value, alpha, beta, path.ply), best);
        value
    }

    fn known_last_ply(&mut self, board: &SearchBoard, alpha: i32, beta: i32, path: Path) -> i32 {
        let key = table_key(board, 1);
        if let Some(known) = self.table.known(key)
            && let Some(value) = settled(known, alpha, beta, path.ply)
        {
            return value;
        }
        let value = self.last_ply(board, alpha, beta, path);
        self.table
            .keep(key, found(value, alpha, beta, path.ply), None);
        value
    }

    /// Tries the moves in the order most likely to settle the matter; no value without a move.
    fn best_move(
        &mut self,
        board: &SearchBoard,
        plies: u32,
        (mut alpha, beta): (i32, i32),
        path: Path,
        first: Option<Move>,
    ) -> (Option<i32>, Option<Move>) {
        let checks = Checks::of(board);
        let mut best = (None, None);
        let mut try_move = |search: &mut Search, m: Move| -> bool {
            let child = board.after(m, &search.values);
            let below = Path {
                ply: path.ply + 1,
                in_check: checks.given_by(m, board),
            };
            let value = -search.full_width(&child, plies - 1, -beta, -alpha, below);
            if best.0.is_none_or(|so_far| value > so_far) {
                best = (Some(value), Some(m));
            }
            alpha = alpha.max(value);
            value >= beta
        };
        if let Some(first) = first
            && try_move(self, first)
        {
            return best;
        }
        let bounds = Bounds::of(board, path.in_check);
        let mut list = MoveList::new();
        board.forcing_moves(&bounds, Promotions::Every, &mut list);
        for &m in &list {
            if Some(m) != first && try_move(self, m) {
                return best;
            }
        }
        list.clear();
        board.quiet_moves(&bounds, &mut list);
        let killers = self.killers[plies as usize & 15];
        let mut scores: ArrayVec<u32, MOST_MOVES> = list
            .iter()
            .map(|m| {
                if killers.contains(&Some(*m)) {
                    u32::MAX
                } else {
                    self.history[history_row(board, *m)][m.to() as usize]
                }
            })
            .collect();
        for i in 0..list.len() {
            if i < ORDERED {
                let next = (i..list.len())
                    .max_by_key(|&j| (scores[j], std::cmp::Reverse(j)))
                    .unwrap_or(i);
                list.swap(i, next);
                scores.swap(i, next);
            }
            let m = list[i];
            if Some(m) != first && try_move(self, m) {
                self.remember(board, m, plies);
                return best;
            }
        }
        best
    }

    pub(super) fn remember(&mut self, board: &SearchBoard, m: Move, plies: u32) {
        let killers = &mut self.killers[plies as usize & 15];
        if killers[0] != Some(m) {
            killers[1] = killers[0];
            killers[0] = Some(m);
        }
        self.history[history_row(board, m)][m.to() as usize] += plies * plies;
    }
}

/// The value of having no legal move: mated, or stalemate at the base.
#[inline]
pub(super) fn no_moves(path: Path) -> i32 {
    if path.in_check { path.ply - MATE } else { 0 }
}

#[inline]
fn table_key(board: &SearchBoard, plies: u32) -> u64 {
    board.hash() ^ u64::from(plies).wrapping_mul(0xd6e8_feb8_6659_fd93)
}

#[inline]
fn history_row(board: &SearchBoard, m: Move) -> usize {
    m.role() as usize + if board.turn().is_white() { 0 } else { 8 }
}

/// The value, if what the table knows settles the window.
#[inline]
fn settled(known: Known, alpha: i32, beta: i32, ply: i32) -> Option<i32> {
    let lower = from_table(known.lower, ply);
    let upper = from_table(known.upper, ply);
    if lower >= beta || lower == upper {
        Some(lower)
    } else if upper <= alpha {
        Some(upper)
    } else {
        None
    }
}

/// What a search with a window found, for the table. Mates are kept by their distance from the
/// position, not from where the search began.
#[inline]
fn found(value: i32, alpha: i32, beta: i32, ply: i32) -> Found {
    let kept = if value > MATE_RANGE {
        value + ply
    } else if value < -MATE_RANGE {
        value - ply
    } else {
        value
    };
    Found {
        value: kept,
        at_least: value > alpha,
        at_most: value < beta,
    }
}

#[inline]
fn from_table(value: i32, ply: i32) -> i32 {
    if value.abs() == INFINITE {
        value
    } else if value > MATE_RANGE {
        value - ply
    } else if value < -MATE_RANGE {
        value + ply
    } else {
        value
    }
}
