//! The words after `go`.

use std::time::Duration;

use shakmaty::Color;
use shakmaty::uci::UciMove;

use crate::clock::Clock;

/// What a `go` asks for; what it does not say is `None`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Go {
    pub depth: Option<u32>,
    pub nodes: Option<u64>,
    pub mate: Option<u32>,
    pub only: Vec<UciMove>,
    pub infinite: bool,
    pub ponder: bool,
    move_time: Option<Duration>,
    white: Option<Duration>,
    black: Option<Duration>,
    white_increment: Duration,
    black_increment: Duration,
    moves_to_go: Option<u32>,
}

impl Go {
    /// Reads the words after `go`. Those that mean nothing are passed over, a limit without its
    /// number as well.
    #[must_use]
    pub fn read(words: &[&str]) -> Go {
        let mut go = Go::default();
        let mut rest = words;
        while let [word, after @ ..] = rest {
            let number = || after.first().and_then(|text| text.parse::<i64>().ok());
            let time = || number().map(milliseconds);
            match *word {
                "depth" => go.depth = number().map(small).or(go.depth),
                "nodes" => go.nodes = number().map(i64::unsigned_abs).or(go.nodes),
                "mate" => go.mate = number().map(small).or(go.mate),
                "movestogo" => go.moves_to_go = number().map(small).or(go.moves_to_go),
                "movetime" => go.move_time = time().or(go.move_time),
                "wtime" => go.white = time().or(go.white),
                "btime" => go.black = time().or(go.black),
                "winc" => go.white_increment = time().unwrap_or(go.white_increment),
                "binc" => go.black_increment = time().unwrap_or(go.black_increment),
                "infinite" => go.infinite = true,
                "ponder" => go.ponder = true,
                "searchmoves" => go.only = moves(after),
                _ => {}
            }
            rest = after;
        }
        go
    }

    /// Whether the answer has to wait for `stop`.
    #[must_use]
    pub fn waits_for_stop(&self) -> bool {
        self.infinite || self.ponder
    }

    /// The time that `side` may take, if there is an end to it.
    #[must_use]
    pub fn time(&self, side: Color) -> Option<Duration> {
        if self.move_time.is_some() {
            return self.move_time;
        }
        // A client that names one clock only means that one.
        let left = side
            .fold_wb(self.white, self.black)
            .or(self.white)
            .or(self.black)?;
        let increment = side.fold_wb(self.white_increment, self.black_increment);
        Some(Clock { left, increment }.share(self.moves_to_go))
    }
}

fn moves(words: &[&str]) -> Vec<UciMove> {
    words.iter().map_while(|word| word.parse().ok()).collect()
}

/// At least 1: a search to depth 0 has no best move.
fn small(number: i64) -> u32 {
    u32::try_from(number.max(1)).unwrap_or(u32::MAX)
}

/// A clock that has run out may be sent below zero.
fn milliseconds(number: i64) -> Duration {
    Duration::from_millis(u64::try_from(number).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Go {
        Go::read(&text.split_whitespace().collect::<Vec<_>>())
    }

    #[test]
    fn limits_are_read() {
        let go = read("depth 5 nodes 1000 mate 2 infinite searchmoves e2e4 d2d4");
        assert_eq!(
            (go.depth, go.nodes, go.mate),
            (Some(5), Some(1000), Some(2))
        );
        assert!(go.infinite && go.waits_for_stop());
        assert_eq!(go.only, moves(&["e2e4", "d2d4"]));
        assert_eq!(go.time(Color::White), None);
    }

    #[test]
    fn words_after_the_moves_are_read_again() {
        let go = read("searchmoves e2e4 depth 3");
        assert_eq!((go.only.len(), go.depth), (1, Some(3)));
    }

    #[test]
    fn each_side_has_its_clock() {
        let go = read("wtime 60030 btime 30030 winc 1000 binc 0");
        assert_eq!(go.time(Color::White), Some(Duration::from_millis(2_750)));
        assert_eq!(go.time(Color::Black), Some(Duration::from_millis(1_000)));
        assert_eq!(
            read("wtime 60030").time(Color::Black),
            Some(Duration::from_millis(2_000))
        );
    }

    #[test]
    fn time_for_the_move_comes_before_the_clock() {
        let go = read("wtime 60000 btime 60000 movetime 70");
        assert_eq!(go.time(Color::Black), Some(Duration::from_millis(70)));
    }

    #[test]
    fn nonsense_is_passed_over() {
        assert_eq!(read("joho depth joho 5 ponders"), Go::default());
        assert_eq!(read("depth nodes 7"), read("nodes 7"));
        assert_eq!(read("nodes 99999999999999999999"), Go::default());
        assert_eq!(read("depth -3"), read("depth 1"));
        assert_eq!(read("movetime -3"), read("movetime 0"));
    }
}
