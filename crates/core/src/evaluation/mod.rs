//! The positional evaluation: what a position is worth beyond what can be won by force, in named
//! terms.
//!
//! Every term is a sum of counted features, each with a weight for the middle game and one for
//! the end game; what the pieces on the board are worth says how far each counts. The weights
//! are fitted by `scripts/fit_evaluation.py`; `docs/evaluation.md` says what each term measures.

mod feature;
mod ground;
mod king_shelter;
mod mobility;
mod pawns;
mod placement;
mod rooks_on_files;
mod sample;
mod stage;
mod tally;
mod terms;
mod threats;
mod weights;

use shakmaty::{Chess, Color};

pub use sample::{Sample, sample};
pub use terms::{Sides, Terms};

use crate::search::SearchBoard;
use crate::values::Values;
use ground::Attacked;
use tally::{Sums, Tally};

/// The terms of a position, White's minus Black's, in centipawns.
#[must_use]
pub fn terms(position: &Chess) -> Terms {
    let sides = sides(position);
    sides.white - sides.black
}

/// The terms of each side by itself, in centipawns to that side's credit.
#[must_use]
pub fn sides(position: &Chess) -> Sides {
    sides_of(&SearchBoard::new(position, &Values::classical()))
}

/// What a position is worth to White, in centipawns: the total of its terms.
#[must_use]
pub fn evaluate(position: &Chess) -> i32 {
    terms(position).total()
}

/// What a board is worth to the side to move, in centipawns.
pub(crate) fn standing(board: &SearchBoard) -> i32 {
    let sides = sides_of(board);
    let total = sides.white.total() - sides.black.total();
    match board.turn() {
        Color::White => total,
        Color::Black => -total,
    }
}

pub(crate) fn sides_of(board: &SearchBoard) -> Sides {
    let mut sums = Sums::default();
    count(board, &mut sums);
    terms::taper(board, &sums)
}

/// Counts every feature of a board.
#[inline(always)]
fn count(board: &SearchBoard, tally: &mut impl Tally) {
    let mut attacked = Attacked::by_pawns_and_kings(board);
    for side in Color::ALL {
        mobility::count(board, side, &mut attacked, tally);
    }
    for side in Color::ALL {
        placement::count(board, side, &attacked, tally);
        king_shelter::count(board, side, &attacked, tally);
        let passed = pawns::count(board, side, &attacked, tally);
        rooks_on_files::count(board, side, passed, tally);
        threats::count(board, side, &attacked, tally);
    }
}
