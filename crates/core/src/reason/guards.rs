//! Reasons why guarding does not help.

use shakmaty::{Bitboard, Role, Square, attacks};

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

/// When a unit is taken where the move left it, by something worth as much or more, another bears
/// on it but is pinned by a slider and does not take back: pinned to its king, or to a unit that
/// the slider would take for at least what the taker is worth. The move added a guard to the unit
/// that is lost, or put it there, or the pin was not there before the move. Squares: the slider,
/// the guard, what it is pinned to, the lost unit.
pub(super) fn guard_pinned(fall: &Refutation) -> Option<Vec<Square>> {
    let us = fall.us();
    // En passant the taker lands elsewhere, out of reach of what guarded the pawn.
    let in_place = fall
        .losses
        .iter()
        .filter(|loss| loss.on == loss.stands && !fall.moves[loss.at].is_en_passant());
    in_place.into_iter().find_map(|loss| {
        let found = pins(&fall.boards[loss.at + 1], !us);
        let binding: Vec<Pin> = found
            .into_iter()
            .filter(|pin| is_why(fall, loss, pin) && holds_back(fall, loss, pin))
            .collect();
        let guards = binding
            .iter()
            .fold(Bitboard::EMPTY, |all, pin| all.with(pin.pinned));
        let first = seen_from(us, guards).first().copied()?;
        let pin = binding.iter().find(|pin| pin.pinned == first)?;
        Some(vec![pin.slider, pin.pinned, pin.to, loss.stands])
    })
}

/// Whether a pin keeps a unit from taking back.
fn holds_back(fall: &Refutation, loss: &Loss, pin: &Pin) -> bool {
    let (us, board) = (fall.us(), &fall.boards[loss.at + 1]);
    let worth = |square| board.role_at(square).map_or(0, |role| fall.values.of(role));
    let taker = fall.values.of(loss.taker.0);
    let takes_back =
        (fall.moves.get(loss.at + 1)).is_some_and(|m| m.from() == pin.pinned && m.to() == loss.on);
    let guarded = count::guards(board, pin.to, us).without(pin.pinned).any();
    let costs = worth(pin.to) - if guarded { worth(pin.slider) } else { 0 };
    let binds = pin.to == board.king(us) || costs >= taker;
    let bears = board
        .attackers(loss.on, us, board.occupied())
        .contains(pin.pinned);
    let along = attacks::aligned(pin.slider, pin.pinned, loss.on);
    bears && binds && !along && !takes_back
}

/// Whether taking back would have been enough, and a pin bears on this move.
fn is_why(fall: &Refutation, loss: &Loss, pin: &Pin) -> bool {
    let worth = |role| fall.values.of(role);
    let enough = loss.taker.0 != Role::King && worth(loss.taker.0) >= worth(loss.role);
    let tried = fall.aims.guards.contains(loss.unit) || loss.unit == fall.played().from();
    let same = |old: &Pin| (old.pinned, old.to) == (pin.pinned, pin.to);
    enough && (tried || !pins(fall.before(), !fall.us()).iter().any(same))
}
