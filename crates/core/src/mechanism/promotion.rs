//! Pawns that promote, or would.

use shakmaty::{Bitboard, Square};

use super::boards::{bearers, ordered_moves, to_move};
use super::scene::{Played, Scene, squares};

/// Promotion: the attacker promotes a pawn in the line; or the unit is given for a pawn that
/// would otherwise promote at once: it takes that pawn, or goes to the promotion square or where
/// it guards it, and is taken there. Squares: the pawn before it promotes, the promotion square.
pub fn promotion(scene: &Scene) -> Option<Bitboard> {
    scene.taking()?;
    let promotes = scene
        .attacks()
        .find(|(_, played)| played.by.promotion().is_some())
        .map(|(_, played)| (played.by.from(), played.by.to()));
    let (pawn, square) = promotes.or_else(|| given_for(scene))?;
    Some(squares([pawn, square]))
}

/// The pawn that the unit stops by its last move before it is taken, and where it would promote.
fn given_for(scene: &Scene) -> Option<(Square, Square)> {
    let (_, reply) = scene
        .replies()
        .filter(|(_, reply)| reply.origin == scene.unit)
        .last()?;
    let board = to_move(&reply.before, scene.attacker);
    ordered_moves(&board)
        .into_iter()
        .filter(|m| m.promotion().is_some() && m.capture().is_none())
        .map(|m| (m.from(), m.to()))
        .find(|&(pawn, square)| {
            bearers(&reply.before, square, scene.owner).is_empty()
                && stops(scene, reply, pawn, square)
        })
}

fn stops(scene: &Scene, reply: &Played, pawn: Square, square: Square) -> bool {
    reply.takes_on(pawn)
        || reply.by.to() == square
        || bearers(&reply.after, square, scene.owner).contains(reply.by.to())
}
