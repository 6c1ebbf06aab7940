//! Rooks on open files, on the seventh rank and behind passed pawns.

use shakmaty::{Bitboard, Color, Rank, Role};

use super::feature::ROOKS;
use super::ground::FILE_AHEAD;
use super::tally::Tally;
use crate::search::SearchBoard;

const OPEN: usize = 0;
const HALF_OPEN: usize = 1;
const SEVENTH: usize = 2;
const BEHIND_PASSED: usize = 3;

#[inline(always)]
pub(super) fn count(board: &SearchBoard, side: Color, passed: Bitboard, tally: &mut impl Tally) {
    let pawns = board.of_role(Role::Pawn);
    let seventh = Bitboard::from_rank(side.relative_rank(Rank::Seventh));
    for rook in board.units(side, Role::Rook) {
        let on_file = pawns & Bitboard::from_file(rook.file());
        if on_file.is_empty() {
            tally.add(side, ROOKS, OPEN, 1);
        } else if (on_file & board.side(side)).is_empty() {
            tally.add(side, ROOKS, HALF_OPEN, 1);
        }
        if seventh.contains(rook) {
            tally.add(side, ROOKS, SEVENTH, 1);
        }
        if (FILE_AHEAD[side as usize][rook as usize] & passed).any() {
            tally.add(side, ROOKS, BEHIND_PASSED, 1);
        }
    }
}
