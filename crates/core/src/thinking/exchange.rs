//! What a capture gains on its square, pins left out of account: quicker than the exact count of
//! `crate::count`, for ordering only.

use arrayvec::ArrayVec;
use shakmaty::{Bitboard, Role};

use crate::search::{Move, SearchBoard};
use crate::values::Values;

/// No more units than these bear on one square: 27 along its lines and diagonals, and 8 knights.
const BEARING: usize = 35;

/// What stands in for the king's value: more than all else together.
const KING: i32 = 10_000;

fn worth(role: Role, values: &Values) -> i32 {
    match role {
        Role::King => KING,
        role => values.of(role),
    }
}

/// What a move gains by what it takes and what may be taken in turn on its square, either side
/// free to stop, in centipawns.
pub(super) fn gain(board: &SearchBoard, m: Move, values: &Values) -> i32 {
    let to = m.to();
    let mut gains: ArrayVec<i32, BEARING> = ArrayVec::new();
    gains.push(m.capture().map_or(0, |role| values.of(role)));
    let mut standing = worth(m.role(), values);
    let mut side = !board.turn();
    let mut occupied = board.occupied() & !Bitboard::from_square(m.from());
    if m.is_en_passant() {
        occupied &= !Bitboard::from_square(m.capture_square());
    }
    loop {
        let takers = board.attackers(to, side, occupied) & occupied;
        let Some((role, unit)) = Role::ALL.into_iter().find_map(|role| {
            let unit = (takers & board.of_role(role)).first()?;
            Some((role, unit))
        }) else {
            break;
        };
        occupied &= !Bitboard::from_square(unit);
        if role == Role::King && (board.attackers(to, !side, occupied) & occupied).any() {
            break;
        }
        gains.push(standing);
        standing = worth(role, values);
        side = !side;
    }
    gains
        .into_iter()
        .rev()
        .reduce(|later, gain| gain - later.max(0))
        .unwrap_or(0)
}

/// Whether a capture loses material on its square.
#[inline]
pub(super) fn loses(board: &SearchBoard, m: Move, values: &Values) -> bool {
    let taken = m.capture().map_or(0, |role| values.of(role));
    if m.role() != Role::King && taken >= values.of(m.role()) {
        return false;
    }
    gain(board, m, values) < 0
}
