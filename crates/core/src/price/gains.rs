//! What a move gains.

use shakmaty::{Bitboard, Role, Square, attacks};

use super::{Item, Scene, has_bishop_pair};
use crate::count;
use crate::search::SearchBoard;
use crate::threat::THRESHOLD;

/// How far ahead a side is when it should trade, in centipawns.
const AHEAD: i32 = 200;
/// How much the term for mobility must rise to be told, in centipawns.
const ROOM: i32 = 20;

/// Every gain, in the order they are told.
pub(super) const ALL: [fn(&Scene) -> Option<Item>; 5] = [
    gains_time_on_a_piece,
    develops,
    makes_room,
    trades_when_ahead,
    gains_the_bishop_pair,
];

/// The unit moved attacks a piece that is worth more than it is, or that would fall by the
/// exchange count; it did not attack it before, and is not lost itself where it stands.
fn gains_time_on_a_piece(scene: &Scene) -> Option<Item> {
    let (us, m) = (scene.us(), scene.m);
    let lost = count::best_exchange(&scene.after, m.to(), scene.values)
        .is_some_and(|(gain, _)| gain >= THRESHOLD);
    if lost || scene.after.in_check() {
        return None;
    }
    let pieces =
        scene.after.side(!us) & !scene.after.of_role(Role::Pawn) & !scene.after.of_role(Role::King);
    let next = scene.after.passed();
    let bears = |board: &SearchBoard, on: Square, from: Square| {
        board.attackers(on, us, board.occupied()).contains(from)
    };
    let own_worth = scene.values.of(m.promotion().unwrap_or(m.role()));
    pieces
        .into_iter()
        .filter(|&piece| {
            bears(&scene.after, piece, m.to()) && !bears(scene.before, piece, m.from())
        })
        .find(|&piece| {
            let worth = scene
                .after
                .role_at(piece)
                .map_or(0, |role| scene.values.of(role));
            (m.role() != Role::King && worth > own_worth)
                || count::best_exchange(&next, piece, scene.values)
                    .is_some_and(|(gain, first)| gain >= THRESHOLD && first.from() == m.to())
        })
        .map(|piece| Item::by_geometry("gains time on a piece", [m.to(), piece]))
}

/// A knight or bishop leaves the square it has when a game begins for one beyond the first
/// rank, or the king castles.
fn develops(scene: &Scene) -> Option<Item> {
    let m = scene.m;
    let home = scene.first_rank();
    let files = match m.role() {
        Role::Knight => [1, 6],
        Role::Bishop => [2, 5],
        _ => {
            return m
                .is_castling()
                .then(|| Item::by_geometry("develops", [m.to()]));
        }
    };
    let from_home = home.contains(m.from()) && files.contains(&(m.from().file() as u32));
    (from_home && !home.contains(m.to())).then(|| Item::by_geometry("develops", [m.to()]))
}

/// The king on its first rank has a safe square to go to, and had none; or the term for mobility
/// rises.
fn makes_room(scene: &Scene) -> Option<Item> {
    let us = scene.us();
    let flights = |board: &SearchBoard| -> Bitboard {
        let king = board.king(us);
        let unseen = board.occupied().without(king);
        (attacks::king_attacks(king) & !board.side(us))
            .into_iter()
            .filter(|&to| board.attackers(to, !us, unseen).is_empty())
            .fold(Bitboard::EMPTY, Bitboard::with)
    };
    let king = scene.king();
    let at_home = scene.first_rank().contains(king) && scene.m.role() != Role::King;
    if at_home
        && flights(scene.before).is_empty()
        && let Some(flight) = flights(&scene.after).first()
    {
        return Some(Item::by_geometry("makes room", [king, flight]));
    }
    let rise = scene.terms_after.mobility - scene.terms_before.mobility;
    (rise >= ROOM).then(|| Item::by_term("makes room", [scene.m.to()], rise))
}

/// A side at least two pawns ahead takes a piece and loses one of the same worth on that square
/// in the line.
fn trades_when_ahead(scene: &Scene) -> Option<Item> {
    let us = scene.us();
    let m = scene.m;
    let taken = m.capture().filter(|&role| role != Role::Pawn)?;
    let same = scene.values.of(taken) == scene.values.of(m.role());
    let before = scene.before.balance(us);
    let traded = same && !scene.end.units(us, m.role()).contains(m.to());
    (before >= AHEAD && traded && scene.end.balance(us) >= before)
        .then(|| Item::by_geometry("trades when ahead", [m.to()]))
}

/// The opponent has bishops of both colours and after the move's line no longer; the mover then
/// has them.
fn gains_the_bishop_pair(scene: &Scene) -> Option<Item> {
    let us = scene.us();
    (has_bishop_pair(scene.before, !us)
        && !has_bishop_pair(&scene.end, !us)
        && has_bishop_pair(&scene.end, us))
    .then(|| Item::by_geometry("gains the bishop pair", [scene.m.to()]))
}
