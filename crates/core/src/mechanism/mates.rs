//! A unit that falls because of a mate that would follow.

use shakmaty::{Bitboard, Role, Square, attacks};

use super::boards::{bearers, mate_by_checks, mate_in_one, ordered_moves};
use super::scene::{Played, Scene, squares};
use crate::count;
use crate::search::{Move, SearchBoard};

/// Back rank: if the owner retakes the unit, the attacker mates as the answer by a rook or queen
/// along the owner's first rank, on which the king stands, where every square in front of the
/// king is held by a unit of the owner or is attacked, at least one of them by a unit of its own;
/// units that can only be put between do not help. Squares: the mating square, the king.
pub fn back_rank(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let board = &taking.after;
    ordered_moves(board)
        .into_iter()
        .filter(|m| m.capture().is_some() && m.to() == taking.by.to())
        .find_map(|retake| mates_along(scene, &board.after(retake, scene.values), 2))
}

/// The square of a mate along the first rank in so many moves, and the king.
fn mates_along(scene: &Scene, board: &SearchBoard, moves: u32) -> Option<Bitboard> {
    let rank = Bitboard::from_rank(scene.owner.backrank());
    let king = board.king(scene.owner);
    if moves == 0 || !rank.contains(king) {
        return None;
    }
    ordered_moves(board).into_iter().find_map(|m| {
        let mover = m.promotion().unwrap_or(m.role());
        let straight = matches!(mover, Role::Rook | Role::Queen);
        if !straight || !rank.contains(m.to()) {
            return None;
        }
        let after = board.after(m, scene.values);
        if !after.in_check() {
            return None;
        }
        let replies = ordered_moves(&after);
        if replies.is_empty() {
            return is_back_rank(scene, &after).then(|| squares([m.to(), king]));
        }
        let mut found = None;
        for reply in replies {
            found = Some(mates_along(
                scene,
                &after.after(reply, scene.values),
                moves - 1,
            )?);
        }
        found
    })
}

/// Whether a mated king is mated by a rook or queen along its first rank, shut in by its own.
pub fn is_back_rank(scene: &Scene, mated: &SearchBoard) -> bool {
    let king = mated.king(scene.owner);
    let rank = Bitboard::from_rank(scene.owner.backrank());
    let straight = mated.of_role(Role::Rook) | mated.of_role(Role::Queen);
    let checkers = bearers(mated, king, scene.attacker) & straight & rank;
    let front = attacks::king_attacks(king) & !rank;
    let own = front & mated.side(scene.owner);
    rank.contains(king)
        && checkers.any()
        && own.any()
        && (front & !own)
            .into_iter()
            .all(|square| bearers(mated, square, scene.attacker).any())
}

/// Mate threat: a move of the attacker in the line, other than the one that takes the unit, gives
/// no check and threatens mate by the very next move, and the owner's reply prevents it; or the
/// owner could retake the unit, but would then be mated at once, or by two checks, whichever way it
/// retakes (retakes that lose by the exchange count left out). Squares: the unit that would mate
/// (or give the first check), the king.
pub fn mate_threat(scene: &Scene) -> Option<Bitboard> {
    let taking = scene.taking()?;
    let (mate, king) = threatened(scene).or_else(|| {
        let mate = after_retaking(scene, taking)?;
        Some((mate, taking.after.king(scene.owner)))
    })?;
    Some(squares([mate.from(), king]))
}

/// The mate that a quiet move threatens, and the king that it threatens.
fn threatened(scene: &Scene) -> Option<(Move, Square)> {
    let quiet =
        |&(index, played): &(usize, &Played)| index != scene.capture && !played.after.in_check();
    scene.attacks().filter(quiet).find_map(|(index, played)| {
        let reply = scene.reply(index)?;
        let mate = mate_in_one(&played.after, scene.attacker, scene.values)?;
        mate_in_one(&reply.after, scene.attacker, scene.values)
            .is_none()
            .then(|| (mate, played.after.king(scene.owner)))
    })
}

/// The mate that follows whichever way the owner retakes, if it can retake without losing the
/// unit that does so.
fn after_retaking(scene: &Scene, taking: &Played) -> Option<Move> {
    let mut mate = None;
    for retake in ordered_moves(&taking.after) {
        if retake.capture().is_none() || retake.to() != taking.by.to() {
            continue;
        }
        let after = taking.after.after(retake, scene.values);
        match mate_by_checks(&after, 2, scene.values) {
            Some(found) => mate = Some(found),
            None if count::exchange(&taking.after, retake, scene.values) < 0 => {}
            None => return None,
        }
    }
    mate
}
