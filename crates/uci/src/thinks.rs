//! What the protocol asks of whoever thinks about the moves.

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use shakmaty::{Chess, Move};

pub struct Limits<'a> {
    pub depth: Option<u32>,
    pub nodes: Option<u64>,
    pub time: Option<Duration>,
    pub stop: Option<&'a AtomicBool>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Score {
    Centipawns(i32),
    Mates(u32),
    Mated(u32),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thought {
    pub best: Option<Move>,
    pub line: Vec<Move>,
    pub score: Score,
    pub depth: u32,
    pub nodes: u64,
}

/// A thinker that the protocol can drive. It thinks on a thread of its own.
pub trait Thinks: Send + 'static {
    /// Starts anew with a table of so many bytes.
    fn resize(&mut self, hash_bytes: usize);

    /// Forgets all that earlier positions have taught.
    fn forget(&mut self);

    /// The best move, none only where there is no legal one. `before` holds the earlier positions
    /// of the game, oldest first; `told` hears the thought after each depth.
    fn think(
        &mut self,
        position: &Chess,
        before: &[Chess],
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought;
}
