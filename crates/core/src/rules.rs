//! The edges of the core where the rules library is the judge: positions in, moves out.

use shakmaty::{Chess, Position};

use crate::search::Move;

/// The rules library's form of a legal move.
///
/// # Panics
///
/// If the move is not legal in the position.
#[must_use]
pub fn rules_move(position: &Chess, m: Move) -> shakmaty::Move {
    position
        .legal_moves()
        .into_iter()
        .find(|candidate| {
            let to = candidate
                .castling_side()
                .map_or(candidate.to(), |side| side.king_to(position.turn()));
            candidate.from() == Some(m.from())
                && to == m.to()
                && candidate.promotion() == m.promotion()
        })
        .expect("moves of the search are legal")
}
