//! What bounds the side to move, and generation of its captures and promotions.

use std::cell::OnceCell;

use arrayvec::ArrayVec;
use shakmaty::{Bitboard, Color, File, Rank, Role, Square, attacks};

use super::board::{DIAGONALS, STRAIGHTS, SearchBoard};
use super::moves::{Move, MoveList};

/// What bounds the side to move: its king, who checks it, which of its units are pinned.
#[derive(Debug, Clone)]
pub struct Bounds {
    pub(super) king: Square,
    pub(super) checkers: Bitboard,
    /// Found when first asked for: most nodes never need it.
    pinned: OnceCell<Bitboard>,
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
            pinned: OnceCell::new(),
        }
    }

    #[inline]
    fn pinned(&self, board: &SearchBoard) -> Bitboard {
        let us = board.turn();
        *self
            .pinned
            .get_or_init(|| board.blockers(self.king, !us, us))
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

/// Units that can take, cheapest first, each with where it stands and what it may take.
#[derive(Debug, Default)]
pub struct Takers {
    units: ArrayVec<(Role, Square, Bitboard), 16>,
    takes: Bitboard,
}

impl Takers {
    #[inline]
    fn add(&mut self, role: Role, from: Square, takes: Bitboard) {
        if takes.any() {
            self.units.push((role, from, takes));
            self.takes |= takes;
        }
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
    fn roles(self) -> &'static [Role] {
        match self {
            Promotions::QueenOnly => &PROMOTIONS[..1],
            Promotions::Every => &PROMOTIONS,
        }
    }
}

/// Units worth taking, dearest first; the order captures are tried in.
pub const VICTIMS: [Role; 5] = [
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

impl SearchBoard {
    #[inline]
    pub(super) fn king_may_go(&self, bounds: &Bounds, to: Square) -> bool {
        let occupied = self.occupied() ^ Bitboard::from_square(bounds.king);
        self.attackers(to, !self.turn(), occupied).is_empty()
    }

    /// Legal captures, unit by unit, of the opponent's units on `targets`; en passant left out.
    #[inline]
    pub fn takers(&self, targets: Bitboard, bounds: &Bounds, takers: &mut Takers) {
        let us = self.turn();
        let occupied = self.occupied();
        let open = targets & bounds.landing();
        if open.any() {
            for role in &Role::ALL[..5] {
                let units = match role {
                    Role::Pawn => self.units(us, Role::Pawn) & pawns_onto(us, open),
                    role => self.units(us, *role),
                };
                for from in units {
                    let bears = match role {
                        Role::Pawn => attacks::pawn_attacks(us, from),
                        role if (lines_of(*role, from) & open).is_empty() => continue,
                        role => reach_of(*role, from, occupied),
                    };
                    let mut takes = bears & open;
                    if takes.any() {
                        if bounds.pinned(self).contains(from) {
                            takes &= attacks::ray(bounds.king, from);
                        }
                        takers.add(*role, from, takes);
                    }
                }
            }
        }
        let near = attacks::king_attacks(bounds.king) & targets;
        let legal = near
            .into_iter()
            .filter(|&to| self.king_may_go(bounds, to))
            .fold(Bitboard::EMPTY, |squares, to| squares.with(to));
        takers.add(Role::King, bounds.king, legal);
    }

    /// The captures of units of one kind, the least valuable taker first.
    #[inline]
    pub fn captures_of(
        &self,
        victim: Role,
        takers: &Takers,
        promotions: Promotions,
        list: &mut MoveList,
    ) {
        let victims = self.of_role(victim) & takers.takes;
        if victims.is_empty() {
            return;
        }
        for (role, from, takes) in &takers.units {
            for to in *takes & victims {
                push_with_promotion(Move::new(*role, *from, to).taking(victim), promotions, list);
            }
        }
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
        let mut takers = Takers::default();
        self.takers(self.side(!self.turn()), bounds, &mut takers);
        for victim in VICTIMS {
            self.captures_of(victim, &takers, promotions, list);
        }
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

/// Where a pawn would stand to take on one of these squares.
#[inline]
fn pawns_onto(us: Color, squares: Bitboard) -> Bitboard {
    let (left, right) = (
        squares & !Bitboard::from_file(File::A),
        squares & !Bitboard::from_file(File::H),
    );
    match us {
        Color::White => left.shift(-9) | right.shift(-7),
        Color::Black => left.shift(7) | right.shift(9),
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

/// Where a knight, bishop, rook or queen would bear to on an empty board.
#[inline]
fn lines_of(role: Role, from: Square) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => DIAGONALS[from as usize],
        Role::Rook => STRAIGHTS[from as usize],
        _ => DIAGONALS[from as usize] | STRAIGHTS[from as usize],
    }
}

/// Where a knight, bishop, rook or queen bears to.
#[inline]
pub(super) fn reach_of(role: Role, from: Square, occupied: Bitboard) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => attacks::bishop_attacks(from, occupied),
        Role::Rook => attacks::rook_attacks(from, occupied),
        Role::Queen => attacks::queen_attacks(from, occupied),
        Role::Pawn | Role::King => Bitboard::EMPTY,
    }
}

#[inline]
fn push_with_promotion(m: Move, promotions: Promotions, list: &mut MoveList) {
    if m.role() == Role::Pawn && Bitboard::BACKRANKS.contains(m.to()) {
        for role in promotions.roles() {
            list.push(m.promoting(*role));
        }
    } else {
        list.push(m);
    }
}
