//! Where the pieces can go, and on the way what they attack.

use shakmaty::{Bitboard, Color, File, Rank, Role, Square, attacks};

use super::feature::{BISHOP_PAWNS, CRAMPED, MOVES, RING, ROOM};
use super::ground::Attacked;
use super::tally::Tally;
use crate::search::SearchBoard;

/// A piece with fewer squares than this is cramped.
const ENOUGH: i32 = 4;

#[inline]
pub(super) fn reach(role: Role, from: Square, occupied: Bitboard) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => attacks::bishop_attacks(from, occupied),
        Role::Rook => attacks::rook_attacks(from, occupied),
        _ => attacks::queen_attacks(from, occupied),
    }
}

#[inline(always)]
pub(super) fn count(
    board: &SearchBoard,
    side: Color,
    attacked: &mut Attacked,
    tally: &mut impl Tally,
) {
    let occupied = board.occupied();
    let own_pawns = board.units(side, Role::Pawn);
    let shut = own_pawns | board.units(side, Role::King) | attacked.by_pawn[!side as usize];
    let ring = attacked.by_king[!side as usize];
    for (member, role) in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen]
        .into_iter()
        .enumerate()
    {
        for from in board.units(side, role) {
            let reach = reach(role, from, occupied);
            attacked.add(side, role, reach);
            let squares = (reach & !shut).count() as i32;
            tally.add(side, MOVES, member, squares);
            tally.add(side, CRAMPED, member, (ENOUGH - squares).max(0));
            let near_king = reach & ring;
            if near_king.any() {
                attacked.ring_attackers[side as usize] += 1;
                tally.add(!side, RING, member, near_king.count() as i32);
            }
            if role == Role::Bishop {
                let colour = if from.is_light() {
                    Bitboard::LIGHT_SQUARES
                } else {
                    Bitboard::DARK_SQUARES
                };
                tally.add(side, BISHOP_PAWNS, 0, (own_pawns & colour).count() as i32);
            }
        }
    }
    room(board, side, attacked, tally);
}

/// Squares on the c- to f-file, from the second rank to the fourth, that are free of own pawns
/// and of attacks by pawns.
#[inline(always)]
fn room(board: &SearchBoard, side: Color, attacked: &Attacked, tally: &mut impl Tally) {
    let files = [File::C, File::D, File::E, File::F]
        .into_iter()
        .fold(Bitboard::EMPTY, |all, file| all | Bitboard::from_file(file));
    let ranks = [Rank::Second, Rank::Third, Rank::Fourth]
        .into_iter()
        .fold(Bitboard::EMPTY, |all, rank| {
            all | Bitboard::from_rank(side.relative_rank(rank))
        });
    let own_pawns = board.units(side, Role::Pawn);
    let free = files & ranks & !own_pawns & !attacked.by_pawn[!side as usize];
    tally.add(side, ROOM, 0, free.count() as i32);
}
