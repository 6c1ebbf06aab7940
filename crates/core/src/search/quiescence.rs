//! Quiescence: captures, queenings and check evasions until the position is quiet.

use shakmaty::{Bitboard, Role};

use super::captures::VICTIMS;
use super::checks::Checks;
use super::generation::Bounds;
use super::moves::{Move, MoveList, Promotions};
use super::{MATE, Path, Search, SearchBoard};

/// From this many quiescence plies on, a side in check is treated as not in check.
pub const EVASION_PLIES: u32 = 6;

impl Search {
    /// The value of `board` when `played` quiescence plies led to it, in the view of the side
    /// to move: exact inside the window, otherwise a bound on its own side of the window.
    pub(super) fn quiescence(
        &mut self,
        board: &SearchBoard,
        played: u32,
        alpha: i32,
        beta: i32,
        path: Path,
    ) -> i32 {
        self.nodes += 1;
        if path.in_check && played < EVASION_PLIES {
            return self.evasions(board, played, (alpha, beta), path);
        }
        let standing = self.standing(board);
        if standing >= beta {
            return standing;
        }
        let mut quiet = Quiescence {
            board,
            checks: None,
            played,
            standing,
            alpha: alpha.max(standing),
            beta,
            ply: path.ply,
            best: standing,
        };
        self.take(&mut quiet, path.in_check);
        quiet.best
    }

    /// A side in check must answer it, but what the answer gains is bounded as everywhere in
    /// quiescence: the other side may stand afterwards, unless it is in check itself.
    fn evasions(
        &mut self,
        board: &SearchBoard,
        played: u32,
        (alpha, beta): (i32, i32),
        path: Path,
    ) -> i32 {
        let bounds = Bounds::of(board, true);
        let mut tries = Quiescence {
            board,
            checks: None,
            played,
            standing: self.standing(board),
            alpha,
            beta,
            ply: path.ply,
            best: path.ply - MATE,
        };
        let mut list = MoveList::new();
        board.forcing_moves(&bounds, Promotions::Every, &mut list);
        list.retain(|m| m.capture().is_none() || m.promotion().is_none_or(|to| to == Role::Queen));
        if tries.any_settles(self, &list) {
            return tries.best;
        }
        let mut escapes = !list.is_empty();
        list.clear();
        let quiet_may_gain = tries.standing > tries.alpha;
        if quiet_may_gain {
            board.quiet_moves(&bounds, &mut list);
            // The king's own steps come last, and lose less than what is put in between.
            list.reverse();
        } else if played + 1 < EVASION_PLIES {
            board.quiet_checks(&bounds, &tries.checks(), &mut list);
        }
        if tries.any_settles(self, &list) {
            return tries.best;
        }
        if !quiet_may_gain {
            escapes = escapes || !list.is_empty() || board.can_move(&bounds);
            if escapes {
                tries.best = tries.best.max(tries.standing);
            }
        }
        tries.best
    }

    fn take(&mut self, quiet: &mut Quiescence, in_check: bool) {
        let board = quiet.board;
        let promotion_gain = self.promotion_gain(board);
        let checks_matter = quiet.played + 1 < EVASION_PLIES;
        let mut targets = Bitboard::EMPTY;
        for victim in VICTIMS {
            let victims = board.units(!board.turn(), victim);
            if victims.is_empty() {
                continue;
            }
            let ceiling = quiet.standing + self.values.of(victim) + promotion_gain;
            // A queen checks through the square her pawn has left.
            if ceiling > quiet.alpha || (checks_matter && promotion_gain > 0) {
                targets |= victims;
            } else {
                quiet.best = quiet.best.max(ceiling);
                if checks_matter {
                    targets |= quiet.checks().possible_on(victims, board);
                }
            }
        }
        let odd = promotion_gain > 0 || board.en_passant().is_some();
        if targets.is_empty() && !odd {
            return;
        }
        let bounds = Bounds::of(board, in_check);
        let mut list = MoveList::new();
        if targets.any() {
            board.captures(targets, &bounds, Promotions::QueenOnly, &mut list);
            if quiet.any_settles(self, &list) {
                return;
            }
        }
        if odd {
            list.clear();
            board.en_passant_captures(&bounds, &mut list);
            board.promotion_pushes(&bounds, Promotions::QueenOnly, &mut list);
            quiet.any_settles(self, &list);
        }
    }
}

/// The tries of one quiescence node whose side to move may stand on the balance.
struct Quiescence<'a> {
    board: &'a SearchBoard,
    checks: Option<Checks>,
    played: u32,
    standing: i32,
    alpha: i32,
    beta: i32,
    ply: i32,
    best: i32,
}

impl Quiescence<'_> {
    #[inline]
    fn checks(&mut self) -> Checks {
        *self.checks.get_or_insert_with(|| Checks::of(self.board))
    }

    #[inline]
    fn any_settles(&mut self, search: &mut Search, list: &MoveList) -> bool {
        for &m in list {
            if self.settles(search, m) {
                return true;
            }
        }
        false
    }

    /// Tries a move. One that gives no check gains no more than it takes, since the other side
    /// may stand afterwards.
    #[inline]
    fn settles(&mut self, search: &mut Search, m: Move) -> bool {
        let in_check = self.checks().given_by(m, self.board);
        if !in_check || self.played + 1 >= EVASION_PLIES {
            let ceiling = self.standing + search.gain(m);
            if ceiling <= self.alpha {
                self.best = self.best.max(ceiling);
                return false;
            }
        }
        let child = self.board.after(m, &search.values);
        let below = Path {
            ply: self.ply + 1,
            in_check,
        };
        let value = -search.quiescence(&child, self.played + 1, -self.beta, -self.alpha, below);
        self.best = self.best.max(value);
        self.alpha = self.alpha.max(value);
        value >= self.beta
    }
}
