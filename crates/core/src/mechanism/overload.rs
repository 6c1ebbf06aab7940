//! A guard with two duties.

use shakmaty::{Bitboard, Role, Square};

use super::boards::{bearers, bears, falls, is_mated, ordered_moves};
use super::scene::{Scene, squares};
use crate::count;
use crate::search::{Move, SearchBoard};

/// Overloaded guard: a unit G of the owner guards the taking square and also a second square (a
/// unit of its side, a promotion square, or a square where the attacker would give mate), and
/// cannot do both: after G retakes the attacker wins on the second by its next move, with gain by
/// the exchange count or mate there; or in the line a capture or promotion on the second square
/// draws G there, and the unit is then taken and not retaken at once. Squares: G, the unit, the
/// second square.
pub fn overloaded_guard(scene: &Scene) -> Option<Bitboard> {
    let (guard, second) = drawn_off(scene).or_else(|| tied_down(scene))?;
    Some(squares([guard, scene.unit, second]))
}

/// The guard that the line draws to a second square, and that square.
fn drawn_off(scene: &Scene) -> Option<(Square, Square)> {
    let taking = scene.taking().filter(|_| !scene.is_retaken())?;
    scene.approach().find_map(|(index, played)| {
        let reply = scene.reply(index)?;
        let drawn = reply.origin != scene.unit && reply.takes_on(played.by.to());
        (drawn && !played.by.is_quiet() && has_both(scene, index, reply.by, taking.by.to()))
            .then(|| (reply.by.from(), played.by.to()))
    })
}

/// Whether the unit that retakes guarded, before the attacker's move, its square and another.
pub fn has_both(scene: &Scene, index: usize, retake: Move, other: Square) -> bool {
    let before = &scene.line[index].before;
    let guards = |square| count::guards(before, square, scene.owner).contains(retake.from());
    guards(retake.to()) && guards(other)
}

/// The guard that may not retake, and the square that it would give up.
fn tied_down(scene: &Scene) -> Option<(Square, Square)> {
    let taking = scene.taking()?;
    let board = &taking.after;
    let guards = bearers(board, taking.by.to(), scene.owner);
    ordered_moves(board)
        .into_iter()
        .filter(|m| m.to() == taking.by.to() && guards.contains(m.from()))
        .find_map(|retake| Some((retake.from(), given_up(scene, board, retake)?)))
}

/// The square that the retaking unit guarded and on which the attacker then wins.
fn given_up(scene: &Scene, board: &SearchBoard, retake: Move) -> Option<Square> {
    let after = board.after(retake, scene.values);
    let duties = bears(board, retake.from()).without(retake.to());
    let has_duty = |square| count::guards(board, square, scene.owner).contains(retake.from());
    let wins = |m: &Move| {
        let to = m.to();
        let next = after.after(*m, scene.values);
        if m.capture().is_some() && falls(&after, to, scene.attacker, scene.values) {
            return true;
        }
        let promotes = m.promotion() == Some(Role::Queen)
            && bearers(&next, to, scene.owner).is_empty()
            && m.capture().is_none();
        promotes || (is_mated(&next) && !mates_already(scene, board, *m))
    };
    ordered_moves(&after)
        .into_iter()
        .filter(|m| duties.contains(m.to()) && !m.is_en_passant() && has_duty(m.to()))
        .find(wins)
        .map(Move::to)
}

/// Whether a move would mate if the owner did not retake.
fn mates_already(scene: &Scene, board: &SearchBoard, m: Move) -> bool {
    let free = board.passed();
    free.legal_moves().contains(&m) && is_mated(&free.after(m, scene.values))
}
