//! A slider with two units of the owner on one line before it.

use shakmaty::{Bitboard, Color, Role, Square, attacks};

use super::boards::{bears, ordered_pins};
use super::scene::{Scene, squares};
use crate::pins::Pin;
use crate::search::SearchBoard;

/// Pin: the unit is pinned by a slider of the attacker when it is attacked: the king or a unit
/// worth more stands behind it on the same line and nothing else between, and but for that it
/// could leave the line; and the unit is taken there, by any unit. Squares: the slider, the unit,
/// what it is pinned to.
pub fn pin(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let taken_at = taking.by.capture_square();
    let attacked = scene
        .approach()
        .last()
        .map_or(&scene.start, |(_, played)| &played.after);
    let pin = [&taking.before, attacked]
        .into_iter()
        .find_map(|board| pin_of(scene, board, taken_at))?;
    Some(squares([pin.slider, scene.unit, pin.to]))
}

/// The pin of the unit on a square, to the king before others.
fn pin_of(scene: &Scene, board: &SearchBoard, square: Square) -> Option<Pin> {
    let king = board.king(scene.owner);
    ordered_pins(board, scene.attacker)
        .into_iter()
        .filter(|pin| pin.pinned == square)
        .filter(|pin| pin.to == king || scene.worth_on(board, pin.to) > scene.worth(scene.role))
        .filter(|pin| could_leave(board, pin, scene.owner))
        .max_by_key(|pin| (pin.to == king, scene.worth_on(board, pin.to)))
}

/// Whether a unit could move off the line on which it is pinned, were it not for the pin.
fn could_leave(board: &SearchBoard, pin: &Pin, owner: Color) -> bool {
    let to = if board.role_at(pin.pinned) == Some(Role::Pawn) {
        pawn_moves(board, pin.pinned, owner)
    } else {
        bears(board, pin.pinned) & !board.side(owner)
    };
    to.into_iter()
        .any(|square| !attacks::aligned(pin.slider, pin.pinned, square))
}

/// Where a pawn could go: what it could take, en passant included, and the step before it.
fn pawn_moves(board: &SearchBoard, pawn: Square, owner: Color) -> Bitboard {
    let passing = board.en_passant().filter(|_| board.turn() == owner);
    let taken = board.side(!owner) | Bitboard::from_iter(passing);
    let step = pawn.offset(if owner.is_white() { 8 } else { -8 });
    let step = Bitboard::from_iter(step) & !board.occupied();
    bears(board, pawn) & taken | step
}

/// Skewer: a slider of the attacker attacks a unit X of the owner (the king, or worth at least as
/// much as the unit) with the unit behind it on the same line and nothing else between; in the
/// line X leaves and the slider takes the unit. Squares: the slider where it skewers, X, the unit.
pub fn skewer(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    scene.replies().find_map(|(index, reply)| {
        let slider = scene.stands(taking.origin, index)?;
        let unit = scene.stands(scene.unit, index)?;
        let front = reply.by.from();
        let board = &reply.before;
        let dear = board.king(scene.owner) == front
            || scene.worth_on(board, front) >= scene.worth(scene.role);
        let skewered = ordered_pins(board, scene.attacker)
            .into_iter()
            .any(|pin| (pin.slider, pin.pinned, pin.to) == (slider, front, unit));
        (dear && skewered).then(|| squares([slider, front, scene.unit]))
    })
}
