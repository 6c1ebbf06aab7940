//! Reasons why the threat goes on: a counterattack that is no answer, or no answer at all.

use shakmaty::Square;

use super::refutation::Refutation;
use super::seen_from;
use super::winnable::squares;
use crate::count;
use crate::threat::THRESHOLD;

/// The reply makes a threat of its own: a check, or an attack on something that the opponent
/// could not take with gain before. To a move that attacks in turn, on something worth more than
/// what that attacks, and what was in danger falls; to any other move with an aim, of whatever
/// worth, and the reply itself takes nothing with gain by the exchange count. Squares: where the
/// reply lands, what it attacks. Not where the refutation ends in mate.
pub(super) fn answered_with_a_bigger_threat(fall: &Refutation) -> Option<Vec<Square>> {
    let reply = fall.reply()?;
    let attacks = &fall.counterattack.attacks;
    let threatened = attacks.iter().map(|unit| unit.gain).max().unwrap_or(0);
    let in_turn = fall.counterattack.any() && fall.still_falls();
    let takes =
        reply.capture().is_some() && count::exchange(fall.after(), reply, fall.values) >= THRESHOLD;
    if fall.ends_in_mate || (!in_turn && (takes || !fall.aims.any())) {
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

/// The move attacks in turn and does not fall to a capture itself, the reply is no bigger threat,
/// and what was in danger falls: the check comes to nothing, or what is attacked wins less.
/// Squares: the unit that moved, what it attacks, what falls.
pub(super) fn threat_too_small(fall: &Refutation) -> Option<Vec<Square>> {
    if !fall.counterattack.any() || !fall.still_falls() || fall.mover_falls().is_some() {
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

/// The move has no aim, and what was in danger falls as before or is not taken back, or the reply
/// is the first move of a real threat; or it does something, but nothing for one that was in danger
/// and is lost where it stands; or, where nothing was in danger, a unit falls that could be
/// taken with gain before by the exchange count and was safe by tactics alone, which the move does
/// nothing to keep. Squares: what falls, or else what that threat put in danger.
pub(super) fn does_not_address_it(fall: &Refutation) -> Option<Vec<Square>> {
    let stake = fall.stake;
    let tries = fall.tries();
    if stake.pressing {
        if tries {
            let left = fall.in_danger_as_before();
            return left.any().then(|| seen_from(fall.us(), left));
        }
        let falls = fall.falls_as_before() || stake.to_retake.is_some();
        return if falls {
            Some(fall.what_still_falls())
        } else {
            fall.what_the_reply_threatened()
        };
    }
    let left = fall
        .taken_in_place()
        .find(|loss| stake.exposed.contains(loss.unit))?;
    Some(vec![left.stands])
}
