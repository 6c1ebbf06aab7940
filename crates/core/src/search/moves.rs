//! Moves packed into one word.

use arrayvec::ArrayVec;
use shakmaty::{Role, Square};

/// A legal move. Castling is the king's move of two squares.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Move(u32);

/// No position has more legal moves than this, with as many queens as squares allow; the most
/// that the rules library knows a position to have, and makes room for.
pub(crate) const MOST_MOVES: usize = 270;

/// Legal moves, or some of them.
pub type MoveList = ArrayVec<Move, MOST_MOVES>;

const EN_PASSANT: u32 = 1 << 21;
const CASTLING: u32 = 1 << 22;

fn role_from(bits: u32) -> Option<Role> {
    Role::try_from(bits & 7).ok()
}

impl Move {
    #[inline]
    pub(super) fn new(role: Role, from: Square, to: Square) -> Move {
        Move(from as u32 | (to as u32) << 6 | (role as u32) << 12)
    }

    #[inline]
    pub(super) fn taking(self, captured: Role) -> Move {
        Move(self.0 | (captured as u32) << 15)
    }

    #[inline]
    pub(super) fn promoting(self, promotion: Role) -> Move {
        Move(self.0 | (promotion as u32) << 18)
    }

    #[inline]
    pub(super) fn en_passant(from: Square, to: Square) -> Move {
        Move(Move::new(Role::Pawn, from, to).taking(Role::Pawn).0 | EN_PASSANT)
    }

    #[inline]
    pub(super) fn castling(from: Square, to: Square) -> Move {
        Move(Move::new(Role::King, from, to).0 | CASTLING)
    }

    #[inline]
    pub(crate) const fn word(self) -> u32 {
        self.0
    }

    #[inline]
    pub(crate) const fn from_word(word: u32) -> Move {
        Move(word)
    }

    #[inline]
    #[must_use]
    pub fn from(self) -> Square {
        Square::new(self.0 & 63)
    }

    #[inline]
    #[must_use]
    pub fn to(self) -> Square {
        Square::new(self.0 >> 6 & 63)
    }

    /// The kind of unit that moves: the pawn, where it promotes.
    #[inline]
    #[must_use]
    pub fn role(self) -> Role {
        role_from(self.0 >> 12).expect("every move has a unit")
    }

    #[inline]
    #[must_use]
    pub fn capture(self) -> Option<Role> {
        role_from(self.0 >> 15)
    }

    #[inline]
    #[must_use]
    pub fn promotion(self) -> Option<Role> {
        role_from(self.0 >> 18)
    }

    #[inline]
    #[must_use]
    pub const fn is_en_passant(self) -> bool {
        self.0 & EN_PASSANT != 0
    }

    #[inline]
    #[must_use]
    pub const fn is_castling(self) -> bool {
        self.0 & CASTLING != 0
    }

    /// Neither a capture nor a promotion.
    #[inline]
    #[must_use]
    pub const fn is_quiet(self) -> bool {
        self.0 & (0o77 << 15) == 0
    }

    /// Where the captured unit stands: beside the target square en passant.
    #[inline]
    #[must_use]
    pub fn capture_square(self) -> Square {
        if self.is_en_passant() {
            Square::from_coords(self.to().file(), self.from().rank())
        } else {
            self.to()
        }
    }

    /// From and to of the rook that castles.
    #[must_use]
    pub fn rook_squares(self) -> (Square, Square) {
        let rank = self.from().rank();
        let (from, to) = if self.to().file() > self.from().file() {
            (shakmaty::File::H, shakmaty::File::F)
        } else {
            (shakmaty::File::A, shakmaty::File::D)
        };
        (
            Square::from_coords(from, rank),
            Square::from_coords(to, rank),
        )
    }

    /// UCI text, such as `e7e8q`.
    #[must_use]
    pub fn uci(self) -> String {
        let mut text = format!("{}{}", self.from(), self.to());
        if let Some(promotion) = self.promotion() {
            text.push(promotion.char());
        }
        text
    }
}

impl std::fmt::Debug for Move {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.uci())
    }
}

/// Which promotions to generate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Promotions {
    QueenOnly,
    Every,
}

const PROMOTIONS: [Role; 4] = [Role::Queen, Role::Knight, Role::Rook, Role::Bishop];

impl Promotions {
    #[inline]
    pub(super) fn roles(self) -> &'static [Role] {
        match self {
            Promotions::QueenOnly => &PROMOTIONS[..1],
            Promotions::Every => &PROMOTIONS,
        }
    }
}
