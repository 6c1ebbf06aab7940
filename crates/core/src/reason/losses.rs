//! Reasons why the move itself loses something.

use shakmaty::{Bitboard, Square, attacks};

use super::refutation::{Loss, Refutation};
use super::seen_from;
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

/// The opponent promotes in the refutation and takes nothing by it, and nothing is lost that is
/// worth more. Squares: the pawn, where it promotes.
pub(super) fn a_pawn_promotes(fall: &Refutation) -> Option<Vec<Square>> {
    if fall.ends_in_mate {
        return None;
    }
    let square = fall.promotions.first()?;
    let mut stands = square;
    for m in fall.moves.iter().skip(1).rev() {
        if m.to() == stands && (stands != square || m.promotion().is_some()) {
            stands = m.from();
        }
    }
    Some(vec![stands, square])
}

/// The move closes a line of a threat, and what it put there is taken and lost. Squares: the
/// slider, the blocker, what the slider bears on.
pub(super) fn the_blocker_falls(fall: &Refutation) -> Option<Vec<Square>> {
    let segment = fall.aims.blocks?;
    fall.mover_falls()?;
    Some(vec![segment.slider, fall.played().to(), segment.target])
}

/// The unit that moved is taken and lost on its new square. Squares: what takes it, the new square.
pub(super) fn walks_into_a_capture(fall: &Refutation) -> Option<Vec<Square>> {
    let loss = fall.mover_falls()?;
    Some(vec![loss.taker.1, loss.stands])
}

/// A unit that was not attacked is lost, since the move took a guard from where it stands or from
/// where the reply lands, or opened a line of the opponent's to one of these or to the king; or
/// the opponent promotes where the move took a guard from the square. Squares: what is lost,
/// that square if it is another one, the guards that were or the units whose lines were opened.
pub(super) fn uncovers_another_unit(fall: &Refutation) -> Option<Vec<Square>> {
    let m = fall.played();
    let safe = |unit: Square| unit != m.from() && !fall.stake.attacked().contains(unit);
    let lost = (fall.losses.iter())
        .filter(|loss| safe(loss.unit))
        .map(|loss| (loss.stands, loss.on == loss.stands));
    let promoted = fall.promotions.into_iter().filter(|&square| safe(square));
    let promoted = promoted.map(|square| (square, true));
    lost.chain(promoted).find_map(|(lost, in_place)| {
        let landing = fall.reply().map(|reply| reply.to());
        let landing = landing.filter(|&to| to != lost && to != m.to());
        let king = fall.after().king(fall.us());
        let places = [in_place.then_some(lost), landing, Some(king)];
        places.into_iter().flatten().find_map(|square| {
            let units = if square == king {
                Bitboard::EMPTY
            } else {
                guards_gone(fall, square)
            };
            let units = if units.any() {
                units
            } else {
                lines_opened(fall, square)
            };
            let takes_part = (square != lost).then_some(square);
            units.any().then(|| {
                let seen = seen_from(fall.us(), units);
                [lost].into_iter().chain(takes_part).chain(seen).collect()
            })
        })
    })
}

/// Units, where they stand after the move, that guarded a square before it and no longer bear on
/// it.
fn guards_gone(fall: &Refutation, square: Square) -> Bitboard {
    let (us, after) = (fall.us(), fall.after());
    let still = count::guards(after, square, us) | after.attackers(square, us, after.occupied());
    let before = count::guards(fall.before(), square, us);
    let now = before.into_iter().map(|guard| fall.now_at(guard));
    now.fold(Bitboard::EMPTY, Bitboard::with).without(square) & !still
}

/// Sliders of the opponent that bear on a square after the move or the reply, through the square
/// that the move left.
fn lines_opened(fall: &Refutation, square: Square) -> Bitboard {
    let boards = fall.boards.iter().skip(1).take(2);
    boards
        .flat_map(|board| board.attackers(square, !fall.us(), board.occupied()))
        .filter(|&slider| attacks::between(slider, square).contains(fall.played().from()))
        .fold(Bitboard::EMPTY, Bitboard::with)
}

/// Two units or more are attacked at one time, so that each could be taken with gain by the
/// exchange count, the king in check among them, and one is lost. Either it was so before the
/// move, which has an aim and saves another of them; or a move of the opponent in the line
/// attacks one that it did not attack before. Not where the unit lost is the one that moved, and
/// it could be taken with gain at once. Squares: the one that is lost, the rest.
pub(super) fn two_units_attacked(fall: &Refutation) -> Option<Vec<Square>> {
    one_saved_of_two(fall).or_else(|| {
        let opponents = (1..fall.moves.len()).step_by(2);
        opponents
            .into_iter()
            .find_map(|at| attacked_at_one_time(fall, at))
    })
}

/// One that was attacked before the move falls, and the move saved another.
fn one_saved_of_two(fall: &Refutation) -> Option<Vec<Square>> {
    let (stake, m) = (fall.stake, fall.played());
    let attacked = stake.attacked();
    let loss = fall
        .losses
        .iter()
        .find(|loss| attacked.contains(loss.unit))?;
    let of_all = fall.aims.captures || fall.aims.blocks.is_some();
    let aimed_at = if of_all {
        stake.all.charged
    } else {
        stake.all.charged & (fall.aims.guards | Bitboard::from_square(m.from()))
    };
    let lost = fall.losses.iter().map(|loss| loss.unit);
    let lost = lost.fold(Bitboard::EMPTY, Bitboard::with);
    let saved = (aimed_at & attacked & fall.before().side(fall.us()) & !lost)
        .into_iter()
        .map(|unit| fall.now_at(unit))
        .filter(|&stands| !fall.at_once().contains(stands))
        .fold(Bitboard::EMPTY, Bitboard::with);
    (saved.any() && loss.unit != m.from()).then(|| {
        let mut squares = vec![loss.stands];
        squares.extend(seen_from(fall.us(), saved));
        squares
    })
}

/// The opponent's move at a place in the line attacks one more, and one of them is lost later.
fn attacked_at_one_time(fall: &Refutation, at: usize) -> Option<Vec<Square>> {
    let attacked = fall.attacked_after(at);
    let walked_into =
        |loss: &Loss| loss.unit == fall.played().from() && fall.at_once().contains(loss.stands);
    let later = |loss: &&Loss| loss.at > at && attacked.contains(loss.on) && !walked_into(loss);
    let loss = fall.losses.iter().find(later)?;
    (attacked.more_than_one() && fall.fresh_after(at).any()).then(|| {
        let mut squares = vec![loss.on];
        squares.extend(seen_from(fall.us(), attacked.without(loss.on)));
        squares
    })
}
