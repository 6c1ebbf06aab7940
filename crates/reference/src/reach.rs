//! Danger and nets. Reach n is n moves of the opponent: 2n-1 plies, then quiescence.

use shakmaty::{Chess, Move, Position};

use crate::moves::{after, pass};
use crate::{Values, value};

/// `D_r`: what the opponent of the side to move wins if that side passes, in centipawns; `None`
/// in check. `base` is a balance from the opponent's view; `reach` counts from 1.
pub fn danger(pos: &Chess, values: &Values, reach: u32, base: i32) -> Option<i32> {
    let passed = pass(pos)?;
    let attacker = passed.turn();
    Some(value(&passed, values, plies(reach), attacker, base))
}

/// `N_r(m)`: the mover's balance change by the legal move `m` with everything counted, in
/// centipawns. `base` is a balance from the opponent's view; `reach` counts from 1.
pub fn net(pos: &Chess, m: Move, values: &Values, reach: u32, base: i32) -> i32 {
    let attacker = pos.turn().other();
    -value(&after(pos, m), values, plies(reach), attacker, base)
}

/// The net of every legal move.
pub fn nets(pos: &Chess, values: &Values, reach: u32, base: i32) -> Vec<(Move, i32)> {
    let moves = pos.legal_moves();
    moves
        .into_iter()
        .map(|m| (m, net(pos, m, values, reach, base)))
        .collect()
}

fn plies(reach: u32) -> u32 {
    assert!(reach >= 1, "reach counts from 1");
    2 * reach - 1
}
