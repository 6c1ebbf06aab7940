//! What has been found about positions, kept by their keys.

use crate::search::{MATE, Move, is_mate, is_mated};

/// Which way a kept value bounds the true one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bound {
    AtMost = 1,
    AtLeast = 2,
    Exact = 3,
}

/// What is known of a position.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    pub(super) value: i32,
    pub(super) bound: Bound,
    pub(super) depth: i32,
    pub(super) best: Option<Move>,
}

impl Known {
    /// Whether the value settles a window.
    #[inline]
    pub(super) fn settles(&self, alpha: i32, beta: i32) -> bool {
        match self.bound {
            Bound::Exact => true,
            Bound::AtLeast => self.value >= beta,
            Bound::AtMost => self.value <= alpha,
        }
    }
}

#[derive(Debug, Clone, Copy, Default)]
struct Entry {
    key: u64,
    best: u32,
    value: i16,
    depth: i8,
    bound: u8,
}

const BUCKET: usize = 3;

/// Three entries and the thought each was last used in: 64 bytes, one line of memory.
#[derive(Debug, Clone, Copy, Default)]
#[repr(align(64))]
struct Bucket {
    entries: [Entry; BUCKET],
    thoughts: [u32; BUCKET],
}

#[derive(Debug)]
pub(super) struct Table {
    buckets: Vec<Bucket>,
    /// Counts thoughts; an entry from before `oldest` is forgotten.
    thought: u32,
    oldest: u32,
}

/// An entry of an earlier thought makes way as if it were so many plies less deep.
const AGE: i32 = 4;

impl Table {
    pub(super) fn new(bytes: usize) -> Table {
        let buckets = (bytes / size_of::<Bucket>()).max(1 << 10);
        let buckets = 1 << buckets.ilog2();
        Table {
            buckets: vec![Bucket::default(); buckets],
            thought: 1,
            oldest: 1,
        }
    }

    pub(super) fn next_thought(&mut self) {
        if self.thought == u32::MAX {
            self.buckets.fill(Bucket::default());
            (self.thought, self.oldest) = (1, 1);
        }
        self.thought += 1;
    }

    /// Forget by age: clearing a large table costs as much as a short search.
    pub(super) fn forget(&mut self) {
        self.next_thought();
        self.oldest = self.thought;
    }

    #[inline]
    fn slot(&self, key: u64) -> usize {
        key as usize & (self.buckets.len() - 1)
    }

    #[inline]
    pub(super) fn known(&self, key: u64, ply: usize) -> Option<Known> {
        let bucket = &self.buckets[self.slot(key)];
        let at = (0..BUCKET)
            .find(|&at| bucket.entries[at].key == key && bucket.thoughts[at] >= self.oldest)?;
        let entry = bucket.entries[at];
        Some(Known {
            value: from_here(i32::from(entry.value), ply),
            bound: match entry.bound {
                1 => Bound::AtMost,
                2 => Bound::AtLeast,
                _ => Bound::Exact,
            },
            depth: i32::from(entry.depth),
            best: (entry.best != 0).then(|| Move::from_word(entry.best)),
        })
    }

    /// Keep what was found, in place of what is worth least in its bucket.
    #[inline]
    pub(super) fn keep(&mut self, key: u64, ply: usize, known: Known) {
        let (thought, oldest) = (self.thought, self.oldest);
        let slot = self.slot(key);
        let bucket = &mut self.buckets[slot];
        let worth = |at: usize| {
            if bucket.thoughts[at] < oldest {
                return i32::MIN;
            }
            let age = (thought - bucket.thoughts[at]).min(64) as i32;
            i32::from(bucket.entries[at].depth) - AGE * age
        };
        let same =
            (0..BUCKET).find(|&at| bucket.entries[at].key == key && bucket.thoughts[at] >= oldest);
        let at =
            same.unwrap_or_else(|| (0..BUCKET).min_by_key(|&at| worth(at)).unwrap_or_default());
        let entry = &mut bucket.entries[at];
        let mut best = known.best.map_or(0, Move::word);
        if same.is_some() {
            if best == 0 {
                best = entry.best;
            }
            // A shallow bound does not push out a deep one of the same thought.
            let deeper = i32::from(entry.depth) > known.depth + 2;
            if deeper && known.bound != Bound::Exact && bucket.thoughts[at] == thought {
                return;
            }
        }
        *entry = Entry {
            key,
            best,
            value: from_its_own(known.value, ply) as i16,
            depth: known.depth as i8,
            bound: known.bound as u8,
        };
        bucket.thoughts[at] = thought;
    }
}

/// Mates are kept by their distance from the position, not from where thinking began.
#[inline]
fn from_its_own(value: i32, ply: usize) -> i32 {
    if is_mate(value) {
        (value + ply as i32).min(MATE)
    } else if is_mated(value) {
        (value - ply as i32).max(-MATE)
    } else {
        value
    }
}

#[inline]
fn from_here(value: i32, ply: usize) -> i32 {
    if is_mate(value) {
        value - ply as i32
    } else if is_mated(value) {
        value + ply as i32
    } else {
        value
    }
}
