//! Why a unit falls, named from the proof line and the geometry. Each name is defined once, here.

use shakmaty::{Role, Square};

use crate::count;
use crate::replay::Replay;
use crate::search::SearchBoard;
use crate::threat::THRESHOLD;
use crate::values::Values;

/// The names of why a unit falls. `start` is the board the line begins on, its `attacker`'s
/// opponent owning the unit on `square`, which `replay` takes.
#[must_use]
pub fn mechanisms(
    start: &SearchBoard,
    square: Square,
    replay: &Replay,
    taken_on: Square,
    values: &Values,
) -> Vec<&'static str> {
    let Some(role) = start.role_at(square) else {
        return Vec::new();
    };
    let mut names = Vec::new();
    if taken_on == square && is_unguarded(start, square) {
        names.push("unguarded");
    }
    if falls_to_less(role, square, replay, values) {
        names.push("less valuable attacker");
    }
    if taken_on == square && is_outnumbered(start, square, values) {
        names.push("outnumbered");
    }
    names
}

/// Nothing of its own side bears on it.
fn is_unguarded(start: &SearchBoard, square: Square) -> bool {
    let owner = owner(start, square);
    start.attackers(square, owner, start.occupied()).is_empty()
}

/// What takes it is worth less than it is.
fn falls_to_less(role: Role, square: Square, replay: &Replay, values: &Values) -> bool {
    replay.taken_by.iter().any(|&(taken, taker)| {
        taken == square && taker != Role::King && values.of(taker) < values.of(role)
    })
}

/// It is guarded, but by fewer units than attack it, and the exchange count loses it.
fn is_outnumbered(start: &SearchBoard, square: Square, values: &Values) -> bool {
    let owner = owner(start, square);
    let (guards, attackers) = count::totals(start, square, owner);
    let attack = if start.turn() == owner {
        start.passed()
    } else {
        *start
    };
    guards > 0
        && attackers > guards
        && count::best_exchange(&attack, square, values).is_some_and(|(gain, _)| gain >= THRESHOLD)
}

fn owner(start: &SearchBoard, square: Square) -> shakmaty::Color {
    if start.side(shakmaty::Color::White).contains(square) {
        shakmaty::Color::White
    } else {
        shakmaty::Color::Black
    }
}
