//! The core as a UCI program: the protocol text of 2006 (from memory) over any input and output.
//!
//! ```
//! let mut input = &b"uci\nquit\n"[..];
//! fastness_uci::converse(&mut input, std::io::stdout(), Silent).unwrap();
//!
//! use fastness_uci::{Limits, Score, Thinks, Thought};
//! struct Silent;
//! impl Thinks for Silent {
//!     fn resize(&mut self, _hash_bytes: usize) {}
//!     fn forget(&mut self) {}
//!     fn think(
//!         &mut self,
//!         _position: &shakmaty::Chess,
//!         _before: &[shakmaty::Chess],
//!         _limits: &Limits<'_>,
//!         _told: &mut dyn FnMut(&Thought),
//!     ) -> Thought {
//!         Thought { best: None, line: vec![], score: Score::Centipawns(0), depth: 0, nodes: 0 }
//!     }
//! }
//! ```

mod among;
mod clock;
mod command;
mod conversation;
mod game;
mod go;
mod options;
mod output;
mod running;
mod thinks;

pub use conversation::converse;
pub use thinks::{Limits, Score, Thinks, Thought};
