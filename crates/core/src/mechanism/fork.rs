//! One unit that attacks several.

use shakmaty::{Bitboard, Role, Square};

use super::boards::{bearers, bears, falls_to};
use super::scene::Scene;
use crate::search::SearchBoard;

/// Fork: one unit F of the attacker attacks two or more units of the owner at one time, the one
/// that falls among them, after a move of F in the line, or already in the survey's position.
/// Each of them is the king, or is worth more than F, or would fall to F by the exchange count.
/// F takes the unit by a later move (the first one, if the fork is there already). A king forks
/// what nothing guards but other units that it attacks, and not pawns alone. Squares: F where it
/// forks, the forked units.
pub fn fork(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    if scene.approach().next().is_none() {
        return forks(scene, &scene.start, taking.by.from(), scene.unit);
    }
    scene
        .approach()
        .filter(|(_, played)| played.origin == taking.origin)
        .find_map(|(index, played)| {
            let unit = scene.stands(scene.unit, index)?;
            forks(scene, &played.after, played.by.to(), unit)
        })
}

fn forks(scene: &Scene, board: &SearchBoard, forker: Square, unit: Square) -> Option<Bitboard> {
    let attacked = bears(board, forker) & board.side(scene.owner);
    let forked: Bitboard = attacked
        .into_iter()
        .filter(|&square| is_forked(scene, board, forker, square, attacked))
        .collect();
    let pawns_alone = board.role_at(forker) == Some(Role::King)
        && (forked & !board.of_role(Role::Pawn)).is_empty();
    (forked.contains(unit) && forked.more_than_one() && !pawns_alone).then(|| forked.with(forker))
}

fn is_forked(
    scene: &Scene,
    board: &SearchBoard,
    forker: Square,
    square: Square,
    attacked: Bitboard,
) -> bool {
    if board.role_at(forker) == Some(Role::King) {
        return (bearers(board, square, scene.owner) & !attacked).is_empty();
    }
    board.king(scene.owner) == square
        || scene.worth_on(board, square) > scene.worth_on(board, forker)
        || falls_to(board, forker, square, scene.attacker, scene.values)
}
