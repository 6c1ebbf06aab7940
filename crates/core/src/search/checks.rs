//! Which moves give check.

use shakmaty::{Bitboard, Role, Square, attacks};

use super::board::SearchBoard;
use super::moves::Move;

/// Where the side to move would give check.
#[derive(Debug, Clone, Copy)]
pub struct Checks {
    king: Square,
    pub(super) by_role: [Bitboard; 6],
    pub(super) discoverers: Bitboard,
}

impl Checks {
    #[inline]
    #[must_use]
    pub fn of(board: &SearchBoard) -> Checks {
        let us = board.turn();
        let king = board.king(!us);
        let occupied = board.occupied();
        let diagonal = attacks::bishop_attacks(king, occupied);
        let straight = attacks::rook_attacks(king, occupied);
        Checks {
            king,
            by_role: [
                attacks::pawn_attacks(!us, king),
                attacks::knight_attacks(king),
                diagonal,
                straight,
                diagonal | straight,
                Bitboard::EMPTY,
            ],
            discoverers: board.blockers(king, us, us),
        }
    }

    /// Those of these squares on which a capture might give check.
    #[inline]
    #[must_use]
    pub fn possible_on(&self, squares: Bitboard, board: &SearchBoard) -> Bitboard {
        if self.discoverers.any() {
            return squares;
        }
        let us = board.turn();
        let mut direct = Bitboard::EMPTY;
        for role in [
            Role::Pawn,
            Role::Knight,
            Role::Bishop,
            Role::Rook,
            Role::Queen,
        ] {
            if board.units(us, role).any() {
                direct |= self.by_role[role as usize - 1];
            }
        }
        squares & direct
    }

    /// Whether a legal move of `board`, the board these were made from, gives check.
    #[inline]
    #[must_use]
    pub fn given_by(&self, m: Move, board: &SearchBoard) -> bool {
        let from = m.from();
        if m.promotion().is_some() || m.is_en_passant() || m.is_castling() {
            return self.given_by_odd(m, board);
        }
        self.by_role[m.role() as usize - 1].contains(m.to())
            || (self.discoverers.contains(from) && !attacks::aligned(from, m.to(), self.king))
    }

    /// Promotions, en passant and castling change more than one square's worth of lines.
    #[cold]
    fn given_by_odd(&self, m: Move, board: &SearchBoard) -> bool {
        let uncounted = crate::values::Values::new(0, 0, 0, 0, 0);
        board.after(m, &uncounted).in_check()
    }
}
