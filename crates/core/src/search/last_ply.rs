//! The last ply of the reach, where bounds settle most moves unsearched.

use shakmaty::{Bitboard, Rank, Role};

use super::captures::VICTIMS;
use super::checks::Checks;
use super::full_width::no_moves;
use super::generation::Bounds;
use super::moves::{Move, MoveList, Promotions};
use super::{INFINITE, Path, Search, SearchBoard};

impl Search {
    /// The last ply of the reach. The other side may stand on the balance afterwards, so a quiet
    /// move without check gains nothing and a capture without check no more than it takes.
    pub(super) fn last_ply(
        &mut self,
        board: &SearchBoard,
        alpha: i32,
        beta: i32,
        path: Path,
    ) -> i32 {
        self.nodes += 1;
        let standing = self.standing(board);
        let bounds = Bounds::of(board, path.in_check);
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
        let mut targets = Bitboard::EMPTY;
        for victim in VICTIMS {
            let victims = board.units(!board.turn(), victim);
            let ceiling = standing + self.values.of(victim) + promotion_gain;
            // A queen checks through the square her pawn has left, so a promotion may check.
            if ceiling > alpha || promotion_gain > 0 {
                targets |= victims;
            } else if victims.any() {
                left_out = true;
                tries.best = tries.best.max(ceiling);
                targets |= tries.checks.possible_on(victims, board);
            }
        }
        if targets.any() {
            board.captures(targets, &bounds, Promotions::Every, &mut list);
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
            self.killers_first(&mut list, 1);
            if let Some(m) = tries.settler(self, &list) {
                self.remember(board, m, 1);
                return tries.best;
            }
            list.clear();
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

    /// Moves the killers of this depth to the front of a list.
    #[inline]
    fn killers_first(&self, list: &mut MoveList, plies: usize) {
        let mut front = 0;
        for killer in self.killers[plies].into_iter().flatten() {
            if let Some(at) = list[front..].iter().position(|&m| m == killer) {
                list.swap(front, front + at);
                front += 1;
            }
        }
    }

    /// What a promotion could add to a capture, in centipawns; 0 without a pawn about to promote.
    #[inline]
    pub(super) fn promotion_gain(&self, board: &SearchBoard) -> i32 {
        let us = board.turn();
        let seventh = Bitboard::from_rank(us.relative_rank(Rank::Seventh));
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
        self.settler(search, list).is_some()
    }

    /// The first move of a list that reaches beta.
    #[inline]
    fn settler(&mut self, search: &mut Search, list: &MoveList) -> Option<Move> {
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
                return Some(m);
            }
        }
        None
    }
}
