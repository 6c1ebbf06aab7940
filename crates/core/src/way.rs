//! The names of the ways.

/// How a remedy works; several may apply, the main one is the first of them in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    Capture,
    Move,
    Block,
    Guard,
    Counterattack,
    Other,
}

impl Way {
    /// The word for it, the same in JSON and in text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Way::Capture => "capture",
            Way::Move => "move",
            Way::Block => "block",
            Way::Guard => "guard",
            Way::Counterattack => "counterattack",
            Way::Other => "other",
        }
    }
}
