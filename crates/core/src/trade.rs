//! Bases and trades: what a position reached by moves is measured from.

use shakmaty::{Color, Square};

use crate::search::{Move, SearchBoard};
use crate::values::Values;

/// A position with the run of captures that led to it.
#[derive(Debug, Clone, Copy)]
pub struct Standpoint {
    pub board: SearchBoard,
    /// White's balance before the run of captures, in centipawns.
    pub before_the_run: i32,
    /// Where the last move captured, if it did.
    pub last_capture: Option<Square>,
}

impl Standpoint {
    /// A bare position, judged from its own balance.
    #[must_use]
    pub fn bare(board: SearchBoard) -> Standpoint {
        Standpoint {
            board,
            before_the_run: board.balance(Color::White),
            last_capture: None,
        }
    }

    /// The standpoint after a legal move.
    #[must_use]
    pub fn after(&self, m: Move, values: &Values) -> Standpoint {
        let board = self.board.after(m, values);
        if m.capture().is_some() {
            Standpoint {
                board,
                before_the_run: self.before_the_run,
                last_capture: Some(m.to()),
            }
        } else {
            Standpoint::bare(board)
        }
    }

    /// White's balance from which the position is measured, in centipawns: that before the run of
    /// captures where the side to move has lost in it, else the position's own. What was won in
    /// the run is won, and to lose it again is a loss.
    #[must_use]
    pub fn base(&self) -> i32 {
        if self.owed() > 0 {
            self.before_the_run
        } else {
            self.board.balance(Color::White)
        }
    }

    /// What the side to move has lost in the run of captures, in centipawns; 0 if nothing.
    #[must_use]
    pub fn owed(&self) -> i32 {
        let lost = self.before_the_run - self.board.balance(Color::White);
        let lost = match self.board.turn() {
            Color::White => lost,
            Color::Black => -lost,
        };
        lost.max(0)
    }

    /// Whether a move takes on the square of the last capture.
    #[must_use]
    pub fn retakes(&self, m: Move) -> bool {
        m.capture().is_some() && self.last_capture == Some(m.to())
    }
}
