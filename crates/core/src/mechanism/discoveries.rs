//! Lines opened by the unit that leaves them.

use shakmaty::{Bitboard, Square, attacks};

use super::boards::{as_seen, bearers, bears, falls_to};
use super::scene::{Played, Scene, squares};
use crate::pins::sliders;

/// Discovered attack: a move of the attacker in the line with a unit M takes M off a line of the
/// attacker's own slider S, so that S now bears on the unit or on one worth more than M that would
/// fall to S by the exchange count; the unit is the one that S takes later, or that M takes by
/// that move or later while S's attack ties the owner down. A discovered check is also one of
/// these. Squares: M where it stood in the way, S, the unit.
pub fn discovered_attack(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    scene
        .attacks()
        .take_while(|&(index, _)| index <= scene.capture)
        .find_map(|(index, played)| {
            let (slider, _) = opened(scene, played).find(|&(slider, target)| {
                let unit = scene.stands(scene.unit, index);
                let slider_takes = index < scene.capture
                    && Some(target) == unit
                    && scene.stands(taking.origin, index) == Some(slider);
                let mover_takes =
                    taking.origin == played.origin && ties(scene, played, slider, target);
                slider_takes || mover_takes || played.after.king(scene.owner) == target
            })?;
            Some(squares([played.by.from(), slider, scene.unit]))
        })
}

/// Each slider of the attacker that a move opens a line for, and the unit it then bears on.
fn opened<'s>(scene: &'s Scene, played: &'s Played) -> impl Iterator<Item = (Square, Square)> + 's {
    let own = played.after.side(scene.attacker) & sliders(&played.after);
    as_seen(own.without(played.by.to()), scene.attacker)
        .into_iter()
        .flat_map(move |slider| {
            let new = bears(&played.after, slider) & !bears(&played.before, slider);
            as_seen(new & played.after.side(scene.owner), scene.attacker)
                .into_iter()
                .filter(move |&target| attacks::between(slider, target).contains(played.by.from()))
                .map(move |target| (slider, target))
        })
}

fn ties(scene: &Scene, played: &Played, slider: Square, target: Square) -> bool {
    let board = &played.after;
    board.king(scene.owner) == target
        || (scene.worth_on(board, target) > scene.worth(played.by.role())
            && falls_to(board, slider, target, scene.attacker, scene.values))
}

/// Discovered check: a move of the attacker in the line gives check by a unit that did not move,
/// before the unit is taken or by the move that takes it. Squares: the mover where it stood in
/// the way, the checker, the king.
pub fn discovered_check(scene: &Scene) -> Option<Bitboard> {
    scene
        .attacks()
        .take_while(|&(index, _)| index <= scene.capture)
        .find_map(|(_, played)| {
            let others = checkers(scene, played).without(played.by.to());
            let others = if played.by.is_castling() {
                others.without(played.by.rook_squares().1)
            } else {
                others
            };
            let checker = *as_seen(others, scene.attacker).first()?;
            let king = played.after.king(scene.owner);
            Some(squares([played.by.from(), checker, king]))
        })
}

/// Double check: a move of the attacker in the line gives check by two units at once. Squares:
/// both checkers, the king.
pub fn double_check(scene: &Scene) -> Option<Bitboard> {
    scene.attacks().find_map(|(_, played)| {
        let both = checkers(scene, played);
        both.more_than_one()
            .then(|| both.with(played.after.king(scene.owner)))
    })
}

fn checkers(scene: &Scene, played: &Played) -> Bitboard {
    bearers(
        &played.after,
        played.after.king(scene.owner),
        scene.attacker,
    )
}
