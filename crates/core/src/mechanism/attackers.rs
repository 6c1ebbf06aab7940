//! Names that follow from who attacks, who guards and what they are worth.

use shakmaty::{Bitboard, Role};

use super::boards::{bearers, falls};
use super::scene::{Scene, squares};
use crate::count;
use crate::search::SearchBoard;

/// Unguarded: no unit of the owner bears on the unit where it stands in the survey's position,
/// and it is taken there, or it is attacked there (in the survey's position, or after the
/// attacker's first move of the line) and taken where it then goes. Squares: the unit.
pub fn unguarded(scene: &Scene) -> Option<Bitboard> {
    scene.taking()?;
    let is_attacked = || {
        scene
            .early_boards()
            .any(|board| bearers(board, scene.unit, scene.attacker).any())
    };
    let guarded = bearers(&scene.start, scene.unit, scene.owner).any();
    (!guarded && (scene.is_taken_at_home() || is_attacked())).then(|| squares([scene.unit]))
}

/// Less valuable attacker: the taker is worth less than the unit, and is not a king. Squares: the
/// taker at the start, the unit.
pub fn less_valuable_attacker(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let taker = taking.by.role();
    (taker != Role::King && scene.worth(taker) < scene.worth(scene.role))
        .then(|| squares([taking.origin, scene.unit]))
}

/// Outnumbered: where the unit stands in the survey's position at least one unit guards it, more
/// units attack it than guard it (lines opened by captures count), and the exchange count there
/// gains: when it is taken there, or, if it is taken where it then goes, in the survey's position
/// or after the attacker's first move of the line. Squares: the unit, its attackers, its guards.
pub fn outnumbered(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    if scene.is_taken_at_home() {
        return outnumbered_on(scene, &taking.before);
    }
    scene
        .early_boards()
        .find_map(|board| outnumbered_on(scene, board))
}

fn outnumbered_on(scene: &Scene, board: &SearchBoard) -> Option<Bitboard> {
    let guards = count::guards(board, scene.unit, scene.owner);
    let attackers = count::guards(board, scene.unit, scene.attacker);
    let applies = guards.any()
        && attackers.count() > guards.count()
        && falls(board, scene.unit, scene.attacker, scene.values);
    applies.then(|| attackers | guards | squares([scene.unit]))
}

/// Desperado: the taker of the unit was itself attacked so that it would fall by the exchange
/// count where it stood, and it is taken after it has taken the unit. Squares: the taker where it
/// stood, the unit.
pub fn desperado(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let from = taking.by.from();
    let later = &scene.line[scene.capture + 1..];
    let taken = later
        .iter()
        .any(|played| played.taken == Some(taking.origin));
    (taken && falls(&taking.before, from, scene.owner, scene.values))
        .then(|| squares([from, scene.unit]))
}
