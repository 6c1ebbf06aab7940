//! Reasons why the threat goes on: a counterattack that is no answer, or no answer at all.

use shakmaty::{Bitboard, Square};

use super::refutation::Refutation;
use super::seen_from;
use super::winnable::squares;

/// Whether something that was charged before the move is lost after it.
fn still_falls(fall: &Refutation) -> bool {
    let charged = fall.stake.all.charged;
    fall.ends_in_mate
        || (fall.promotions & charged).any()
        || fall.losses.iter().any(|loss| charged.contains(loss.unit))
}

/// The move attacks in turn, and the reply gives check or attacks more than the move did, by the
/// exchange count; then something falls that was in danger before. Squares: where the reply
/// lands, what it attacks.
pub(super) fn answered_with_a_bigger_threat(fall: &Refutation) -> Option<Vec<Square>> {
    let reply = fall.reply()?;
    if !fall.counterattack.any() || !still_falls(fall) {
        return None;
    }
    let board = fall.boards.get(2)?;
    let mut attacked = Bitboard::EMPTY;
    if board.in_check() {
        attacked.add(board.king(fall.us()));
    }
    let threatened = fall
        .counterattack
        .attacks
        .iter()
        .map(|unit| unit.gain)
        .max()
        .unwrap_or(0);
    let fresh = fall.after_the_reply();
    let fresh = fresh
        .iter()
        .filter(|unit| unit.gain > threatened && !fall.at_once().contains(unit.square));
    attacked |= squares(&fresh.copied().collect::<Vec<_>>());
    attacked.any().then(|| {
        let mut squares = vec![reply.to()];
        squares.extend(seen_from(fall.us(), attacked));
        squares
    })
}

/// The move attacks in turn, the reply does not answer with a bigger threat, and what was in
/// danger falls: the check comes to nothing, or what is attacked is worth less than what is lost.
/// Squares: the unit that moved, what it attacks, what falls.
pub(super) fn threat_too_small(fall: &Refutation) -> Option<Vec<Square>> {
    if !fall.counterattack.any() || !still_falls(fall) {
        return None;
    }
    if answered_with_a_bigger_threat(fall).is_some() {
        return None;
    }
    let mut attacked = squares(&fall.counterattack.attacks);
    if fall.counterattack.checks {
        attacked.add(fall.after().king(!fall.us()));
    }
    let mut squares = vec![fall.played().to()];
    squares.extend(seen_from(fall.us(), attacked));
    squares.extend(fall.what_still_falls());
    Some(squares)
}

/// The move has no aim and what was in danger falls as before, or is not taken back. Squares:
/// what falls.
pub(super) fn does_not_address_it(fall: &Refutation) -> Option<Vec<Square>> {
    let goes_on = still_falls(fall)
        || fall.stake.to_retake.is_some()
        || fall
            .reply()
            .is_some_and(|reply| fall.stake.firsts.contains(&reply));
    let tries = fall.aims.any() || fall.counterattack.any();
    (fall.stake.pressing && !tries && goes_on).then(|| fall.what_still_falls())
}
