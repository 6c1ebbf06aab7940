//! A client of the UCI program that says anything at all.

use std::io::{self, Write};
use std::sync::{Arc, Mutex};

use fastness_uci::{Limits, Score, Thinks, Thought, converse};
use shakmaty::{Chess, Position};

/// Words that a line for the client may begin with.
const BEGINNINGS: [&str; 6] = ["id", "option", "uciok", "readyok", "info", "bestmove"];

/// Plays the first legal move at once, so that what is tried is the conversation.
struct AtOnce;

impl Thinks for AtOnce {
    fn resize(&mut self, _: usize) {}

    fn forget(&mut self) {}

    fn think(
        &mut self,
        position: &Chess,
        _: &[Chess],
        _: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        let best = position.legal_moves().first().copied();
        let thought = Thought {
            best,
            line: best.into_iter().collect(),
            score: Score::Centipawns(0),
            depth: 1,
            nodes: 1,
        };
        told(&thought);
        thought
    }
}

#[derive(Clone, Default)]
struct Heard(Arc<Mutex<Vec<u8>>>);

impl Write for Heard {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0
            .lock()
            .expect("nothing panics while it writes")
            .write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Says the bytes to the program. It comes to its end, and every line it answers is of the
/// protocol.
///
/// # Panics
///
/// Where a line is not.
pub fn uci(bytes: &[u8]) {
    let heard = Heard::default();
    converse(bytes, heard.clone(), AtOnce).expect("nothing is wrong with either pipe");
    let heard = heard.0.lock().expect("the conversation is over");
    let text = std::str::from_utf8(&heard).expect("the program writes UTF-8");
    for line in text.lines() {
        let word = line.split(' ').next().unwrap_or_default();
        assert!(BEGINNINGS.contains(&word), "{line:?}");
    }
}
