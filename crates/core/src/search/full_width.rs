//! Full-width search: every legal move at every ply.

use super::{
    INFINITE, MATE, MATE_RANGE, Path, Search, SearchBoard,
    moves::{Bounds, Checks, Move, MoveList, Promotions, VICTIMS},
    table::{Found, Known},
};
use shakmaty::Role;

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
        let bounds = if path.in_check {
            Bounds::of(board)
        } else {
            Bounds::unchecked(board)
        };
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
        let mut scores: Vec<u32> = list
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
            let next = (i..list.len())
                .max_by_key(|&j| (scores[j], std::cmp::Reverse(j)))
                .unwrap_or(i);
            list.swap(i, next);
            scores.swap(i, next);
            let m = list[i];
            if Some(m) != first && try_move(self, m) {
                self.remember(board, m, plies);
                return best;
            }
        }
        best
    }

    fn remember(&mut self, board: &SearchBoard, m: Move, plies: u32) {
        let killers = &mut self.killers[plies as usize & 15];
        if killers[0] != Some(m) {
            killers[1] = killers[0];
            killers[0] = Some(m);
        }
        self.history[history_row(board, m)][m.to() as usize] += plies * plies;
    }

    /// The last ply of the reach. The other side may stand on the balance afterwards, so a quiet
    /// move without check gains nothing and a capture without check no more than it takes.
    fn last_ply(&mut self, board: &SearchBoard, alpha: i32, beta: i32, path: Path) -> i32 {
        self.nodes += 1;
        let standing = self.standing(board);
        let bounds = if path.in_check {
            Bounds::of(board)
        } else {
            Bounds::unchecked(board)
        };
        let mut tries = LastPly {
            board,
            checks: Checks::of(board),
            standing,
            alpha,
            beta,
            ply: path.ply,
            best: -INFINITE,
        };
        let mut list = MoveList::new();
        let mut left_out = false;
        let promotion_gain = self.promotion_gain(board);
        let mut takers = None;
        for victim in VICTIMS {
            let victims = board.units(!board.turn(), victim);
            let ceiling = standing + self.values.of(victim) + promotion_gain;
            // A queen checks through the square her pawn has left, so a promotion may check.
            let may_check = promotion_gain > 0 || tries.checks.possible_on(victims);
            if ceiling <= tries.alpha && !may_check {
                if victims.any() {
                    left_out = true;
                    tries.best = tries.best.max(ceiling);
                }
                continue;
            }
            let takers =
                takers.get_or_insert_with(|| board.takers(board.side(!board.turn()), &bounds));
            list.clear();
            board.captures_of(victim, takers, Promotions::Every, &mut list);
            if tries.any_settles(self, &list) {
                return tries.best;
            }
        }
        list.clear();
        board.en_passant_captures(&bounds, &mut list);
        board.promotion_pushes(&bounds, Promotions::Every, &mut list);
        if tries.any_settles(self, &list) {
            return tries.best;
        }
        list.clear();
        if standing > tries.alpha {
            board.quiet_moves(&bounds, &mut list);
        } else {
            board.quiet_checks(&bounds, &tries.checks, &mut list);
            left_out = true;
        }
        if tries.any_settles(self, &list) {
            return tries.best;
        }
        let found_none = tries.best == -INFINITE;
        if (found_none || left_out) && !board.can_move(&bounds) {
            return no_moves(path);
        }
        if standing <= tries.alpha {
            tries.best = tries.best.max(standing);
        }
        tries.best
    }

    /// What a promotion could add to a capture, in centipawns; 0 without a pawn about to promote.
    #[inline]
    pub(super) fn promotion_gain(&self, board: &SearchBoard) -> i32 {
        let us = board.turn();
        let seventh = shakmaty::Bitboard::from_rank(us.relative_rank(shakmaty::Rank::Seventh));
        if (board.units(us, Role::Pawn) & seventh).any() {
            self.values.of(Role::Queen) - self.values.of(Role::Pawn)
        } else {
            0
        }
    }

    /// What a move itself takes and promotes, in centipawns.
    #[inline]
    #[must_use]
    pub fn gain(&self, m: Move) -> i32 {
        let taken = m.capture().map_or(0, |role| self.values.of(role));
        let promoted = m
            .promotion()
            .map_or(0, |role| self.values.of(role) - self.values.of(Role::Pawn));
        taken + promoted
    }
}

/// The tries of one last ply.
struct LastPly<'a> {
    board: &'a SearchBoard,
    checks: Checks,
    standing: i32,
    alpha: i32,
    beta: i32,
    ply: i32,
    best: i32,
}

impl LastPly<'_> {
    #[inline]
    fn any_settles(&mut self, search: &mut Search, list: &MoveList) -> bool {
        for &m in list {
            let in_check = self.checks.given_by(m, self.board);
            if !in_check {
                let ceiling = self.standing + search.gain(m);
                if ceiling <= self.alpha {
                    self.best = self.best.max(ceiling);
                    continue;
                }
            }
            let child = self.board.after(m, &search.values);
            let below = Path {
                ply: self.ply + 1,
                in_check,
            };
            let value = -search.quiescence(&child, 0, -self.beta, -self.alpha, below);
            self.best = self.best.max(value);
            self.alpha = self.alpha.max(value);
            if value >= self.beta {
                return true;
            }
        }
        false
    }
}

/// The value of having no legal move: mated, or stalemate at the base.
#[inline]
fn no_moves(path: Path) -> i32 {
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
