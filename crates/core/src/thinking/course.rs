//! The course of the game and of the line under search, for draws by repetition and by the
//! fifty-move rule (FIDE Laws of Chess 9.2, 9.3).

use shakmaty::{Chess, Position};

use crate::search::SearchBoard;
use crate::values::Values;

/// Plies without a capture or a pawn move after which a game is drawn.
const FIFTY_MOVES: u32 = 100;

/// The positions up to now, by their keys.
#[derive(Debug, Default)]
pub(super) struct Course {
    keys: Vec<u64>,
    /// Where the position that is thought about stands among them.
    root: usize,
    /// For each position, the plies since the last capture, pawn move or pass.
    quiet_plies: Vec<u32>,
}

impl Course {
    pub(super) fn begin(position: &Chess, before: &[Chess], values: &Values) -> Course {
        let earlier = match before.split_last() {
            Some((last, earlier)) if last == position => earlier,
            _ => before,
        };
        let mut course = Course::default();
        for past in earlier {
            course.enter(SearchBoard::new(past, values).hash(), past.halfmoves());
        }
        course.root = course.keys.len();
        course.enter(
            SearchBoard::new(position, values).hash(),
            position.halfmoves(),
        );
        course
    }

    #[inline]
    pub(super) fn enter(&mut self, key: u64, quiet_plies: u32) {
        self.keys.push(key);
        self.quiet_plies.push(quiet_plies);
    }

    #[inline]
    pub(super) fn leave(&mut self) {
        self.keys.pop();
        self.quiet_plies.pop();
    }

    /// Plies since the last capture, pawn move or pass.
    #[inline]
    pub(super) fn quiet_plies(&self) -> u32 {
        self.quiet_plies.last().copied().unwrap_or(0)
    }

    /// Whether fifty moves have gone by without a capture or a pawn move.
    #[inline]
    pub(super) fn is_exhausted(&self) -> bool {
        self.quiet_plies() >= FIFTY_MOVES
    }

    /// Whether the last position has stood before: once since the one thought about, since the
    /// side that went back once can do so again, or twice in the game before.
    #[inline]
    pub(super) fn is_repeated(&self) -> bool {
        let last = self.keys.len() - 1;
        let first = last.saturating_sub(self.quiet_plies() as usize);
        let mut times = 0;
        let mut at = last;
        while at >= first + 2 {
            at -= 2;
            if self.keys[at] == self.keys[last] {
                times += 1;
                if at >= self.root || times == 2 {
                    return true;
                }
            }
        }
        false
    }
}
