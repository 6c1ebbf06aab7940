//! A move put before the retake.

use shakmaty::{Bitboard, Role, Square};

use super::boards::{gain_on, mate_in_one};
use super::scene::{Played, Scene, squares};
use crate::search::SearchBoard;

/// In-between move: in the line, after a capture by the owner that the attacker could have
/// retaken at once, the attacker first makes another move that captures elsewhere, checks or
/// threatens more (mate, or more than stands to be retaken, by the exchange count), and by it or
/// later takes the unit and is not retaken at once; or retakes after all later on. Squares: that of the capture left standing,
/// that of the move in between.
pub fn in_between_move(scene: &Scene) -> Option<Bitboard> {
    scene.taking()?;
    let keeps = !scene.is_retaken();
    scene.attacks().find_map(|(index, played)| {
        let owners = scene.line[..index].last()?;
        let left = owners.by.to();
        let retakes_later =
            (scene.attacks()).any(|(later, played)| later > index && played.takes_on(left));
        if !(retakes_later || keeps && index <= scene.capture) {
            return None;
        }
        let puts_off = owners.by.capture().is_some()
            && owners.before.turn() == scene.owner
            && played.by.to() != left
            && can_take_on(&played.before, left);
        (puts_off && is_urgent(scene, played, left)).then(|| squares([left, played.by.to()]))
    })
}

fn can_take_on(board: &SearchBoard, square: Square) -> bool {
    board
        .legal_moves()
        .into_iter()
        .any(|m| m.capture().is_some() && m.to() == square)
}

fn is_urgent(scene: &Scene, played: &Played, left: Square) -> bool {
    if played.by.capture().is_some() || played.after.in_check() {
        return true;
    }
    let stake = scene.worth_on(&played.after, left);
    let threatens_more = (played.after.side(scene.owner) & !played.after.of_role(Role::King))
        .without(left)
        .into_iter()
        .any(|unit| gain_on(&played.after, unit, scene.attacker, scene.values) > stake);
    threatens_more || mate_in_one(&played.after, scene.attacker, scene.values).is_some()
}
