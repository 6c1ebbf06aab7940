//! What bounds the side to move, and generation of its captures and promotions.

use std::cell::Cell;

use shakmaty::{Bitboard, Color, Rank, Role, Square, attacks};

use super::board::SearchBoard;
use super::moves::{Move, MoveList, Promotions};

/// What bounds the side to move: its king, who checks it, which of its units are pinned.
#[derive(Debug, Clone)]
pub struct Bounds {
    pub(super) king: Square,
    pub(super) checkers: Bitboard,
    /// Found when first asked for: most nodes never need it.
    pinned: Cell<Option<Bitboard>>,
}

impl Bounds {
    /// The bounds of a board whose side to move is known to be in check or not.
    #[inline]
    #[must_use]
    pub fn of(board: &SearchBoard, in_check: bool) -> Bounds {
        let us = board.turn();
        let king = board.king(us);
        Bounds {
            king,
            checkers: if in_check {
                board.attackers(king, !us, board.occupied())
            } else {
                Bitboard::EMPTY
            },
            pinned: Cell::new(None),
        }
    }

    #[inline]
    pub(super) fn pinned(&self, board: &SearchBoard) -> Bitboard {
        if let Some(pinned) = self.pinned.get() {
            return pinned;
        }
        let us = board.turn();
        let pinned = board.blockers(self.king, !us, us);
        self.pinned.set(Some(pinned));
        pinned
    }

    /// Squares where a unit other than the king may land: all, or those that end the check.
    #[inline]
    pub(super) fn landing(&self) -> Bitboard {
        match self.checkers.single_square() {
            Some(checker) => attacks::between(self.king, checker) | self.checkers,
            None if self.checkers.is_empty() => Bitboard::FULL,
            None => Bitboard::EMPTY,
        }
    }

    #[inline]
    pub(super) fn pin_allows(&self, board: &SearchBoard, from: Square, to: Square) -> bool {
        !self.pinned(board).contains(from) || attacks::aligned(from, to, self.king)
    }
}

impl SearchBoard {
    #[inline]
    pub(super) fn king_may_go(&self, bounds: &Bounds, to: Square) -> bool {
        let occupied = self.occupied() ^ Bitboard::from_square(bounds.king);
        self.attackers(to, !self.turn(), occupied).is_empty()
    }

    /// Legal en passant captures.
    #[inline]
    pub fn en_passant_captures(&self, bounds: &Bounds, list: &mut MoveList) {
        let Some(to) = self.en_passant() else {
            return;
        };
        let us = self.turn();
        let captured = Square::from_coords(to.file(), us.relative_rank(Rank::Fifth));
        for from in attacks::pawn_attacks(!us, to) & self.units(us, Role::Pawn) {
            let gone = Bitboard::from_square(from) | Bitboard::from_square(captured);
            let occupied = (self.occupied() ^ gone) | Bitboard::from_square(to);
            let checkers = self.attackers(bounds.king, !us, occupied) & !gone;
            if checkers.is_empty() {
                list.push(Move::en_passant(from, to));
            }
        }
    }

    /// Legal pushes to the last rank.
    #[inline]
    pub fn promotion_pushes(&self, bounds: &Bounds, promotions: Promotions, list: &mut MoveList) {
        let us = self.turn();
        let seventh = Bitboard::from_rank(us.relative_rank(Rank::Seventh));
        let ready = self.units(us, Role::Pawn) & seventh;
        if ready.is_empty() {
            return;
        }
        let landing = bounds.landing() & !self.occupied();
        for from in ready {
            let to = forward(us, from);
            if landing.contains(to) && bounds.pin_allows(self, from, to) {
                push_with_promotion(Move::new(Role::Pawn, from, to), promotions, list);
            }
        }
    }

    /// Every legal capture and promotion, the dearest unit first.
    pub fn forcing_moves(&self, bounds: &Bounds, promotions: Promotions, list: &mut MoveList) {
        self.captures(self.side(!self.turn()), bounds, promotions, list);
        self.en_passant_captures(bounds, list);
        self.promotion_pushes(bounds, promotions, list);
    }

    /// Every legal move.
    #[must_use]
    pub fn legal_moves(&self) -> MoveList {
        let bounds = Bounds::of(self, self.in_check());
        let mut list = MoveList::new();
        self.forcing_moves(&bounds, Promotions::Every, &mut list);
        self.quiet_moves(&bounds, &mut list);
        list
    }

    /// Whether the side to move has a legal move.
    #[must_use]
    pub fn can_move(&self, bounds: &Bounds) -> bool {
        let us = self.turn();
        if bounds.checkers.is_empty() {
            // An unpinned unit with somewhere to go settles it without making a list.
            let free = !bounds.pinned(self) & self.side(us);
            let forward_open = |from| !self.occupied().contains(forward(us, from));
            if (self.of_role(Role::Pawn) & free)
                .into_iter()
                .any(forward_open)
            {
                return true;
            }
            let elsewhere = !self.side(us);
            for role in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen] {
                for from in self.of_role(role) & free {
                    if (reach_of(role, from, self.occupied()) & elsewhere).any() {
                        return true;
                    }
                }
            }
        }
        !self.legal_moves().is_empty()
    }
}

/// The square in front of a pawn; pawns never stand on their last rank.
#[inline]
pub(super) fn forward(us: Color, from: Square) -> Square {
    match us {
        Color::White => Square::new(from as u32 + 8),
        Color::Black => Square::new(from as u32 - 8),
    }
}

/// Where a knight, bishop, rook or queen bears to.
#[inline]
pub(crate) fn reach_of(role: Role, from: Square, occupied: Bitboard) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => attacks::bishop_attacks(from, occupied),
        Role::Rook => attacks::rook_attacks(from, occupied),
        Role::Queen => attacks::queen_attacks(from, occupied),
        Role::Pawn | Role::King => Bitboard::EMPTY,
    }
}

#[inline]
pub(super) fn push_with_promotion(m: Move, promotions: Promotions, list: &mut MoveList) {
    if m.role() == Role::Pawn && Bitboard::BACKRANKS.contains(m.to()) {
        for role in promotions.roles() {
            list.push(m.promoting(*role));
        }
    } else {
        list.push(m);
    }
}
