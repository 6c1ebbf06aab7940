//! What units bear on, and small questions about one board.

use shakmaty::{Bitboard, Color, Piece, Role, Square, attacks};

use crate::count;
use crate::line::uci_order;
use crate::pins::{Pin, pins};
use crate::search::{Move, MoveList, SearchBoard};
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

/// The legal moves in an order that the colours do not change.
#[must_use]
pub fn ordered_moves(board: &SearchBoard) -> MoveList {
    let mut moves = board.legal_moves();
    moves.sort_by_key(|&m| uci_order(m, board.turn()));
    moves
}

/// Squares in the order of files and ranks as `side` sees them.
#[must_use]
pub fn as_seen(squares: Bitboard, side: Color) -> Vec<Square> {
    let mut seen: Vec<Square> = squares.into_iter().collect();
    seen.sort_by_key(|&square| seen_from(square, side));
    seen
}

/// The pins by `by` as that side sees their squares.
#[must_use]
pub fn ordered_pins(board: &SearchBoard, by: Color) -> Vec<Pin> {
    let mut found = pins(board, by);
    found.sort_by_key(|pin| [pin.slider, pin.pinned, pin.to].map(|at| seen_from(at, by)));
    found
}

fn seen_from(square: Square, side: Color) -> (u32, u32) {
    let square = match side {
        Color::White => square,
        Color::Black => square.flip_vertical(),
    };
    (square.file() as u32, square.rank() as u32)
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
    ordered_moves(&board)
        .into_iter()
        .find(|&m| m.capture() != Some(Role::King) && is_mated(&board.after(m, values)))
}

/// The first move of a mate by the side to move in so many moves, each of them a check.
#[must_use]
pub fn mate_by_checks(board: &SearchBoard, moves: u32, values: &Values) -> Option<Move> {
    let quickest = mate_in_one(board, board.turn(), values);
    if quickest.is_some() || moves < 2 {
        return quickest;
    }
    ordered_moves(board).into_iter().find(|&m| {
        let after = board.after(m, values);
        after.in_check()
            && after.legal_moves().into_iter().all(|reply| {
                mate_by_checks(&after.after(reply, values), moves - 1, values).is_some()
            })
    })
}
