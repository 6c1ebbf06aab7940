//! One `go`, from the thinking to the best move, on a thread of its own.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, JoinHandle};
use std::time::Instant;

use shakmaty::{Move, Position};

use crate::among::think_among;
use crate::game::Game;
use crate::go::Go;
use crate::output::{self, Output};
use crate::thinks::{Limits, Score, Thinks, Thought};

/// A thinker at work.
pub struct Running<T> {
    stop: Arc<AtomicBool>,
    ponders: bool,
    work: JoinHandle<T>,
}

impl<T: Thinks> Running<T> {
    #[must_use]
    pub fn start(mut thinker: T, game: Game, go: Go, output: Output) -> Running<T> {
        let stop = Arc::new(AtomicBool::new(false));
        let ponders = go.ponder;
        let stopped = Arc::clone(&stop);
        let work = thread::spawn(move || {
            let best = best_move(&mut thinker, &game, &go, &stopped, &output);
            while go.waits_for_stop() && !stopped.load(Ordering::Relaxed) {
                thread::park();
            }
            // A client that is gone is noticed where its commands are read.
            let _ = output.line(&output::best_move(best));
            thinker
        });
        Running {
            stop,
            ponders,
            work,
        }
    }

    /// Lets the best move so far be sent.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
        self.work.thread().unpark();
    }

    /// The opponent has played the move pondered on: the thinking done meanwhile has to do.
    pub fn ponder_hit(&self) {
        if self.ponders {
            self.stop();
        }
    }

    /// Stops, and gives the thinker back when the best move has been sent.
    ///
    /// # Panics
    ///
    /// If the thinker did.
    #[must_use]
    pub fn end(self) -> T {
        self.stop();
        self.work
            .join()
            .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    }
}

fn best_move<T: Thinks>(
    thinker: &mut T,
    game: &Game,
    go: &Go,
    stop: &AtomicBool,
    output: &Output,
) -> Option<Move> {
    let begun = Instant::now();
    let tell = |thought: &Thought| {
        let _ = output.line(&output::info(thought, begun.elapsed()));
    };
    let limits = Limits {
        depth: go.depth.into_iter().chain(go.mate.map(plies_to_see)).min(),
        nodes: go.nodes,
        time: go.time(game.position.turn()),
        stop: Some(stop),
    };
    let mut told = None;
    let mut hear = |thought: &Thought| {
        tell(thought);
        told = Some((thought.depth, thought.best));
        if go.mate.is_some_and(|moves| mates_within(thought, moves)) {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let only = game.legal(&go.only);
    let thought = if only.is_empty() {
        thinker.think(&game.position, &game.before, &limits, &mut hear)
    } else {
        think_among(thinker, game, &only, &limits, &mut hear)
    };
    // A better move found in an unfinished depth is told as well, and a search too short for any.
    if told != Some((thought.depth, thought.best)) {
        tell(&thought);
    }
    thought.best
}

/// A mate in so many moves is given on the last of twice as many plies but one; one ply more
/// shows that there is no answer.
fn plies_to_see(moves: u32) -> u32 {
    moves.saturating_mul(2)
}

fn mates_within(thought: &Thought, moves: u32) -> bool {
    matches!(thought.score, Score::Mates(plies) if plies.div_ceil(2) <= moves)
}
