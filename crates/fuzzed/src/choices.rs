//! Bytes as a run of choices, so that a fuzzer that changes a byte changes one choice.

/// Choices read from bytes, one byte each; the first way every time once the bytes are used up.
pub(crate) struct Choices<'a>(&'a [u8]);

impl<'a> Choices<'a> {
    pub(crate) fn new(bytes: &'a [u8]) -> Choices<'a> {
        Choices(bytes)
    }

    /// Whether all bytes are used up.
    pub(crate) fn done(&self) -> bool {
        self.0.is_empty()
    }

    /// A number from 0 to `below` - 1; `below` is 1 to 256.
    pub(crate) fn below(&mut self, below: usize) -> usize {
        let Some((&first, rest)) = self.0.split_first() else {
            return 0;
        };
        self.0 = rest;
        usize::from(first) % below
    }

    pub(crate) fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
}
