//! A piece with nowhere to go.

use shakmaty::{Bitboard, Role, Square};

use super::boards::{falls, gain_on, to_move};
use super::scene::Scene;
use crate::search::SearchBoard;
use crate::threat::THRESHOLD;

/// Trapped: the unit is a knight, bishop, rook or queen; in the survey's position, or after a move
/// of the attacker in the line before the one that takes it, it is attacked where it stood so that
/// the exchange count there gains, its king is not in check, and every legal move that it then has
/// leaves it to be taken with gain where it arrives (by the exchange count there, after what it
/// takes is set off), or it has no move. Squares: the unit, where it could go.
pub fn trapped(scene: &Scene) -> Option<Bitboard> {
    if matches!(scene.role, Role::Pawn | Role::King) || scene.taking().is_none() {
        return None;
    }
    let later = scene
        .approach()
        .filter(|&(index, _)| scene.stands(scene.unit, index) == Some(scene.unit))
        .map(|(_, played)| &played.after);
    std::iter::once(&scene.start)
        .chain(later)
        .find_map(|board| caught(scene, board, scene.unit))
}

/// The unit and where it could go, if it is attacked and falls wherever it goes.
fn caught(scene: &Scene, board: &SearchBoard, unit: Square) -> Option<Bitboard> {
    let board = to_move(board, scene.owner);
    if board.in_check() || !falls(&board, unit, scene.attacker, scene.values) {
        return None;
    }
    let mut reached = Bitboard::from_square(unit);
    for m in board.legal_moves() {
        if m.from() != unit {
            continue;
        }
        let after = board.after(m, scene.values);
        let taken = m.capture().map_or(0, |role| scene.worth(role));
        if gain_on(&after, m.to(), scene.attacker, scene.values) - taken < THRESHOLD {
            return None;
        }
        reached.add(m.to());
    }
    Some(reached)
}
