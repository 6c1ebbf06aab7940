//! Reasons why the move itself loses something.

use shakmaty::{Bitboard, Square};

use super::refutation::Refutation;
use super::seen_from;
use super::winnable::squares;
use crate::count;

/// The refutation ends in mate. Squares: the units that give it, the king.
pub(super) fn allows_mate(fall: &Refutation) -> Option<Vec<Square>> {
    if !fall.ends_in_mate {
        return None;
    }
    let last = fall.boards.last()?;
    let king = last.king(fall.us());
    let checkers = last.attackers(king, !fall.us(), last.occupied());
    let mut squares = seen_from(fall.us(), checkers);
    squares.push(king);
    Some(squares)
}

/// The move closes a line of a threat, and what it put there is taken and lost. Squares: the
/// slider, the blocker, what the slider bears on.
pub(super) fn the_blocker_falls(fall: &Refutation) -> Option<Vec<Square>> {
    let segment = fall.aims.blocks?;
    fall.mover_falls()?;
    Some(vec![segment.slider, fall.played().to(), segment.target])
}

/// The unit that moved is taken and lost on its new square, where it could be taken with gain at
/// once. Squares: what takes it, the new square.
pub(super) fn walks_into_a_capture(fall: &Refutation) -> Option<Vec<Square>> {
    let loss = fall.mover_falls()?;
    let at_once = loss.at == 1 || fall.at_once().contains(loss.stands);
    at_once.then(|| vec![loss.taker.1, loss.stands])
}

/// A unit that no threat charged is lost where it stands, or after the opponent's reply, since
/// the move took a guard from its square or from the one on which the reply lands, or opened a
/// line to it. Squares: the unit, that square if it is another one, the guards that were, or the
/// opponent's units whose lines were opened.
pub(super) fn uncovers_another_unit(fall: &Refutation) -> Option<Vec<Square>> {
    let m = fall.played();
    let others = fall
        .losses
        .iter()
        .filter(|loss| loss.unit != m.from() && !fall.stake.all.charged.contains(loss.unit));
    let reply = fall.reply().filter(|reply| reply.to() != m.to());
    for loss in others {
        let landing = reply.map(shakmaty_to).filter(|&to| to != loss.stands);
        let own = (loss.on == loss.stands).then_some(loss.stands);
        for square in own.into_iter().chain(landing) {
            let gone = guards_gone(fall, square);
            let opened = lines_opened(fall, square);
            let takers = if gone.any() { gone } else { opened };
            if takers.any() {
                let mut squares = vec![loss.stands];
                if square != loss.stands {
                    squares.push(square);
                }
                squares.extend(seen_from(fall.us(), takers));
                return Some(squares);
            }
        }
    }
    None
}

fn shakmaty_to(m: crate::search::Move) -> Square {
    m.to()
}

/// Units, where they stand after the move, that guarded a square before it and no longer do,
/// pins left aside.
fn guards_gone(fall: &Refutation, square: Square) -> Bitboard {
    let us = fall.us();
    let still = count::guards(fall.after(), square, us)
        | fall.after().attackers(square, us, fall.after().occupied());
    count::guards(fall.before(), square, us)
        .into_iter()
        .map(|guard| fall.now_at(guard))
        .filter(|guard| !still.contains(*guard) && *guard != square)
        .fold(Bitboard::EMPTY, Bitboard::with)
}

/// Units of the opponent that bear on a square after the move and did not before it.
fn lines_opened(fall: &Refutation, square: Square) -> Bitboard {
    let (before, after) = (fall.before(), fall.after());
    after.attackers(square, !fall.us(), after.occupied())
        & !before.attackers(square, !fall.us(), before.occupied())
}

/// Two or more units, the king in check among them, can be taken with gain at one time, and one
/// of them is lost: either already before the move, which saves another of them; or after the
/// opponent's reply, which attacks one that it had not. Squares: the one that is lost, the rest.
pub(super) fn two_units_attacked(fall: &Refutation) -> Option<Vec<Square>> {
    let mut after = squares(&fall.after_the_reply());
    let board = fall.boards.get(2)?;
    if board.in_check() {
        after.add(board.king(fall.us()));
    }
    let loss = fall
        .losses
        .iter()
        .find(|loss| loss.at > 1 && after.contains(loss.stands))?;
    let fresh = after & !fall.at_once();
    (after.more_than_one() && fresh.any()).then(|| {
        let mut squares = vec![loss.stands];
        squares.extend(seen_from(fall.us(), after.without(loss.stands)));
        squares
    })
}
