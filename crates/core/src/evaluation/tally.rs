//! What becomes of the features that are counted: a score, or the counts themselves for the fit.
//! Both come from the same counting code, so the fit sees exactly what the evaluation sees.

use shakmaty::Color;

use super::feature::{FEATURES, Family, TERMS};
use super::weights::WEIGHTS;

/// What a feature is worth in the middle game and in the end game.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Weight {
    pub(super) middle: i32,
    pub(super) end: i32,
}

pub(super) const fn weight(middle: i32, end: i32) -> Weight {
    Weight { middle, end }
}

pub(super) trait Tally {
    /// Count one member of a family so many times to the credit of `side`.
    fn add(&mut self, side: Color, family: Family, member: usize, count: i32);
}

/// Weighted sums by side and term, in hundredths of a pawn for each stage of the game.
#[derive(Debug, Default)]
pub(super) struct Sums {
    pub(super) by_side: [[Weight; TERMS]; 2],
}

impl Tally for Sums {
    #[inline(always)]
    fn add(&mut self, side: Color, family: Family, member: usize, count: i32) {
        let weight = WEIGHTS[family.first + member];
        let sum = &mut self.by_side[side as usize][family.term as usize];
        sum.middle += weight.middle * count;
        sum.end += weight.end * count;
    }
}

/// White's count of each feature minus Black's.
#[derive(Debug)]
pub(super) struct Counts {
    pub(super) balance: [i32; FEATURES],
}

impl Tally for Counts {
    fn add(&mut self, side: Color, family: Family, member: usize, count: i32) {
        let signed = if side.is_white() { count } else { -count };
        self.balance[family.first + member] += signed;
    }
}
