//! A cheap look at positions for danger, to choose those worth a survey.

use shakmaty::Color;

use crate::search::{Search, SearchBoard};
use crate::threat::THRESHOLD;

/// The deepest reach that a screening looks to.
pub const REACH: u32 = 2;

impl Search {
    /// The smallest reach up to `REACH` at which a pass loses at least the threshold. `None` where
    /// nothing shows, and in check.
    pub fn screen(&mut self, board: &SearchBoard) -> Option<u32> {
        if board.in_check() {
            return None;
        }
        let passed = board.passed();
        self.begin(board.balance(Color::White), REACH);
        (1..=REACH).find(|reach| self.reaches(&passed, 2 * reach - 1, THRESHOLD))
    }
}
