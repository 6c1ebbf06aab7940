//! The transposition table: bounds on values already searched.

use super::{INFINITE, moves::Move};

/// Sixteen bytes, so that four share a line of the processor's own memory.
#[derive(Clone, Copy, Default)]
struct Entry {
    /// The key asked for and the generation in one.
    key: u64,
    lower: i16,
    upper: i16,
    best: u32,
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
    generation: u64,
    mask: usize,
}

const SIZE: usize = 1 << 18;
/// Short searches use a part that stays in the processor's own memory.
const SHORT_SIZE: usize = 1 << 16;
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

    /// The key of a position in this generation; that of another never matches it.
    #[inline]
    fn aged(&self, key: u64) -> u64 {
        key ^ self.generation.wrapping_mul(0x9e37_79b9_7f4a_7c15)
    }

    #[inline]
    fn slot(&self, aged: u64) -> usize {
        aged as usize & self.mask
    }

    #[inline]
    pub fn known(&self, key: u64) -> Option<Known> {
        let key = self.aged(key);
        let entry = &self.entries[self.slot(key)];
        (entry.key == key).then_some(Known {
            lower: entry.lower.into(),
            upper: entry.upper.into(),
            best: (entry.best != 0).then_some(Move::from_word(entry.best)),
        })
    }

    /// Keep what a search found: a lower bound, an upper bound, or both for an exact value.
    #[inline]
    pub(super) fn keep(&mut self, key: u64, found: Found, best: Option<Move>) {
        let key = self.aged(key);
        let slot = self.slot(key);
        let entry = &mut self.entries[slot];
        if entry.key != key {
            *entry = Entry {
                key,
                lower: narrow(-INFINITE),
                upper: narrow(INFINITE),
                best: 0,
            };
        }
        let value = narrow(found.value);
        if found.at_least {
            entry.lower = entry.lower.max(value);
        }
        if found.at_most {
            entry.upper = entry.upper.min(value);
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

/// A value of the search, none of which is beyond `INFINITE`.
#[inline]
fn narrow(value: i32) -> i16 {
    debug_assert!(value.abs() <= INFINITE);
    value as i16
}
