//! When to stop, and what was thought by then.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use shakmaty::Move;

use crate::search::{MATE, is_mate, is_mated};

/// How long to think; the first limit reached counts, and with none it goes on to the furthest
/// depth. Only `depth` and `nodes` give the same answer every time.
#[derive(Debug, Clone, Copy, Default)]
pub struct Limits<'a> {
    /// Depth in plies.
    pub depth: Option<u32>,
    /// Positions visited, never exceeded.
    pub nodes: Option<u64>,
    pub time: Option<Duration>,
    /// Set from outside to stop.
    pub stop: Option<&'a AtomicBool>,
}

/// What a position is worth to the side to move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Score {
    Centipawns(i32),
    /// The side to move mates in so many plies.
    Mates(u32),
    /// The side to move is mated in so many plies; 0 where it is mated already.
    Mated(u32),
}

impl Score {
    pub(super) fn of(value: i32) -> Score {
        if is_mate(value) {
            Score::Mates((MATE - value).unsigned_abs())
        } else if is_mated(value) {
            Score::Mated((MATE + value).unsigned_abs())
        } else {
            Score::Centipawns(value)
        }
    }
}

/// What a thinker makes of a position.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thought {
    /// None where there is no legal move.
    pub best: Option<Move>,
    /// The best line found, beginning with the best move; it may be shorter than the depth.
    pub line: Vec<Move>,
    pub score: Score,
    /// The last depth searched through, in plies.
    pub depth: u32,
    /// Positions visited.
    pub nodes: u64,
}

/// How often the clock is looked at, in nodes; a power of two.
const GLANCE: u64 = 1024;

/// Counts nodes and says when to stop.
#[derive(Debug)]
pub(super) struct Halt<'a> {
    pub(super) nodes: u64,
    most: u64,
    deadline: Option<Instant>,
    stop: Option<&'a AtomicBool>,
    pub(super) halted: bool,
}

impl<'a> Halt<'a> {
    pub(super) fn new(limits: &Limits<'a>) -> Halt<'a> {
        Halt {
            nodes: 0,
            most: limits.nodes.unwrap_or(u64::MAX),
            deadline: limits
                .time
                .and_then(|time| Instant::now().checked_add(time)),
            stop: limits.stop,
            halted: false,
        }
    }

    /// Count a node. False when thinking must stop, and the node is not to be visited.
    #[inline]
    pub(super) fn visit(&mut self) -> bool {
        if self.halted || self.nodes >= self.most {
            self.halted = true;
            return false;
        }
        if self.nodes & (GLANCE - 1) == 0 && self.is_over() {
            self.halted = true;
            return false;
        }
        self.nodes += 1;
        true
    }

    #[cold]
    fn is_over(&self) -> bool {
        self.stop.is_some_and(|stop| stop.load(Ordering::Relaxed))
            || self
                .deadline
                .is_some_and(|deadline| Instant::now() >= deadline)
    }
}
