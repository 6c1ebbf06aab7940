//! Sacrifices and gambits told apart from faults: moves that fall in material and are as good as
//! any by the evaluation at depth.

use shakmaty::{Chess, Position};

use crate::look::Look;
use crate::rank::evaluation_of;
use crate::rules;
use crate::search::{Move, is_mated};
use crate::thinking::Thinker;

/// A move offers what falls if it is within so many centipawns of the best move.
pub const WITHIN: i32 = 50;
/// Nodes of the first glance, which sets aside what is far from the best.
const GLANCE_NODES: u64 = 20_000;
/// Centipawns by which a first glance may be wrong.
const GLANCE_MARGIN: i32 = 100;

/// Whether the move that a look tells of falls and is an offer; `None` if it holds.
pub fn is_offered(
    look: &Look,
    position: &Chess,
    thinker: &mut Thinker,
    nodes: u64,
) -> Option<bool> {
    let verdicts = &look.survey.as_ref()?.moves;
    let verdict = verdicts.iter().find(|v| v.played == look.played)?;
    (!verdict.holds).then(|| is_offer(position, look.played, verdict.net, thinker, nodes))
}

/// Whether a move that falls with `net` (centipawns in the mover's view, or mated) is an offer:
/// by the evaluation with `nodes` nodes it is within half a pawn of the best move.
pub fn is_offer(
    position: &Chess,
    played: Move,
    net: i32,
    thinker: &mut Thinker,
    nodes: u64,
) -> bool {
    if is_mated(net) {
        return false;
    }
    let mut after = position.clone();
    after.play_unchecked(rules::rules_move(position, played));
    let mut behind = |nodes: u64| {
        let best = evaluation_of(position, thinker, nodes);
        best + evaluation_of(&after, thinker, nodes)
    };
    behind(GLANCE_NODES.min(nodes)) <= WITHIN + GLANCE_MARGIN && behind(nodes) <= WITHIN
}
