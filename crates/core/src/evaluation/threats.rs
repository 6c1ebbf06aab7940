//! Units attacked by something worth less, or attacked and not guarded.

use shakmaty::{Bitboard, Color, Role};

use super::feature::{BY_LESSER, BY_PAWN, TO_MOVE, UNGUARDED};
use super::ground::Attacked;
use super::tally::Tally;
use crate::search::SearchBoard;

#[inline(always)]
pub(super) fn count(board: &SearchBoard, side: Color, attacked: &Attacked, tally: &mut impl Tally) {
    let (us, them) = (side as usize, !side as usize);
    let theirs = |role| board.units(!side, role);
    let minors = theirs(Role::Knight) | theirs(Role::Bishop);
    let (rooks, queens) = (theirs(Role::Rook), theirs(Role::Queen));
    let mut hits = |family, member, units: Bitboard| {
        tally.add(side, family, member, units.count() as i32);
    };
    hits(BY_PAWN, 0, minors & attacked.by_pawn[us]);
    hits(BY_PAWN, 1, rooks & attacked.by_pawn[us]);
    hits(BY_PAWN, 2, queens & attacked.by_pawn[us]);
    hits(BY_LESSER, 0, rooks & attacked.by_minor[us]);
    hits(BY_LESSER, 1, queens & attacked.by_minor[us]);
    hits(BY_LESSER, 2, queens & attacked.by_rook[us]);
    let loose = (attacked.by_unit[us] | attacked.by_king[us])
        & !attacked.by_unit[them]
        & !attacked.by_king[them];
    hits(UNGUARDED, 0, theirs(Role::Pawn) & loose);
    hits(UNGUARDED, 1, minors & loose);
    hits(UNGUARDED, 2, rooks & loose);
    hits(UNGUARDED, 3, queens & loose);
    if board.turn() == side {
        tally.add(side, TO_MOVE, 0, 1);
    }
}
