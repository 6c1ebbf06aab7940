//! Generation of captures, the dearest unit first.

use shakmaty::{Bitboard, Color, File, Role, Square, attacks};

use super::board::SearchBoard;
use super::generation::{Bounds, push_with_promotion};
use super::lines::{DIAGONALS, STRAIGHTS};
use super::moves::{Move, MoveList, Promotions};

/// Units worth taking, dearest first; the order captures are tried in.
pub const VICTIMS: [Role; 5] = [
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

impl SearchBoard {
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
