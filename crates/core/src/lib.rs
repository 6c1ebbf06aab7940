//! The chess of fastness: what is not safe, what keeps it, and the lines that prove it.

pub mod rules;
pub mod search;
pub mod values;

pub use search::{MATE, Search, SearchBoard};
pub use values::Values;
