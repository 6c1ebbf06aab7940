//! What a move costs.

use shakmaty::{Bitboard, File, Role, Square, attacks};

use super::{Item, NOTABLE, Scene, freedom, has_bishop_pair};
use crate::count;
use crate::pins::pins;
use crate::threat::THRESHOLD;
use crate::way::Way;

/// Every cost, in the order they are told.
pub(super) const ALL: [fn(&Scene) -> Option<Item>; 7] = [
    weakens_the_kings_shelter,
    pins_its_own_blocker,
    shuts_in_a_bishop,
    loses_time,
    passive_guard,
    weakens_the_pawns,
    gives_up_the_bishop_pair,
];

/// A pawn beside its king, on one of the three files at either edge of the board, leaves its
/// square; or the king moves that could have castled.
fn weakens_the_kings_shelter(scene: &Scene) -> Option<Item> {
    let (m, king) = (scene.m, scene.king());
    let weakens = match m.role() {
        Role::Pawn => {
            let outer = !matches!(m.from().file(), File::D | File::E);
            outer && attacks::king_attacks(king).contains(m.from())
        }
        Role::King => {
            let rights = Bitboard::from_rank(scene.us().backrank());
            !m.is_castling() && (scene.before.castling() & rights).any()
        }
        _ => false,
    };
    let fall = scene.terms_before.king_shelter - scene.terms_after.king_shelter;
    weakens.then(|| Item {
        name: "weakens the king's shelter",
        squares: vec![m.to(), king],
        centipawns: (fall >= NOTABLE).then_some(fall),
    })
}

/// The unit put in between is pinned there, to its king or to a unit worth more.
fn pins_its_own_blocker(scene: &Scene) -> Option<Item> {
    if !scene.ways.contains(&Way::Block) {
        return None;
    }
    pins(&scene.after, !scene.us())
        .into_iter()
        .find(|pin| pin.pinned == scene.m.to() && pin.has_more_behind(&scene.after, scene.values))
        .map(|pin| Item::by_geometry("pins its own blocker", [pin.slider, pin.pinned, pin.to]))
}

/// A bishop of the mover's own, other than the unit moved, can go to at least two squares fewer
/// than before, and to two at most.
fn shuts_in_a_bishop(scene: &Scene) -> Option<Item> {
    let us = scene.us();
    scene
        .units(&scene.after, Role::Bishop)
        .into_iter()
        .filter(|&bishop| bishop != scene.m.to())
        .find(|&bishop| {
            let before = freedom(scene.before, us, Role::Bishop, bishop);
            let after = freedom(&scene.after, us, Role::Bishop, bishop);
            after <= 2 && before >= after + 2
        })
        .map(|bishop| Item::by_geometry("shuts in a bishop", [scene.m.to(), bishop]))
}

/// A knight or bishop goes back to its first rank; or the queen comes out beyond it to where a
/// quiet move of a unit worth less attacks her at once and is not lost by it.
fn loses_time(scene: &Scene) -> Option<Item> {
    let m = scene.m;
    let home = scene.first_rank();
    let back = matches!(m.role(), Role::Knight | Role::Bishop)
        && home.contains(m.to())
        && !home.contains(m.from());
    if back && m.capture().is_none() {
        return Some(Item::by_geometry("loses time", [m.from(), m.to()]));
    }
    if m.role() != Role::Queen || m.capture().is_some() || home.contains(m.to()) {
        return None;
    }
    driving_move(scene).map(|from| Item::by_geometry("loses time", [m.to(), from]))
}

/// From where a unit worth less than the queen could attack her safely by its next move.
fn driving_move(scene: &Scene) -> Option<Square> {
    let queen = scene.m.to();
    let attacks =
        |board: &crate::search::SearchBoard| board.attackers(queen, !scene.us(), board.occupied());
    if scene.after.in_check() || attacks(&scene.after).any() {
        return None;
    }
    scene
        .after
        .legal_moves()
        .into_iter()
        .filter(|m| m.is_quiet() && !matches!(m.role(), Role::Queen | Role::King))
        .find(|&m| {
            let then = scene.after.after(m, scene.values);
            attacks(&then).contains(m.to())
                && count::best_exchange(&then, m.to(), scene.values)
                    .is_none_or(|(gain, _)| gain < THRESHOLD)
        })
        .map(|m| m.from())
}

/// The main way is to guard, by a piece that has at least two squares fewer than where it came
/// from.
fn passive_guard(scene: &Scene) -> Option<Item> {
    let m = scene.m;
    if scene.ways.first() != Some(&Way::Guard) || matches!(m.role(), Role::Pawn | Role::King) {
        return None;
    }
    let before = freedom(scene.before, scene.us(), m.role(), m.from());
    let after = freedom(&scene.after, scene.us(), m.role(), m.to());
    (before >= after + 2).then(|| Item::by_geometry("passive guard", [m.to()]))
}

/// A pawn moves, and the term for the pawns falls by it.
fn weakens_the_pawns(scene: &Scene) -> Option<Item> {
    let fall = scene.terms_before.pawns - scene.terms_after.pawns;
    (scene.m.role() == Role::Pawn && fall >= NOTABLE)
        .then(|| Item::by_term("weakens the pawns", [scene.m.to()], fall))
}

/// The mover has bishops of both colours, and after the move's line no longer.
fn gives_up_the_bishop_pair(scene: &Scene) -> Option<Item> {
    let us = scene.us();
    let kept = has_bishop_pair(&scene.end, us) || has_bishop_pair(scene.before, !us);
    (has_bishop_pair(scene.before, us) && !kept)
        .then(|| Item::by_geometry("gives up the bishop pair", [scene.m.to()]))
}
