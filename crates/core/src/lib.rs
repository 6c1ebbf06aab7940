//! The chess of fastness: what is not safe, what keeps it, and the lines that prove it.

mod answer;
pub mod count;
mod counterattack;
pub mod evaluation;
pub mod judged;
pub mod line;
pub mod look;
pub mod mechanism;
pub mod natural;
pub mod offer;
pub mod pins;
pub mod price;
pub mod proof;
pub mod rank;
pub mod reason;
pub mod remedy;
pub mod replay;
pub mod report;
pub mod rules;
pub mod screen;
pub mod search;
pub mod status;
pub mod survey;
pub mod thinking;
pub mod threat;
pub mod trade;
pub mod values;
pub mod verdict;
pub mod way;

pub use search::{MATE, Search, SearchBoard};
pub use values::Values;
