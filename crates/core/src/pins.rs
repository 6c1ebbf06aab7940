//! Lines on which a slider bears on one unit with another of the same side behind it.

use shakmaty::{Bitboard, Color, Role, Square, attacks};

use crate::search::SearchBoard;
use crate::values::Values;

/// A slider, the one unit before it, and the unit of the same side behind that.
#[derive(Debug, Clone, Copy)]
pub struct Pin {
    /// The slider that pins.
    pub slider: Square,
    /// The unit that stands in its way.
    pub pinned: Square,
    /// The unit behind.
    pub to: Square,
}

impl Pin {
    /// Whether the king or a unit worth more than the one pinned stands behind it.
    #[must_use]
    pub fn has_more_behind(&self, board: &SearchBoard, values: &Values) -> bool {
        let worth = |square| match board.role_at(square) {
            Some(Role::King) | None => i32::MAX,
            Some(role) => values.of(role),
        };
        worth(self.to) > worth(self.pinned)
    }
}

/// Bishops, rooks and queens of both sides.
#[must_use]
pub fn sliders(board: &SearchBoard) -> Bitboard {
    board.of_role(Role::Bishop) | board.of_role(Role::Rook) | board.of_role(Role::Queen)
}

/// Every line on which a slider of `by` bears on a unit of the other side with another behind.
#[must_use]
pub fn pins(board: &SearchBoard, by: Color) -> Vec<Pin> {
    let occupied = board.occupied();
    let theirs = board.side(!by);
    let mut found = Vec::new();
    for slider in board.side(by) & sliders(board) {
        let Some(role) = board.role_at(slider) else {
            continue;
        };
        let bears = |occupied| match role {
            Role::Bishop => attacks::bishop_attacks(slider, occupied),
            Role::Rook => attacks::rook_attacks(slider, occupied),
            _ => attacks::queen_attacks(slider, occupied),
        };
        let near = bears(occupied);
        for pinned in near & theirs {
            let beyond = bears(occupied.without(pinned)) & !near & theirs;
            for to in beyond {
                if attacks::aligned(slider, pinned, to) {
                    found.push(Pin { slider, pinned, to });
                }
            }
        }
    }
    found
}
