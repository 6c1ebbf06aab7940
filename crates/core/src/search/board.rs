//! The board the search plays on: bitboards with a running hash and material balance.
//!
//! The rules library stays the judge of legality at the edges (see `rules`); this board exists
//! because the search asks for captures, checks and quiet moves one kind at a time, millions of
//! times a second. A test compares its moves with the rules library's on thousands of positions.

use shakmaty::{
    Bitboard, Chess, Color, Piece, Position, Role, Square, attacks,
    zobrist::{Zobrist64, ZobristValue},
};

use super::lines::{DIAGONALS, STRAIGHTS};
use super::moves::Move;
use crate::values::Values;

/// A position as the search sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SearchBoard {
    roles: [Bitboard; 6],
    colors: [Bitboard; 2],
    hash: u64,
    /// White's material minus Black's, in centipawns.
    balance: i32,
    turn: Color,
    /// Squares of the rooks that may still castle.
    castling: Bitboard,
    en_passant: Option<Square>,
}

fn piece_key(color: Color, role: Role, square: Square) -> u64 {
    Zobrist64::zobrist_for_piece(square, Piece { color, role }).0
}

fn en_passant_key(square: Option<Square>) -> u64 {
    square.map_or(0, |square| {
        Zobrist64::zobrist_for_en_passant_file(square.file()).0
    })
}

fn castling_key(castling: Bitboard) -> u64 {
    // Four corners at most; an odd multiplier spreads them over the word.
    castling
        .0
        .wrapping_mul(0x9e37_79b9_7f4a_7c15)
        .rotate_left(29)
}

impl SearchBoard {
    /// The board of a legal position, its balance counted with `values`.
    #[must_use]
    pub fn new(position: &Chess, values: &Values) -> SearchBoard {
        let board = position.board();
        let mut search_board = SearchBoard {
            roles: Role::ALL.map(|role| board.by_role(role)),
            colors: [board.white(), board.black()],
            hash: 0,
            balance: 0,
            turn: position.turn(),
            castling: position.castles().castling_rights(),
            en_passant: position.pseudo_legal_ep_square(),
        };
        for (square, piece) in board {
            search_board.hash ^= piece_key(piece.color, piece.role, square);
        }
        search_board.hash ^=
            castling_key(search_board.castling) ^ en_passant_key(search_board.en_passant);
        if search_board.turn.is_white() {
            search_board.hash ^= Zobrist64::zobrist_for_white_turn().0;
        }
        search_board.balance = values.balance(&search_board, Color::White);
        search_board
    }

    #[inline]
    #[must_use]
    pub const fn turn(&self) -> Color {
        self.turn
    }

    #[inline]
    pub(crate) const fn hash(&self) -> u64 {
        self.hash
    }

    #[inline]
    pub(crate) const fn en_passant(&self) -> Option<Square> {
        self.en_passant
    }

    #[inline]
    pub(crate) const fn castling(&self) -> Bitboard {
        self.castling
    }

    /// The balance in centipawns from the view of `side`.
    #[inline]
    #[must_use]
    pub const fn balance(&self, side: Color) -> i32 {
        match side {
            Color::White => self.balance,
            Color::Black => -self.balance,
        }
    }

    #[inline]
    #[must_use]
    pub const fn side(&self, color: Color) -> Bitboard {
        self.colors[match color {
            Color::White => 0,
            Color::Black => 1,
        }]
    }

    #[inline]
    fn side_mut(&mut self, color: Color) -> &mut Bitboard {
        &mut self.colors[match color {
            Color::White => 0,
            Color::Black => 1,
        }]
    }

    #[inline]
    #[must_use]
    pub const fn of_role(&self, role: Role) -> Bitboard {
        self.roles[role as usize - 1]
    }

    #[inline]
    #[must_use]
    pub fn units(&self, color: Color, role: Role) -> Bitboard {
        self.side(color) & self.of_role(role)
    }

    #[inline]
    #[must_use]
    pub fn occupied(&self) -> Bitboard {
        self.colors[0] | self.colors[1]
    }

    #[inline]
    pub(crate) fn diagonal_sliders(&self) -> Bitboard {
        self.of_role(Role::Bishop) | self.of_role(Role::Queen)
    }

    #[inline]
    pub(crate) fn straight_sliders(&self) -> Bitboard {
        self.of_role(Role::Rook) | self.of_role(Role::Queen)
    }

    /// The kind of unit on a square.
    #[inline]
    #[must_use]
    pub fn role_at(&self, square: Square) -> Option<Role> {
        if !self.occupied().contains(square) {
            return None;
        }
        Role::ALL
            .into_iter()
            .find(|&role| self.of_role(role).contains(square))
    }

    /// The square of a side's king; every position here has both.
    #[inline]
    #[must_use]
    pub fn king(&self, color: Color) -> Square {
        self.units(color, Role::King)
            .first()
            .expect("a legal position has both kings")
    }

    /// The units of `by` that bear on `square` when `occupied` squares block sliders.
    #[inline]
    #[must_use]
    pub fn attackers(&self, square: Square, by: Color, occupied: Bitboard) -> Bitboard {
        let units = self.side(by);
        let mut found = (attacks::pawn_attacks(!by, square) & self.of_role(Role::Pawn))
            | (attacks::knight_attacks(square) & self.of_role(Role::Knight))
            | (attacks::king_attacks(square) & self.of_role(Role::King));
        // The lines of an empty board are cheaper to look up, and often settle it.
        let diagonal = units & self.diagonal_sliders();
        if (DIAGONALS[square as usize] & diagonal).any() {
            found |= attacks::bishop_attacks(square, occupied) & diagonal;
        }
        let straight = units & self.straight_sliders();
        if (STRAIGHTS[square as usize] & straight).any() {
            found |= attacks::rook_attacks(square, occupied) & straight;
        }
        found & units
    }

    /// Whether the side to move is in check.
    #[inline]
    #[must_use]
    pub fn in_check(&self) -> bool {
        self.attackers(self.king(self.turn), !self.turn, self.occupied())
            .any()
    }

    /// The units of `blocker_side` that alone stand between a slider of `by` and `target`.
    #[inline]
    pub(crate) fn blockers(&self, target: Square, by: Color, blocker_side: Color) -> Bitboard {
        let occupied = self.occupied();
        let snipers = self.side(by)
            & ((STRAIGHTS[target as usize] & self.straight_sliders())
                | (DIAGONALS[target as usize] & self.diagonal_sliders()));
        let mut blockers = Bitboard::EMPTY;
        for sniper in snipers {
            let between = attacks::between(target, sniper) & occupied;
            if !between.more_than_one() {
                blockers |= between;
            }
        }
        blockers & self.side(blocker_side)
    }

    #[inline]
    fn lift(&mut self, color: Color, role: Role, square: Square) {
        let mask = Bitboard::from_square(square);
        self.roles[role as usize - 1] ^= mask;
        *self.side_mut(color) ^= mask;
        self.hash ^= piece_key(color, role, square);
    }

    #[inline]
    fn credit(&mut self, color: Color, centipawns: i32) {
        self.balance += match color {
            Color::White => centipawns,
            Color::Black => -centipawns,
        };
    }

    /// The board after a legal move.
    #[inline]
    #[must_use]
    pub fn after(&self, m: Move, values: &Values) -> SearchBoard {
        let mut next = *self;
        let us = self.turn;
        let (from, to) = (m.from(), m.to());
        next.hash ^= en_passant_key(self.en_passant);
        next.en_passant = None;
        if let Some(captured) = m.capture() {
            next.lift(!us, captured, m.capture_square());
            next.credit(us, values.of(captured));
        }
        next.lift(us, m.role(), from);
        match m.promotion() {
            Some(promotion) => {
                next.lift(us, promotion, to);
                next.credit(us, values.of(promotion) - values.of(Role::Pawn));
            }
            None => next.lift(us, m.role(), to),
        }
        if m.is_castling() {
            let (rook_from, rook_to) = m.rook_squares();
            next.lift(us, Role::Rook, rook_from);
            next.lift(us, Role::Rook, rook_to);
        }
        if next.castling.any() {
            let mut lost = Bitboard::from_square(from) | Bitboard::from_square(to);
            if m.role() == Role::King {
                lost |= Bitboard::from_rank(us.backrank());
            }
            if (next.castling & lost).any() {
                next.hash ^= castling_key(next.castling);
                next.castling &= !lost;
                next.hash ^= castling_key(next.castling);
            }
        }
        if m.role() == Role::Pawn && (from as u8).abs_diff(to as u8) == 16 {
            let passed = Square::new((from as u32 + to as u32) / 2);
            if (attacks::pawn_attacks(us, passed) & next.units(!us, Role::Pawn)).any() {
                next.en_passant = Some(passed);
                next.hash ^= en_passant_key(next.en_passant);
            }
        }
        next.turn = !us;
        next.hash ^= Zobrist64::zobrist_for_white_turn().0;
        next
    }

    /// The board after the side to move has passed; en passant rights lapse.
    #[must_use]
    pub fn passed(&self) -> SearchBoard {
        let mut next = *self;
        next.hash ^= en_passant_key(self.en_passant) ^ Zobrist64::zobrist_for_white_turn().0;
        next.en_passant = None;
        next.turn = !self.turn;
        next
    }
}
