//! Reasons why guarding does not help.

use shakmaty::{Role, Square};

use super::refutation::{Loss, Refutation};
use super::seen_from;
use crate::count;
use crate::pins::{Pin, pins};
use crate::threat::THRESHOLD;

/// The move guards a charged unit, and that unit is taken where it stands by a unit worth less
/// than it, no king. Squares: the taker, the unit.
pub(super) fn less_valuable_attacker(fall: &Refutation) -> Option<Vec<Square>> {
    let loss = fall.taken_in_place().find(|loss| {
        let taker = loss.taker.0;
        fall.aims.guards.contains(loss.unit)
            && taker != Role::King
            && fall.values.of(taker) < fall.values.of(loss.role)
    })?;
    Some(vec![loss.taker.1, loss.stands])
}

/// The move guards a charged unit or takes one of those that carry out the threat; the unit is
/// taken where it stands; and after the move more units attack it than guard it, x-rays counted
/// and pinned units left out, so that the exchange count takes it with gain. Squares: the unit,
/// its attackers, its guards.
pub(super) fn outnumbered_still(fall: &Refutation) -> Option<Vec<Square>> {
    let (us, after) = (fall.us(), fall.after());
    fall.taken_in_place().find_map(|loss| {
        let tried = fall.aims.guards.contains(loss.unit) || fall.aims.captures;
        if !tried || !fall.stake.all.charged.contains(loss.unit) {
            return None;
        }
        let attackers = count::guards(after, loss.stands, !us);
        let guards = count::guards(after, loss.stands, us);
        let gains = count::best_exchange(after, loss.stands, fall.values)
            .is_some_and(|(gain, _)| gain >= THRESHOLD);
        (attackers.count() > guards.count() && gains).then(|| {
            let mut squares = vec![loss.stands];
            squares.extend(seen_from(us, attackers));
            squares.extend(seen_from(us, guards));
            squares
        })
    })
}

/// A unit bears on the square where another is taken by something worth as much or more, but a
/// slider pins it to its king, or to a unit that the slider would take with gain, and it does not
/// take back; and the move added a guard there, or put the lost unit there, or let the pin be.
/// Squares: the slider, the guard, what it is pinned to, the lost unit.
pub(super) fn guard_pinned(fall: &Refutation) -> Option<Vec<Square>> {
    let fresh_or_old = pins(fall.after(), !fall.us());
    fall.losses
        .iter()
        .filter(|loss| loss.on == loss.stands)
        .find_map(|loss| {
            let pin = fresh_or_old
                .iter()
                .filter(|pin| holds_off(fall, loss, pin))
                .min_by_key(|pin| {
                    seen_from(fall.us(), pin.pinned.into())
                        .first()
                        .map(|s| *s as u8)
                })?;
            Some(vec![pin.slider, pin.pinned, pin.to, loss.stands])
        })
}

/// Whether a pin keeps a guard from taking back where a unit was lost, and is why the move falls.
fn holds_off(fall: &Refutation, loss: &Loss, pin: &Pin) -> bool {
    let (us, after) = (fall.us(), fall.after());
    let worth = |role| fall.values.of(role);
    let role = |square| after.role_at(square).unwrap_or(Role::Pawn);
    let bears = after
        .attackers(loss.on, us, after.occupied())
        .contains(pin.pinned);
    let along = shakmaty::attacks::aligned(pin.slider, pin.pinned, loss.on);
    let would_do = loss.taker.0 != Role::King && worth(loss.taker.0) >= worth(loss.role);
    let takes_back = fall
        .moves
        .get(loss.at + 1)
        .is_some_and(|m| m.from() == pin.pinned && m.to() == loss.on);
    let binds = match role(pin.to) {
        Role::King => true,
        dear => worth(dear) > worth(role(pin.slider)),
    };
    let tried = fall.aims.guards.contains(loss.unit) || loss.unit == fall.played().from();
    let new = || {
        let known =
            |old: &Pin| (old.slider, old.pinned, old.to) == (pin.slider, pin.pinned, pin.to);
        !pins(fall.before(), !us).iter().any(known)
    };
    bears && !along && would_do && !takes_back && binds && (tried || new())
}
