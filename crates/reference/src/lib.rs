//! The plain judge of the material search: the slow and obvious way, for tests only.
//!
//! It shares no code with `fastness_core`. There is no table and no window but plain
//! alpha-beta's own ([`value`]); [`minimax`] has no window at all. Both answer the same question:
//! the attacker's balance less the base, in centipawns, under best play of both sides.
//!
//! ```
//! use fastness_reference::{Values, danger};
//! use shakmaty::{CastlingMode, Chess, fen::Fen};
//!
//! // A pawn attacks a knight that nothing guards: if Black passes, the knight falls.
//! let fen: Fen = "4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1".parse()?;
//! let pos: Chess = fen.into_position(CastlingMode::Standard)?;
//! let white_is_behind_by = -200;
//! assert_eq!(danger(&pos, &Values::classical(), 1, white_is_behind_by), Some(300));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod alphabeta;
mod chance;
mod lines;
mod minimax;
mod moves;
mod reach;
mod units;
mod values;

pub use alphabeta::{attains, value, value_in_quiescence};
pub use chance::Chance;
pub use minimax::minimax;
pub use moves::pass;
pub use reach::{danger, net, nets};
pub use units::unsafe_units;
pub use values::{Values, balance};

/// A mate delivered k plies after the position asked about is worth `MATE - k` to the mater;
/// a position that is itself checkmate has k = 0.
pub const MATE: i32 = 30_000;

/// After this many plies of quiescence a check is no longer answered by every evasion.
const EVASION_PLIES: u32 = 6;
