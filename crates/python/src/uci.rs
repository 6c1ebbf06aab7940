//! The UCI program on the standard input and output of the process.

use std::io;

use fastness_core::thinking::Thinker;

/// Answers a UCI client until `quit` or the end of the input.
///
/// # Errors
///
/// Where the client no longer listens.
pub fn converse() -> io::Result<()> {
    fastness_uci::converse(io::stdin().lock(), io::stdout(), Thinker::new(0))
}
