//! Reasons why the threat goes on: a counterattack that is no answer, or no answer at all.

use shakmaty::Square;

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

/// The reply takes nothing that was in danger but makes a threat of its own, a check or an attack
/// on something that could not be taken with gain before it: on a move that attacks in turn, on
/// something worth more than what that attacks; on any other with an aim, of whatever worth.
/// Squares: where the reply lands, what it attacks.
pub(super) fn answered_with_a_bigger_threat(fall: &Refutation) -> Option<Vec<Square>> {
    let reply = fall.reply()?;
    let attacks = &fall.counterattack.attacks;
    let threatened = attacks.iter().map(|unit| unit.gain).max().unwrap_or(0);
    if !fall.aims.any() && !(fall.counterattack.any() && still_falls(fall)) {
        return None;
    }
    let fresh = fall.fresh_after(1);
    let (_, units) = fall.threatened_after(1);
    let smaller = units.iter().filter(|unit| unit.gain <= threatened);
    let bigger = fresh & !squares(smaller);
    bigger.any().then(|| {
        let mut squares = vec![reply.to()];
        squares.extend(seen_from(fall.us(), bigger));
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

/// The move has no aim, and what was in danger falls as before or is not taken back; or, where
/// nothing was in danger, a unit falls that could be taken with gain before by the exchange count
/// and was safe by tactics alone, which the move does nothing to keep. Squares: what falls.
pub(super) fn does_not_address_it(fall: &Refutation) -> Option<Vec<Square>> {
    let stake = fall.stake;
    let tries = fall.aims.any() || fall.counterattack.any();
    let replied = |reply| stake.firsts.contains(&reply);
    let goes_on =
        still_falls(fall) || stake.to_retake.is_some() || fall.reply().is_some_and(replied);
    if stake.pressing {
        return (!tries && goes_on).then(|| fall.what_still_falls());
    }
    let left = fall
        .taken_in_place()
        .find(|loss| stake.exposed.contains(loss.unit))?;
    Some(vec![left.stands])
}
