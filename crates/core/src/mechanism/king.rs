//! Names for the king: how the line mates it.

use shakmaty::{Bitboard, Square};

use super::boards::{as_seen, bears};
use super::guards::is_removed;
use super::mates::is_back_rank;
use super::overload::has_both;
use super::scene::{Played, Scene, squares};

/// Mate threat: the line ends in mate. Squares: the mating unit where it mates, the king.
pub fn mate_threat(scene: &Scene) -> Option<Bitboard> {
    let mate = scene.line.last()?;
    Some(squares([mate.by.to(), mate.after.king(scene.owner)]))
}

/// Back rank: the line ends in mate by a rook or queen along the owner's first rank, as for other
/// units. Squares: the mating square, the king.
pub fn back_rank(scene: &Scene) -> Option<Bitboard> {
    let mate = scene.line.last()?;
    is_back_rank(scene, &mate.after).then(|| squares([mate.by.to(), mate.after.king(scene.owner)]))
}

/// Overloaded guard: the line gives up a unit by a capture or promotion on a square that a guard
/// of the mating square has to guard too, and draws it there. Squares: the guard, the king, the
/// square that it is drawn to.
pub fn overloaded_guard(scene: &Scene) -> Option<Bitboard> {
    let mate = scene.line.last()?;
    let (index, reply) = given_up(scene).find(|&(index, reply)| {
        let offer = &scene.line[index];
        !offer.by.is_quiet()
            && has_both(scene, index, reply.by, mate.by.to())
            && !bears(&mate.before, reply.by.to()).contains(mate.by.to())
    })?;
    let second = scene.line[index].by.to();
    Some(squares([reply.by.from(), scene.unit, second]))
}

/// Removal of the guard: the line gives up a unit, and by that takes a unit of the owner that
/// bore on the mating square, or attacks it so that it moves off. Squares: the guard, the king.
pub fn removal_of_the_guard(scene: &Scene) -> Option<Bitboard> {
    let mate = scene.line.last()?;
    let to = mate.by.to();
    given_up(scene).next()?;
    let guard = as_seen(scene.start.side(scene.owner), scene.owner)
        .into_iter()
        .find(|&guard| {
            let now = scene.stands(guard, scene.line.len() - 1);
            let still = now.is_some_and(|now| bears(&mate.before, now).contains(to));
            guard != scene.unit
                && bears(&scene.start, guard).contains(to)
                && !still
                && is_removed(scene, guard)
        })?;
    Some(squares([guard, scene.unit]))
}

/// Each unit that the attacker lets be taken where it has just landed, with the owner's capture.
fn given_up<'s>(scene: &'s Scene) -> impl Iterator<Item = (usize, &'s Played)> {
    scene.attacks().filter_map(|(index, played)| {
        let to: Square = played.by.to();
        scene
            .reply(index)
            .filter(|reply| reply.takes_on(to))
            .map(|reply| (index, reply))
    })
}
