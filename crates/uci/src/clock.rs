//! How long to think about one move when a clock runs (common practice, no source).

use std::time::Duration;

/// Time kept back for the way to the client and back.
const RESERVE: Duration = Duration::from_millis(30);
const SHORTEST: Duration = Duration::from_millis(1);
/// Moves that the time must last for where no time control says so.
const MOVES_TO_COME: u32 = 30;

/// One side's clock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Clock {
    pub left: Duration,
    pub increment: Duration,
}

impl Clock {
    /// An even share of the time left and most of the increment, never more than there is.
    #[must_use]
    pub fn share(self, moves_to_go: Option<u32>) -> Duration {
        let there_is = self.left.saturating_sub(RESERVE);
        let share = there_is / moves_to_go.unwrap_or(MOVES_TO_COME).max(1);
        (share + self.increment * 3 / 4).min(there_is).max(SHORTEST)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn share(left: u64, increment: u64, moves_to_go: Option<u32>) -> u128 {
        let clock = Clock {
            left: Duration::from_millis(left),
            increment: Duration::from_millis(increment),
        };
        clock.share(moves_to_go).as_millis()
    }

    #[test]
    fn time_is_shared_over_the_moves_to_come() {
        assert_eq!(share(60_030, 0, None), 2_000);
        assert_eq!(share(60_030, 1_000, None), 2_750);
        assert_eq!(share(60_030, 0, Some(10)), 6_000);
    }

    #[test]
    fn no_more_is_taken_than_there_is() {
        assert_eq!(share(1_030, 5_000, None), 1_000);
        assert_eq!(share(1_030, 0, Some(1)), 1_000);
        assert_eq!(share(1_030, 0, Some(0)), 1_000);
        assert_eq!(share(0, 0, None), 1);
    }
}
