//! Tables of unit values in centipawns.

use shakmaty::{Color, Role};

use crate::search::SearchBoard;

/// What each kind of unit is worth, in centipawns. The king is not counted: mate is an outcome
/// of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Values {
    by_role: [i32; 6],
}

impl Values {
    /// The names that [`Values::named`] knows, the default first.
    pub const NAMES: [&'static str; 4] = ["classical", "turing", "kaufman", "berliner"];

    /// The tables whose verdicts are compared: old and new values of the minor pieces.
    pub const COMPARED: [&'static str; 2] = ["classical", "kaufman"];

    /// A table of its own: pawn, knight, bishop, rook and queen, in centipawns.
    #[must_use]
    pub const fn new(pawn: i32, knight: i32, bishop: i32, rook: i32, queen: i32) -> Values {
        Values {
            by_role: [pawn, knight, bishop, rook, queen, 0],
        }
    }

    /// 100/300/300/500/900: Shannon, "Programming a Computer for Playing Chess", 1950.
    #[must_use]
    pub const fn classical() -> Values {
        Values::new(100, 300, 300, 500, 900)
    }

    /// 100/300/350/500/1000: Turing, "Digital Computers Applied to Games", 1953.
    #[must_use]
    pub const fn turing() -> Values {
        Values::new(100, 300, 350, 500, 1000)
    }

    /// 100/325/325/500/975: Kaufman, "The Evaluation of Material Imbalances", 1999.
    #[must_use]
    pub const fn kaufman() -> Values {
        Values::new(100, 325, 325, 500, 975)
    }

    /// 100/320/333/510/880: Berliner, "The System", 1999.
    #[must_use]
    pub const fn berliner() -> Values {
        Values::new(100, 320, 333, 510, 880)
    }

    /// The table of that name, if there is one.
    #[must_use]
    pub fn named(name: &str) -> Option<Values> {
        match name {
            "classical" => Some(Values::classical()),
            "turing" => Some(Values::turing()),
            "kaufman" => Some(Values::kaufman()),
            "berliner" => Some(Values::berliner()),
            _ => None,
        }
    }

    /// What a unit of this kind is worth, in centipawns; 0 for a king.
    #[inline]
    #[must_use]
    pub const fn of(&self, role: Role) -> i32 {
        self.by_role[role as usize - 1]
    }

    /// The material balance of a board in centipawns, from the view of `side`.
    #[must_use]
    pub fn balance(&self, board: &SearchBoard, side: Color) -> i32 {
        Role::ALL
            .into_iter()
            .map(|role| {
                let count = |color| board.units(color, role).count() as i32;
                self.of(role) * (count(side) - count(!side))
            })
            .sum()
    }
}
