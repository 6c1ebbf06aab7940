//! What units bear on, and small questions about one board.

use shakmaty::{Bitboard, Color, Piece, Role, Square, attacks};

use crate::count;
use crate::search::{Move, SearchBoard};
use crate::threat::THRESHOLD;
use crate::values::Values;

/// The squares that the unit on a square bears on.
#[must_use]
pub fn bears(board: &SearchBoard, from: Square) -> Bitboard {
    let Some(role) = board.role_at(from) else {
        return Bitboard::EMPTY;
    };
    let color = Color::from_white(board.side(Color::White).contains(from));
    attacks::attacks(from, Piece { color, role }, board.occupied())
}

/// The units of `side` that bear on a square.
#[must_use]
pub fn bearers(board: &SearchBoard, square: Square, side: Color) -> Bitboard {
    board.attackers(square, side, board.occupied())
}

/// The board with `side` to move, the other side passing if it has to.
#[must_use]
pub fn to_move(board: &SearchBoard, side: Color) -> SearchBoard {
    if board.turn() == side {
        *board
    } else {
        board.passed()
    }
}

/// Whether `by` would gain by captures on a square, if it were to move.
#[must_use]
pub fn falls(board: &SearchBoard, square: Square, by: Color, values: &Values) -> bool {
    gain_on(board, square, by, values) >= THRESHOLD
}

/// What `by` would gain by captures on a square, if it were to move; 0 if nothing.
#[must_use]
pub fn gain_on(board: &SearchBoard, square: Square, by: Color, values: &Values) -> i32 {
    count::best_exchange(&to_move(board, by), square, values).map_or(0, |(gain, _)| gain)
}

/// Whether the unit of `by` on a square would gain by taking on another, if it were to move.
#[must_use]
pub fn falls_to(
    board: &SearchBoard,
    taker: Square,
    square: Square,
    by: Color,
    values: &Values,
) -> bool {
    count::exchanges(&to_move(board, by), square, values)
        .any(|(gain, m)| m.from() == taker && gain >= THRESHOLD)
}

/// Whether the side to move is mated.
#[must_use]
pub fn is_mated(board: &SearchBoard) -> bool {
    board.in_check() && board.legal_moves().is_empty()
}

/// A move of `by` that mates at once, if it were to move.
#[must_use]
pub fn mate_in_one(board: &SearchBoard, by: Color, values: &Values) -> Option<Move> {
    let board = to_move(board, by);
    board
        .legal_moves()
        .into_iter()
        .find(|&m| m.capture() != Some(Role::King) && is_mated(&board.after(m, values)))
}
