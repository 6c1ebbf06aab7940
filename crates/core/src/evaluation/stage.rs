//! How far the game has gone, and how much of an advantage can still be won.

use shakmaty::{Bitboard, Color, Role};

use crate::search::SearchBoard;

/// What the pieces of both sides are worth in pawns (Shannon's values, 1950) at the start.
pub(super) const FULL: i32 = 62;

/// Parts of an advantage that count, of sixteen.
pub(super) const WHOLE: i32 = 16;

/// What the pieces of a side are worth in pawns.
#[inline]
fn pieces(board: &SearchBoard, side: Color) -> i32 {
    let count = |role| board.units(side, role).count() as i32;
    3 * (count(Role::Knight) + count(Role::Bishop)) + 5 * count(Role::Rook) + 9 * count(Role::Queen)
}

/// What the pieces still on the board are worth in pawns, at most [`FULL`]: the share of the
/// middle game.
#[inline]
pub(super) fn phase(board: &SearchBoard) -> i32 {
    (pieces(board, Color::White) + pieces(board, Color::Black)).min(FULL)
}

/// How much of `leader`'s advantage counts, of [`WHOLE`]. Without pawns, a lead of a minor piece
/// or less seldom wins (common practice, no source); bishops of opposite colours are half a draw.
#[inline]
pub(super) fn scale(board: &SearchBoard, leader: Color) -> i32 {
    let own = pieces(board, leader);
    if board.units(leader, Role::Pawn).is_empty() {
        let theirs = pieces(board, !leader);
        let only_knights = board.units(leader, Role::Knight).count() as i32 * 3 == own;
        if own <= 3 || (only_knights && own == 6 && theirs == 0) {
            return 0;
        }
        if own - theirs <= 3 {
            return WHOLE / 4;
        }
    }
    if own == 3 && opposite_bishops(board) {
        return WHOLE / 2;
    }
    WHOLE
}

/// Whether the only pieces are a bishop each, on squares of opposite colours.
fn opposite_bishops(board: &SearchBoard) -> bool {
    let bishops = board.of_role(Role::Bishop);
    let others = board.occupied() & !board.of_role(Role::Pawn) & !board.of_role(Role::King);
    others == bishops
        && bishops.count() == 2
        && (bishops & board.side(Color::White)).count() == 1
        && (bishops & Bitboard::LIGHT_SQUARES).count() == 1
}
