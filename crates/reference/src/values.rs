//! What the units are worth.

use shakmaty::{Board, Color};

/// Unit values in centipawns. The king is not counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Values {
    /// A pawn.
    pub pawn: i32,
    /// A knight.
    pub knight: i32,
    /// A bishop.
    pub bishop: i32,
    /// A rook.
    pub rook: i32,
    /// A queen.
    pub queen: i32,
}

impl Values {
    /// Claude Shannon, "Programming a Computer for Playing Chess", 1950.
    pub const fn classical() -> Values {
        Values::new(100, 300, 300, 500, 900)
    }

    /// Alan Turing, in "Faster than Thought", 1953.
    pub const fn turing() -> Values {
        Values::new(100, 300, 350, 500, 1000)
    }

    /// Larry Kaufman, "The Evaluation of Material Imbalances", 1999.
    pub const fn kaufman() -> Values {
        Values::new(100, 325, 325, 500, 975)
    }

    /// Hans Berliner, "The System", 1999.
    pub const fn berliner() -> Values {
        Values::new(100, 320, 333, 510, 880)
    }

    const fn new(pawn: i32, knight: i32, bishop: i32, rook: i32, queen: i32) -> Values {
        Values {
            pawn,
            knight,
            bishop,
            rook,
            queen,
        }
    }

    fn total(&self, board: &Board, color: Color) -> i32 {
        let units = board.material_side(color);
        i32::from(units.pawn) * self.pawn
            + i32::from(units.knight) * self.knight
            + i32::from(units.bishop) * self.bishop
            + i32::from(units.rook) * self.rook
            + i32::from(units.queen) * self.queen
    }
}

/// The attacker's material less the other side's, in centipawns.
pub fn balance(board: &Board, values: &Values, attacker: Color) -> i32 {
    values.total(board, attacker) - values.total(board, attacker.other())
}
