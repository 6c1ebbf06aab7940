//! What the fuzzers drive, for tests only: each function takes any bytes at all, hands them to a
//! door through which something from outside comes in, and panics where a promise is broken.
//!
//! `fuzz/` has a target of libFuzzer for each; `tests/seeded.rs` drives the same functions for a
//! few seconds with seeded bytes, without any fuzzer.
//!
//! ```
//! fastness_fuzzed::fen(b"4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1");
//! fastness_fuzzed::fen(b"\xff no position at all");
//! ```

mod choices;
mod fen;
mod pgn;
mod placed;
mod search;
mod uci;

pub use fen::fen;
pub use pgn::pgn;
pub use search::search;
pub use uci::uci;
