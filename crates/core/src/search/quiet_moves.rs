//! Generation of the moves that neither capture nor promote.

use shakmaty::{Bitboard, File, Rank, Role, Square, attacks};

use super::board::SearchBoard;
use super::checks::Checks;
use super::generation::{Bounds, forward, reach_of};
use super::lines::lines_of;
use super::moves::{Move, MoveList};

impl SearchBoard {
    /// Every legal move that neither captures nor promotes, castling included.
    pub fn quiet_moves(&self, bounds: &Bounds, list: &mut MoveList) {
        self.quiet_moves_to(bounds, |_, _| Bitboard::FULL, list);
    }

    /// Every legal quiet move that gives check.
    pub fn quiet_checks(&self, bounds: &Bounds, checks: &Checks, list: &mut MoveList) {
        let start = list.len();
        let may_check = |role: Role, from: Square| {
            if checks.discoverers.contains(from) {
                Bitboard::FULL
            } else {
                checks.by_role[role as usize - 1]
            }
        };
        self.quiet_moves_to(bounds, may_check, list);
        let mut kept = start;
        for i in start..list.len() {
            if checks.given_by(list[i], self) {
                list[kept] = list[i];
                kept += 1;
            }
        }
        list.truncate(kept);
    }

    /// Legal quiet moves to the squares that `wanted` gives for a unit and where it stands;
    /// castling whatever is wanted.
    #[inline]
    fn quiet_moves_to(
        &self,
        bounds: &Bounds,
        wanted: impl Fn(Role, Square) -> Bitboard,
        list: &mut MoveList,
    ) {
        let us = self.turn();
        let occupied = self.occupied();
        let landing = bounds.landing() & !occupied;
        if landing.any() {
            self.quiet_pawn_moves(bounds, landing, &wanted, list);
            for role in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen] {
                for from in self.units(us, role) {
                    let landing = landing & wanted(role, from);
                    // The lines of an empty board are cheaper to look up, and often settle it.
                    if (lines_of(role, from) & landing).is_empty() {
                        continue;
                    }
                    for to in reach_of(role, from, occupied) & landing {
                        if bounds.pin_allows(self, from, to) {
                            list.push(Move::new(role, from, to));
                        }
                    }
                }
            }
        }
        let steps = attacks::king_attacks(bounds.king) & !occupied;
        for to in steps & wanted(Role::King, bounds.king) {
            if self.king_may_go(bounds, to) {
                list.push(Move::new(Role::King, bounds.king, to));
            }
        }
        if bounds.checkers.is_empty() && self.castling().any() {
            self.castling_moves(bounds, list);
        }
    }

    #[inline]
    fn quiet_pawn_moves(
        &self,
        bounds: &Bounds,
        landing: Bitboard,
        wanted: &impl Fn(Role, Square) -> Bitboard,
        list: &mut MoveList,
    ) {
        let us = self.turn();
        let seventh = Bitboard::from_rank(us.relative_rank(Rank::Seventh));
        let second = Bitboard::from_rank(us.relative_rank(Rank::Second));
        for from in self.units(us, Role::Pawn) & !seventh {
            let one = forward(us, from);
            if self.occupied().contains(one) {
                continue;
            }
            let landing = landing & wanted(Role::Pawn, from);
            if landing.contains(one) && bounds.pin_allows(self, from, one) {
                list.push(Move::new(Role::Pawn, from, one));
            }
            if second.contains(from) {
                let two = forward(us, one);
                if landing.contains(two) && bounds.pin_allows(self, from, two) {
                    list.push(Move::new(Role::Pawn, from, two));
                }
            }
        }
    }

    fn castling_moves(&self, bounds: &Bounds, list: &mut MoveList) {
        let us = self.turn();
        let home = Bitboard::from_rank(us.backrank());
        for rook in self.castling() & home & self.units(us, Role::Rook) {
            if (attacks::between(bounds.king, rook) & self.occupied()).any() {
                continue;
            }
            let file = if rook > bounds.king { File::G } else { File::C };
            let to = Square::from_coords(file, us.backrank());
            let path = attacks::between(bounds.king, to) | Bitboard::from_square(to);
            let safe = path
                .into_iter()
                .all(|square| self.attackers(square, !us, self.occupied()).is_empty());
            if safe {
                list.push(Move::castling(bounds.king, to));
            }
        }
    }
}
