//! What can be taken with gain at once, by the exchange count.

use shakmaty::{Bitboard, Role, Square};

use crate::count;
use crate::search::SearchBoard;
use crate::threat::THRESHOLD;
use crate::values::Values;

/// A unit that can be taken with gain.
#[derive(Debug, Clone, Copy)]
pub struct Winnable {
    pub square: Square,
    /// What the best capture of it gains, in centipawns, at least the threshold.
    pub gain: i32,
}

/// Every unit that the side to move can take with gain by the exchange count, kings left out.
#[must_use]
pub fn winnable(board: &SearchBoard, values: &Values) -> Vec<Winnable> {
    let mut found: Vec<Winnable> = Vec::new();
    for m in board.legal_moves() {
        if m.capture().is_none_or(|role| role == Role::King) {
            continue;
        }
        let (square, gain) = (m.capture_square(), count::exchange(board, m, values));
        if gain < THRESHOLD {
            continue;
        }
        match found.iter_mut().find(|known| known.square == square) {
            Some(known) => known.gain = known.gain.max(gain),
            None => found.push(Winnable { square, gain }),
        }
    }
    found
}

/// The squares of these units.
#[must_use]
pub fn squares<'a>(units: impl IntoIterator<Item = &'a Winnable>) -> Bitboard {
    let units = units.into_iter();
    units.fold(Bitboard::EMPTY, |all, unit| all.with(unit.square))
}
