//! Which moves the search looks at, and the pass.

use shakmaty::{CastlingMode, Chess, EnPassantMode, FromSetup, Move, Position, Role};

/// The side to move passes and en passant rights lapse; `None` in check, where there is no pass.
pub fn pass(pos: &Chess) -> Option<Chess> {
    if pos.is_check() {
        return None;
    }
    let mut setup = pos.to_setup(EnPassantMode::Legal);
    setup.turn = setup.turn.other();
    setup.ep_square = None;
    Chess::from_setup(setup, CastlingMode::Standard).ok()
}

/// The position after a legal move.
pub(crate) fn after(pos: &Chess, m: Move) -> Chess {
    let mut next = pos.clone();
    next.play_unchecked(m);
    next
}

/// Every legal move, captures first.
pub(crate) fn all_moves(pos: &Chess) -> Vec<Move> {
    captures_first(pos.legal_moves().into_iter().collect())
}

/// Every way out of check in quiescence: a promotion by capture is to a queen only.
pub(crate) fn evasions(pos: &Chess) -> Vec<Move> {
    let mut moves = all_moves(pos);
    moves.retain(|m| !(m.is_capture() && is_underpromotion(*m)));
    moves
}

/// What a side not in check may do in quiescence: captures, and pushes that make a queen.
pub(crate) fn captures_and_queenings(pos: &Chess) -> Vec<Move> {
    let mut moves = all_moves(pos);
    moves.retain(|m| (m.is_capture() || m.is_promotion()) && !is_underpromotion(*m));
    moves
}

fn is_underpromotion(m: Move) -> bool {
    m.promotion().is_some_and(|role| role != Role::Queen)
}

/// The order changes no value, only the time alpha-beta takes: the most valuable unit taken first,
/// by the least valuable.
fn captures_first(mut moves: Vec<Move>) -> Vec<Move> {
    moves.sort_by_key(|m| {
        let taken = m.capture().map_or(0, |role| role as i32);
        (-taken, m.role() as i32)
    });
    moves
}
