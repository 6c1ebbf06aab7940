//! What bounds the side to move, and generation of its captures and promotions.

use std::cell::Cell;

use shakmaty::{Bitboard, Color, File, Rank, Role, Square, attacks};

use super::board::SearchBoard;
use super::lines::{DIAGONALS, STRAIGHTS};
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
    fn pinned(&self, board: &SearchBoard) -> Bitboard {
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

    /// Legal captures of the opponent's units on `targets`: the dearest unit first, the least
    /// valuable taker first; en passant left out.
    #[inline]
    pub fn captures(
        &self,
        targets: Bitboard,
        bounds: &Bounds,
        promotions: Promotions,
        list: &mut MoveList,
    ) {
        let start = list.len();
        let open = targets & bounds.landing();
        if open.any() {
            self.pawn_captures(open, bounds, promotions, list);
            let us = self.turn();
            let occupied = self.occupied();
            for from in self.units(us, Role::Knight) {
                let takes = attacks::knight_attacks(from) & open;
                self.push_captures(Role::Knight, from, takes, bounds, list);
            }
            // The lines of an empty board are cheaper to look up, and often settle it.
            for from in self.units(us, Role::Bishop) {
                if (DIAGONALS[from as usize] & open).any() {
                    let takes = attacks::bishop_attacks(from, occupied) & open;
                    self.push_captures(Role::Bishop, from, takes, bounds, list);
                }
            }
            for from in self.units(us, Role::Rook) {
                if (STRAIGHTS[from as usize] & open).any() {
                    let takes = attacks::rook_attacks(from, occupied) & open;
                    self.push_captures(Role::Rook, from, takes, bounds, list);
                }
            }
            for from in self.units(us, Role::Queen) {
                let mut takes = Bitboard::EMPTY;
                if (DIAGONALS[from as usize] & open).any() {
                    takes |= attacks::bishop_attacks(from, occupied) & open;
                }
                if (STRAIGHTS[from as usize] & open).any() {
                    takes |= attacks::rook_attacks(from, occupied) & open;
                }
                self.push_captures(Role::Queen, from, takes, bounds, list);
            }
        }
        for to in attacks::king_attacks(bounds.king) & targets {
            if self.king_may_go(bounds, to) {
                list.push(Move::new(Role::King, bounds.king, to).taking(self.victim_on(to)));
            }
        }
        dearest_first(&mut list[start..]);
    }

    #[inline]
    fn pawn_captures(
        &self,
        open: Bitboard,
        bounds: &Bounds,
        promotions: Promotions,
        list: &mut MoveList,
    ) {
        let us = self.turn();
        for from in self.units(us, Role::Pawn) & pawns_onto(us, open) {
            for to in attacks::pawn_attacks(us, from) & open {
                if bounds.pin_allows(self, from, to) {
                    let m = Move::new(Role::Pawn, from, to).taking(self.victim_on(to));
                    push_with_promotion(m, promotions, list);
                }
            }
        }
    }

    /// Adds the captures of one piece, those that leave its king on a pin left out.
    #[inline(always)]
    fn push_captures(
        &self,
        role: Role,
        from: Square,
        mut takes: Bitboard,
        bounds: &Bounds,
        list: &mut MoveList,
    ) {
        if takes.is_empty() {
            return;
        }
        if bounds.pinned(self).contains(from) {
            takes &= attacks::ray(bounds.king, from);
        }
        for to in takes {
            list.push(Move::new(role, from, to).taking(self.victim_on(to)));
        }
    }

    /// The kind of unit on a square that holds one other than a king.
    #[inline]
    fn victim_on(&self, square: Square) -> Role {
        // Sums instead of tests, since which it is cannot be foretold.
        let at = |role: Role| (u64::from(self.of_role(role)) >> square as u32 & 1) as u32;
        let index =
            at(Role::Knight) + 2 * at(Role::Bishop) + 3 * at(Role::Rook) + 4 * at(Role::Queen);
        Role::ALL[index as usize]
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

/// Orders captures by what they take; a plain insertion, since there are few and the order of
/// takers must stay.
#[inline]
fn dearest_first(captures: &mut [Move]) {
    for next in 1..captures.len() {
        let m = captures[next];
        let mut at = next;
        while at > 0 && captures[at - 1].capture() < m.capture() {
            captures[at] = captures[at - 1];
            at -= 1;
        }
        captures[at] = m;
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
fn push_with_promotion(m: Move, promotions: Promotions, list: &mut MoveList) {
    if m.role() == Role::Pawn && Bitboard::BACKRANKS.contains(m.to()) {
        for role in promotions.roles() {
            list.push(m.promoting(*role));
        }
    } else {
        list.push(m);
    }
}
