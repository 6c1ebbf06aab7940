//! Material, where the units stand, and the pair of bishops.

use shakmaty::{Bitboard, Color, Role, Square};

use super::feature::{ADVANCE, BISHOP_PAIR, CENTRE_PAWN, FILE, HUNT, MATERIAL, OUTPOST, RANK};
use super::ground::{Attacked, FILE_AHEAD, FILES_AHEAD, rank_for};
use super::tally::Tally;
use crate::search::SearchBoard;

/// -3, -1, 1 or 3, from the edge to the middle.
const fn nearness_to_middle(line: i32) -> i32 {
    let from_edge = if line < 4 { line } else { 7 - line };
    2 * from_edge - 3
}

#[inline(always)]
pub(super) fn count(board: &SearchBoard, side: Color, attacked: &Attacked, tally: &mut impl Tally) {
    for role in Role::ALL {
        let units = board.units(side, role);
        if role != Role::King {
            tally.add(side, MATERIAL, role as usize - 1, units.count() as i32);
        }
        let (mut file, mut rank, mut advance) = (0, 0, 0);
        for square in units {
            let steps = rank_for(side, square);
            file += nearness_to_middle(i32::from(square.file()));
            rank += nearness_to_middle(steps);
            advance += 2 * steps - 7;
        }
        tally.add(side, FILE, role as usize - 1, file);
        tally.add(side, RANK, role as usize - 1, rank);
        tally.add(side, ADVANCE, role as usize - 1, advance);
    }
    let centre_pawns = board.units(side, Role::Pawn) & Bitboard::CENTER;
    tally.add(side, CENTRE_PAWN, 0, centre_pawns.count() as i32);
    if board.units(side, Role::Bishop).more_than_one() {
        tally.add(side, BISHOP_PAIR, 0, 1);
    }
    for (member, role) in [Role::Knight, Role::Bishop].into_iter().enumerate() {
        let outposts = (board.units(side, role) & attacked.by_pawn[side as usize])
            .into_iter()
            .filter(|&square| is_outpost(board, side, square));
        tally.add(side, OUTPOST, member, outposts.count() as i32);
    }
    if !board.side(!side).more_than_one() {
        let distance = board.king(side).distance(board.king(!side));
        tally.add(side, HUNT, 0, 7 - distance as i32);
    }
}

/// Whether a square lies on the fifth to seventh rank where no pawn can attack it any more.
fn is_outpost(board: &SearchBoard, side: Color, square: Square) -> bool {
    let beside =
        FILES_AHEAD[side as usize][square as usize] & !FILE_AHEAD[side as usize][square as usize];
    (4..7).contains(&rank_for(side, square)) && (beside & board.units(!side, Role::Pawn)).is_empty()
}
