//! What the terms share: squares ahead of a pawn, and who attacks what.

use shakmaty::{Bitboard, Color, File, Role, Square, attacks};

use crate::search::SearchBoard;

const fn ahead(side: Color, square: usize, beside: bool) -> Bitboard {
    let (file, rank) = ((square % 8) as i32, (square / 8) as i32);
    let mut found = 0;
    let mut other = 0;
    while other < 64 {
        let (other_file, other_rank) = (other % 8, other / 8);
        let further = match side {
            Color::White => other_rank > rank,
            Color::Black => other_rank < rank,
        };
        let aside = (other_file - file).abs();
        if further && (aside == 0 || (beside && aside == 1)) {
            found |= 1 << other;
        }
        other += 1;
    }
    Bitboard(found)
}

const fn all_ahead(beside: bool) -> [[Bitboard; 64]; 2] {
    let mut found = [[Bitboard::EMPTY; 64]; 2];
    let mut square = 0;
    while square < 64 {
        found[Color::Black as usize][square] = ahead(Color::Black, square, beside);
        found[Color::White as usize][square] = ahead(Color::White, square, beside);
        square += 1;
    }
    found
}

/// The squares further on upon the same file, by side and square.
pub(super) static FILE_AHEAD: [[Bitboard; 64]; 2] = all_ahead(false);
/// The squares further on upon the same file and the two beside it.
pub(super) static FILES_AHEAD: [[Bitboard; 64]; 2] = all_ahead(true);

/// The files beside a file.
pub(super) fn files_beside(file: File) -> Bitboard {
    let own = Bitboard::from_file(file);
    let left = own & !Bitboard::from_file(File::A);
    let right = own & !Bitboard::from_file(File::H);
    left.shift(-1) | right.shift(1)
}

/// The squares that pawns attack.
#[inline]
pub(super) fn pawns_attack(side: Color, pawns: Bitboard) -> Bitboard {
    let left = pawns & !Bitboard::from_file(File::A);
    let right = pawns & !Bitboard::from_file(File::H);
    match side {
        Color::White => left.shift(7) | right.shift(9),
        Color::Black => left.shift(-9) | right.shift(-7),
    }
}

/// The rank of a square seen from a side, 0 for its first.
#[inline]
pub(super) fn rank_for(side: Color, square: Square) -> i32 {
    let rank = i32::from(square.rank());
    match side {
        Color::White => rank,
        Color::Black => 7 - rank,
    }
}

/// Squares attacked, by side, filled in while the pieces are counted.
pub(super) struct Attacked {
    pub(super) by_pawn: [Bitboard; 2],
    pub(super) by_minor: [Bitboard; 2],
    pub(super) by_rook: [Bitboard; 2],
    pub(super) by_queen: [Bitboard; 2],
    /// By anything but the king.
    pub(super) by_unit: [Bitboard; 2],
    pub(super) by_king: [Bitboard; 2],
    /// How many pieces attack squares beside the other king.
    pub(super) ring_attackers: [i32; 2],
}

impl Attacked {
    #[inline]
    pub(super) fn by_pawns_and_kings(board: &SearchBoard) -> Attacked {
        let by_color = |color| pawns_attack(color, board.units(color, Role::Pawn));
        let by_pawn = [by_color(Color::Black), by_color(Color::White)];
        let king = |color| attacks::king_attacks(board.king(color));
        Attacked {
            by_pawn,
            by_minor: [Bitboard::EMPTY; 2],
            by_rook: [Bitboard::EMPTY; 2],
            by_queen: [Bitboard::EMPTY; 2],
            by_unit: by_pawn,
            by_king: [king(Color::Black), king(Color::White)],
            ring_attackers: [0; 2],
        }
    }

    #[inline]
    pub(super) fn add(&mut self, side: Color, role: Role, reach: Bitboard) {
        let side = side as usize;
        self.by_unit[side] |= reach;
        match role {
            Role::Knight | Role::Bishop => self.by_minor[side] |= reach,
            Role::Rook => self.by_rook[side] |= reach,
            Role::Queen => self.by_queen[side] |= reach,
            Role::Pawn | Role::King => {}
        }
    }
}
