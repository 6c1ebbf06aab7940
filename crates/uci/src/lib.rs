//! The core as a UCI program: the protocol text of 2006 (from memory) over any input and output.
//!
//! ```
//! use fastness_core::thinking::Thinker;
//!
//! let commands = &b"position startpos moves e2e4\ngo depth 2\n"[..];
//! fastness_uci::converse(commands, std::io::stdout(), Thinker::new(0))?;
//! # Ok::<(), std::io::Error>(())
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
