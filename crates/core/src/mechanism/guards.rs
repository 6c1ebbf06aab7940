//! Guards that are pinned, taken away, driven off or cut off.

use shakmaty::{Bitboard, Square, attacks};

use super::boards::{as_seen, bearers, bears, falls_to, ordered_pins};
use super::scene::{Played, Scene, squares};
use crate::pins::{Pin, sliders};

/// Pinned guard: when the unit is taken, a unit G of the owner bears on the taking square, but a
/// slider of the attacker pins G: to its king, so that retaking is illegal for that alone; or to a
/// unit worth at least as much as the taker that the slider could then take with gain, where G
/// does not retake in the line. Squares: the slider, G, what G is pinned to, the unit.
pub fn pinned_guard(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let guards = bearers(&taking.after, taking.by.to(), scene.owner);
    let pin = ordered_pins(&taking.after, scene.attacker)
        .into_iter()
        .filter(|pin| guards.contains(pin.pinned))
        .find(|pin| cannot_retake(scene, taking, pin))?;
    Some(squares([pin.slider, pin.pinned, pin.to, scene.unit]))
}

fn cannot_retake(scene: &Scene, taking: &Played, pin: &Pin) -> bool {
    let board = &taking.after;
    let to = taking.by.to();
    if board.king(scene.owner) == pin.to {
        let checkers = board.attackers(pin.to, scene.attacker, board.occupied());
        return !attacks::aligned(pin.to, pin.pinned, to) && checkers.without(to).is_empty();
    }
    let retakes_in_line = scene
        .reply(scene.capture)
        .is_some_and(|reply| reply.by.from() == pin.pinned && reply.takes_on(to));
    let dearer = scene.worth_on(board, pin.to) >= scene.worth_on(board, to);
    let retake = board
        .legal_moves()
        .into_iter()
        .find(|m| m.from() == pin.pinned && m.to() == to);
    !retakes_in_line
        && dearer
        && retake.is_some_and(|m| {
            let after = board.after(m, scene.values);
            falls_to(&after, pin.slider, pin.to, scene.attacker, scene.values)
        })
}

/// Removal of the guard: a unit G of the owner that bears on the unit in the survey's position no
/// longer does when the unit is taken, because an earlier move of the attacker in the line
/// captured G, or attacked G and G moved off, or because G moved off to take the unit that
/// the attacker had just moved. Squares: G where it stood, the unit.
pub fn removal_of_the_guard(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let taken_at = taking.by.capture_square();
    let guards = bearers(&scene.start, scene.unit, scene.owner);
    let removed = as_seen(guards, scene.owner).into_iter().find(|&guard| {
        let now = scene.stands(guard, scene.capture);
        let still = now.is_some_and(|now| bears(&taking.before, now).contains(taken_at));
        !still && is_removed(scene, guard)
    })?;
    Some(squares([removed, scene.unit]))
}

/// Whether the attacker took a guard, drove it off or drew it off before the unit was taken.
pub fn is_removed(scene: &Scene, guard: Square) -> bool {
    scene
        .approach()
        .any(|(index, played)| played.taken == Some(guard) || scene.sends_off(index, guard))
}

/// Interference: a move of the attacker in the line lands between the unit and a slider G of the
/// owner that guarded it, taking nothing there, and the unit is then taken where it is. Squares:
/// the square between, G, the unit.
pub fn interference(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let taken_at = taking.by.capture_square();
    scene
        .approach()
        .filter(|(index, played)| {
            played.by.capture().is_none() && scene.stands(scene.unit, *index) == Some(taken_at)
        })
        .find_map(|(_, played)| {
            let between = played.by.to();
            let guards = bearers(&played.before, taken_at, scene.owner) & sliders(&played.before);
            let cut_off = as_seen(guards, scene.owner)
                .into_iter()
                .find(|&guard| attacks::between(guard, taken_at).contains(between))?;
            Some(squares([between, cut_off, scene.unit]))
        })
}
