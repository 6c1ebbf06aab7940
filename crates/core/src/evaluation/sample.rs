//! A position as the fit of the weights sees it.

use shakmaty::{Chess, Color};

use super::feature::{FAMILIES, FEATURES};
use super::stage::{self, FULL, WHOLE};
use super::tally::Counts;
use super::{count, sides_of};
use crate::search::SearchBoard;
use crate::values::Values;

/// The counted features of a position: White's minus Black's.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// How much of the middle game is left, 0 to 1.
    pub middle: f64,
    /// How much of an advantage counts, 0 to 1.
    pub scale: f64,
    /// In the order of [`Sample::names`].
    pub counts: Vec<i32>,
}

impl Sample {
    /// The name of each feature, in the order of the weights.
    #[must_use]
    pub fn names() -> Vec<String> {
        FAMILIES
            .iter()
            .flat_map(|family| {
                family
                    .members
                    .iter()
                    .map(|member| format!("{} {member}", family.name).trim_end().to_owned())
            })
            .collect()
    }
}

/// The counted features of a position.
#[must_use]
pub fn sample(position: &Chess) -> Sample {
    let board = SearchBoard::new(position, &Values::classical());
    let mut counts = Counts {
        balance: [0; FEATURES],
    };
    count(&board, &mut counts);
    let sides = sides_of(&board);
    let leader = if sides.white.total() >= sides.black.total() {
        Color::White
    } else {
        Color::Black
    };
    Sample {
        middle: f64::from(stage::phase(&board)) / f64::from(FULL),
        scale: f64::from(stage::scale(&board, leader)) / f64::from(WHOLE),
        counts: counts.balance.to_vec(),
    }
}
