//! What the client is told, one line at a time, from either thread.

use std::io::{self, Write};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use shakmaty::Move;
use shakmaty::uci::UciMove;

use crate::thinks::{Score, Thought};

/// The way to the client; clones lead to the same client.
#[derive(Clone)]
pub struct Output(Arc<Mutex<dyn Write + Send>>);

impl Output {
    pub fn new(to: impl Write + Send + 'static) -> Output {
        Output(Arc::new(Mutex::new(to)))
    }

    /// Sends one line at once.
    ///
    /// # Errors
    ///
    /// Where the client no longer listens.
    pub fn line(&self, text: &str) -> io::Result<()> {
        let mut to = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        to.write_all(format!("{text}\n").as_bytes())?;
        to.flush()
    }

    /// Tells a person something. What the client sent may be part of it, so nothing in it may
    /// end the line or steer a terminal.
    ///
    /// # Errors
    ///
    /// Where the client no longer listens.
    pub fn remark(&self, text: &str) -> io::Result<()> {
        let plain = text.replace(char::is_control, "\u{fffd}");
        self.line(&format!("info string {plain}"))
    }
}

/// The line for one finished depth.
#[must_use]
pub fn info(thought: &Thought, taken: Duration) -> String {
    let milliseconds = taken.as_millis();
    let a_second = u128::from(thought.nodes) * 1000 / milliseconds.max(1);
    let mut text = format!(
        "info depth {} score {} nodes {} nps {a_second} time {milliseconds}",
        thought.depth,
        score(thought.score),
        thought.nodes,
    );
    if !thought.line.is_empty() {
        text += " pv";
        for &m in &thought.line {
            text += &format!(" {}", UciMove::from_standard(m));
        }
    }
    text
}

/// The protocol counts a mate in own moves, less than zero for the side that is mated.
fn score(score: Score) -> String {
    match score {
        Score::Centipawns(value) => format!("cp {value}"),
        Score::Mates(plies) => format!("mate {}", plies.div_ceil(2)),
        Score::Mated(0) => "mate 0".to_owned(),
        Score::Mated(plies) => format!("mate -{}", plies.div_ceil(2)),
    }
}

/// The answer to `go`; `0000` where there is no move.
#[must_use]
pub fn best_move(best: Option<Move>) -> String {
    let uci = best.map_or(UciMove::Null, UciMove::from_standard);
    format!("bestmove {uci}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use shakmaty::{Chess, Position};

    #[test]
    fn mates_are_counted_in_own_moves() {
        for (given, expected) in [
            (Score::Centipawns(-31), "cp -31"),
            (Score::Mates(1), "mate 1"),
            (Score::Mates(3), "mate 2"),
            (Score::Mated(0), "mate 0"),
            (Score::Mated(2), "mate -1"),
            (Score::Mated(4), "mate -2"),
        ] {
            assert_eq!(score(given), expected);
        }
    }

    #[test]
    fn a_depth_is_one_line() {
        let first = Chess::default().legal_moves()[0];
        let thought = Thought {
            best: Some(first),
            line: vec![first],
            score: Score::Centipawns(20),
            depth: 3,
            nodes: 500,
        };
        let uci = UciMove::from_standard(first);
        assert_eq!(
            info(&thought, Duration::from_millis(250)),
            format!("info depth 3 score cp 20 nodes 500 nps 2000 time 250 pv {uci}")
        );
        let silent = Thought {
            line: vec![],
            ..thought
        };
        assert_eq!(
            info(&silent, Duration::ZERO),
            "info depth 3 score cp 20 nodes 500 nps 500000 time 0"
        );
    }

    #[test]
    fn no_move_is_the_null_move() {
        assert_eq!(best_move(None), "bestmove 0000");
    }
}
