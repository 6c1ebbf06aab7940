//! What the protocol asks of whoever thinks about the moves.

use fastness_core::thinking::Thinker;
pub use fastness_core::thinking::{Limits, Score, Thought};
use shakmaty::Chess;

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

impl Thinks for Thinker {
    fn resize(&mut self, hash_bytes: usize) {
        *self = Thinker::new(hash_bytes);
    }

    fn forget(&mut self) {
        Thinker::forget(self);
    }

    fn think(
        &mut self,
        position: &Chess,
        before: &[Chess],
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        Thinker::think(self, position, before, limits, told)
    }
}
