//! The search at one position: what settles its value before any move is tried.

use shakmaty::Role;

use super::{FURTHEST, Thinking};
use crate::evaluation;
use crate::search::{MATE, Move, SearchBoard, is_mate, is_mated};

pub(super) const INFINITE: i32 = 32_000;

/// The value of a draw.
pub(super) const DRAW: i32 = 0;

/// A quiet move is worth about this much at most, in centipawns: the margin a ply.
pub(super) const PLY_MARGIN: i32 = 90;

/// Margins are trusted so near to the end of the search, in plies.
pub(super) const SHALLOW: i32 = 6;

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
        let standing = (!here.in_check).then(|| evaluation::standing(board));
        self.standings[ply] = standing;
        if !exact_wanted
            && let Some(standing) = standing
            && let Some(value) = self.settled_early(board, depth, beta, here, standing)
        {
            return value;
        }
        // Without a move remembered, a less deep look comes first: it finds one for later.
        let unguided = depth >= 5 && known.is_none_or(|known| known.best.is_none());
        let depth = depth - i32::from(unguided);
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
        standing: i32,
    ) -> Option<i32> {
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
}
