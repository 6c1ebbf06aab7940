//! The transposition table: bounds on values already searched.

use super::{INFINITE, moves::Move};

#[derive(Clone, Copy, Default)]
struct Entry {
    key: u64,
    lower: i32,
    upper: i32,
    best: u32,
    generation: u32,
}

/// What the table knows of a position at a number of plies left.
#[derive(Debug, Clone, Copy)]
pub struct Known {
    pub lower: i32,
    pub upper: i32,
    pub best: Option<Move>,
}

/// Bounds keyed by position and plies left. An entry counts only for the same plies, so that a
/// search with the table gives the number a search without it would.
///
/// Entries are aged rather than cleared, since clearing costs as much as a short search.
pub struct Table {
    entries: Vec<Entry>,
    generation: u32,
    mask: usize,
}

const SIZE: usize = 1 << 18;
/// Short searches use a part that stays in the processor's own memory.
const SHORT_SIZE: usize = 1 << 15;
/// The longest reach that counts as short.
const SHORT_REACH: u32 = 3;

impl Table {
    pub fn new() -> Table {
        Table {
            entries: vec![Entry::default(); SIZE],
            generation: 1,
            mask: SHORT_SIZE - 1,
        }
    }

    /// Forget everything, by age.
    pub fn forget(&mut self) {
        self.generation = self.generation.wrapping_add(1);
    }

    /// Forget everything and make room for searches to a reach.
    pub fn begin(&mut self, reach: u32) {
        let size = if reach <= SHORT_REACH {
            SHORT_SIZE
        } else {
            SIZE
        };
        self.mask = size - 1;
        self.forget();
    }

    #[inline]
    fn slot(&self, key: u64) -> usize {
        key as usize & self.mask
    }

    #[inline]
    pub fn known(&self, key: u64) -> Option<Known> {
        let entry = &self.entries[self.slot(key)];
        (entry.key == key && entry.generation == self.generation).then_some(Known {
            lower: entry.lower,
            upper: entry.upper,
            best: (entry.best != 0).then_some(Move::from_word(entry.best)),
        })
    }

    /// Keep what a search found: a lower bound, an upper bound, or both for an exact value.
    #[inline]
    pub(super) fn keep(&mut self, key: u64, found: Found, best: Option<Move>) {
        let slot = self.slot(key);
        let entry = &mut self.entries[slot];
        if entry.key != key || entry.generation != self.generation {
            *entry = Entry {
                key,
                lower: -INFINITE,
                upper: INFINITE,
                best: 0,
                generation: self.generation,
            };
        }
        if found.at_least {
            entry.lower = entry.lower.max(found.value);
        }
        if found.at_most {
            entry.upper = entry.upper.min(found.value);
        }
        if let Some(best) = best {
            entry.best = best.word();
        }
    }
}

/// A value and which way it bounds the true one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    pub(super) value: i32,
    pub(super) at_least: bool,
    pub(super) at_most: bool,
}
