//! The pawns in front of a king, and what bears on the squares beside it.

use shakmaty::{Bitboard, Color, File, Role, attacks};

use super::feature::{RING_PAIRS, RING_WEAK, SAFE_CHECKS, SHELTER, STORM};
use super::ground::{Attacked, rank_for};
use super::tally::Tally;
use crate::search::SearchBoard;

/// The king's file and the two beside it; at the edge of the board, the three nearest files.
fn files_of_shelter(file: File) -> [File; 3] {
    let middle = u32::from(file).clamp(1, 6);
    [middle - 1, middle, middle + 1].map(File::new)
}

#[inline(always)]
pub(super) fn count(board: &SearchBoard, side: Color, attacked: &Attacked, tally: &mut impl Tally) {
    pawns(board, side, tally);
    pressure(board, side, attacked, tally);
}

#[inline(always)]
fn pawns(board: &SearchBoard, side: Color, tally: &mut impl Tally) {
    let king = board.king(side);
    let king_rank = rank_for(side, king);
    let nearest = |pawns: Bitboard| {
        pawns
            .into_iter()
            .map(|pawn| rank_for(side, pawn) - king_rank)
            .filter(|&steps| steps > 0)
            .min()
    };
    for file in files_of_shelter(king.file()) {
        let pawns = board.of_role(Role::Pawn) & Bitboard::from_file(file);
        let (own, theirs) = (pawns & board.side(side), pawns & board.side(!side));
        match nearest(own) {
            Some(1) => tally.add(side, SHELTER, 0, 1),
            Some(2) => tally.add(side, SHELTER, 1, 1),
            _ if own.is_empty() => tally.add(side, SHELTER, 2, 1),
            _ => {}
        }
        if pawns.is_empty() {
            tally.add(side, SHELTER, 3, 1);
        }
        if let Some(steps @ 1..=3) = nearest(theirs) {
            tally.add(side, STORM, steps as usize - 1, 1);
        }
    }
}

#[inline(always)]
fn pressure(board: &SearchBoard, side: Color, attacked: &Attacked, tally: &mut impl Tally) {
    let (us, them) = (side as usize, !side as usize);
    let attackers = attacked.ring_attackers[them];
    tally.add(side, RING_PAIRS, 0, attackers * (attackers - 1) / 2);
    let weak = attacked.by_king[us] & attacked.by_unit[them] & !attacked.by_unit[us];
    tally.add(side, RING_WEAK, 0, weak.count() as i32);

    let king = board.king(side);
    let occupied = board.occupied();
    let diagonal = attacks::bishop_attacks(king, occupied);
    let straight = attacks::rook_attacks(king, occupied);
    // The other side may land there: neither its own unit nor a guard of ours is in the way.
    let landing = !board.side(!side) & !attacked.by_unit[us] & !attacked.by_king[us];
    let knights = board.units(!side, Role::Knight);
    let knight_reach = attacks::knight_attacks(king) & landing;
    let knight_checks = knight_reach
        .into_iter()
        .filter(|&square| (attacks::knight_attacks(square) & knights).any());
    tally.add(side, SAFE_CHECKS, 0, knight_checks.count() as i32);
    let bishop_checks = diagonal & landing & attacked.by_minor[them];
    let by_bishop = bishop_checks.into_iter().filter(|&square| {
        (attacks::bishop_attacks(square, occupied) & board.units(!side, Role::Bishop)).any()
    });
    tally.add(side, SAFE_CHECKS, 1, by_bishop.count() as i32);
    let rook_checks = straight & landing & attacked.by_rook[them];
    tally.add(side, SAFE_CHECKS, 2, rook_checks.count() as i32);
    let queen_checks = (diagonal | straight) & landing & attacked.by_queen[them];
    tally.add(side, SAFE_CHECKS, 3, queen_checks.count() as i32);
}
