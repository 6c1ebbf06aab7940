//! Lines of an empty board, small enough to stay at hand.

use shakmaty::{Bitboard, Role, Square, attacks};

/// Where a rook on each square would go on an empty board.
pub(super) static STRAIGHTS: [Bitboard; 64] = {
    let mut lines = [Bitboard::EMPTY; 64];
    let mut square = 0;
    while square < 64 {
        lines[square] = attacks::rook_attacks(Square::new(square as u32), Bitboard::EMPTY);
        square += 1;
    }
    lines
};

/// Where a bishop on each square would go on an empty board.
pub(super) static DIAGONALS: [Bitboard; 64] = {
    let mut lines = [Bitboard::EMPTY; 64];
    let mut square = 0;
    while square < 64 {
        lines[square] = attacks::bishop_attacks(Square::new(square as u32), Bitboard::EMPTY);
        square += 1;
    }
    lines
};

/// Where a knight, bishop, rook or queen would bear to on an empty board.
#[inline]
pub(super) fn lines_of(role: Role, from: Square) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => DIAGONALS[from as usize],
        Role::Rook => STRAIGHTS[from as usize],
        _ => DIAGONALS[from as usize] | STRAIGHTS[from as usize],
    }
}
