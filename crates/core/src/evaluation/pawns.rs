//! How the pawns stand to each other, and the passed pawns.

use shakmaty::{Bitboard, Color, Role, Square, attacks};

use super::feature::{PASSED, PASSED_MORE, PAWN_FAULTS, PAWN_MERITS};
use super::ground::{Attacked, FILE_AHEAD, FILES_AHEAD, files_beside, rank_for};
use super::tally::Tally;
use crate::search::SearchBoard;

const DOUBLED: usize = 0;
const ISOLATED: usize = 1;
const BACKWARD: usize = 2;

const GUARDED: usize = 0;
const BESIDE: usize = 1;
const LEVER: usize = 2;

const STOPPED: usize = 1;
const FREE: usize = 2;
const KING_RACE: usize = 3;

/// Counts the pawns of a side, and finds its passed pawns.
#[inline(always)]
pub(super) fn count(
    board: &SearchBoard,
    side: Color,
    attacked: &Attacked,
    tally: &mut impl Tally,
) -> Bitboard {
    let own = board.units(side, Role::Pawn);
    let theirs = board.units(!side, Role::Pawn);
    let mut passed = Bitboard::EMPTY;
    for pawn in own {
        let files_ahead = FILES_AHEAD[side as usize][pawn as usize];
        let doubled = (FILE_AHEAD[side as usize][pawn as usize] & own).any();
        let neighbours = own & files_beside(pawn.file());
        let guarded = (attacks::pawn_attacks(!side, pawn) & own).any();
        if doubled {
            tally.add(side, PAWN_FAULTS, DOUBLED, 1);
        }
        if neighbours.is_empty() {
            tally.add(side, PAWN_FAULTS, ISOLATED, 1);
        } else if (neighbours & !files_ahead).is_empty() && is_held_back(side, pawn, attacked) {
            tally.add(side, PAWN_FAULTS, BACKWARD, 1);
        }
        if guarded {
            tally.add(side, PAWN_MERITS, GUARDED, 1);
        }
        if (neighbours & Bitboard::from_rank(pawn.rank())).any() {
            tally.add(side, PAWN_MERITS, BESIDE, 1);
        }
        if (attacks::pawn_attacks(side, pawn) & theirs).any() {
            tally.add(side, PAWN_MERITS, LEVER, 1);
        }
        if !doubled && (files_ahead & theirs).is_empty() {
            passed.add(pawn);
            count_passed(board, side, pawn, attacked, tally);
            if guarded {
                tally.add(side, PASSED_MORE, GUARDED, rank_for(side, pawn));
            }
        }
    }
    passed
}

fn step(side: Color, pawn: Square) -> Square {
    match side {
        Color::White => Square::new(pawn as u32 + 8),
        Color::Black => Square::new(pawn as u32 - 8),
    }
}

/// Whether a pawn's next square is attacked by a pawn of the other side.
#[inline]
fn is_held_back(side: Color, pawn: Square, attacked: &Attacked) -> bool {
    attacked.by_pawn[!side as usize].contains(step(side, pawn))
}

#[inline(always)]
fn count_passed(
    board: &SearchBoard,
    side: Color,
    pawn: Square,
    attacked: &Attacked,
    tally: &mut impl Tally,
) {
    let steps = rank_for(side, pawn);
    tally.add(side, PASSED, steps as usize - 1, 1);
    let next = step(side, pawn);
    let theirs = !side as usize;
    if board.side(!side).contains(next) {
        tally.add(side, PASSED_MORE, STOPPED, steps);
    }
    let barred = board.occupied() | attacked.by_unit[theirs] | attacked.by_king[theirs];
    if (FILE_AHEAD[side as usize][pawn as usize] & barred).is_empty() {
        tally.add(side, PASSED_MORE, FREE, steps);
    }
    let race = board.king(!side).distance(next) as i32 - board.king(side).distance(next) as i32;
    tally.add(side, PASSED_MORE, KING_RACE, race * steps);
}
