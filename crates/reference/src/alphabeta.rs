//! The search with plain alpha-beta, each value seen by the side to move.

use shakmaty::{Chess, Color, Position};

use crate::moves::{after, all_moves, captures_and_queenings, evasions};
use crate::{EVASION_PLIES, MATE, Values, balance};

/// Wider than any value, mates included.
const BOUND: i32 = 2 * MATE;

/// `V(pos, plies)`: the attacker's balance less `base`, in centipawns, after `plies` plies of best
/// play and quiescence; a mate `k` plies from `pos` is `MATE - k`, or its negative against the
/// attacker. Either side may be to move. `base` is a balance from the attacker's view.
pub fn value(pos: &Chess, values: &Values, plies: u32, attacker: Color, base: i32) -> i32 {
    let question = Question {
        values,
        attacker,
        base,
    };
    let for_mover = question.search(pos, plies, 0, -BOUND, BOUND);
    if pos.turn() == attacker {
        for_mover
    } else {
        -for_mover
    }
}

/// Whether [`value`] is at least `least`, by the same search with one window: the answer of plain
/// alpha-beta to a yes-or-no question, in less time than the number.
pub fn attains(
    pos: &Chess,
    values: &Values,
    plies: u32,
    attacker: Color,
    base: i32,
    least: i32,
) -> bool {
    let question = Question {
        values,
        attacker,
        base,
    };
    if pos.turn() == attacker {
        question.search(pos, plies, 0, least - 1, least) >= least
    } else {
        question.search(pos, plies, 0, -least, 1 - least) <= -least
    }
}

/// The same number where the quiescence has begun: `played` of its plies led to `pos`.
pub fn value_in_quiescence(
    pos: &Chess,
    values: &Values,
    played: u32,
    attacker: Color,
    base: i32,
) -> i32 {
    let question = Question {
        values,
        attacker,
        base,
    };
    let for_mover = question.quiescence(pos, played, 0, -BOUND, BOUND);
    if pos.turn() == attacker {
        for_mover
    } else {
        -for_mover
    }
}

struct Question<'a> {
    values: &'a Values,
    attacker: Color,
    base: i32,
}

impl Question<'_> {
    /// `depth` is the number of plies from the position asked about.
    fn search(&self, pos: &Chess, plies: u32, depth: u32, alpha: i32, beta: i32) -> i32 {
        if plies == 0 {
            return self.quiescence(pos, 0, depth, alpha, beta);
        }
        let moves = all_moves(pos);
        if moves.is_empty() {
            return if pos.is_check() { mated(depth) } else { 0 };
        }
        let mut best = -BOUND;
        let mut alpha = alpha;
        for m in moves {
            let reply = self.search(&after(pos, m), plies - 1, depth + 1, -beta, -alpha);
            best = best.max(-reply);
            alpha = alpha.max(best);
            if alpha >= beta {
                break;
            }
        }
        best
    }

    /// `played` is the number of quiescence plies that led here.
    fn quiescence(&self, pos: &Chess, played: u32, depth: u32, alpha: i32, beta: i32) -> i32 {
        let must_evade = pos.is_check() && played < EVASION_PLIES;
        let moves = if must_evade {
            evasions(pos)
        } else {
            captures_and_queenings(pos)
        };
        if must_evade && moves.is_empty() {
            return mated(depth);
        }
        let mut best = if must_evade {
            -BOUND
        } else {
            self.standing(pos)
        };
        let mut alpha = alpha.max(best);
        for m in moves {
            if alpha >= beta {
                break;
            }
            let reply = self.quiescence(&after(pos, m), played + 1, depth + 1, -beta, -alpha);
            best = best.max(-reply);
            alpha = alpha.max(best);
        }
        best
    }

    /// The present balance less the base, for the side to move.
    fn standing(&self, pos: &Chess) -> i32 {
        let gained = balance(pos.board(), self.values, self.attacker) - self.base;
        if pos.turn() == self.attacker {
            gained
        } else {
            -gained
        }
    }
}

/// The side to move is mated `depth` plies from the position asked about.
fn mated(depth: u32) -> i32 {
    depth as i32 - MATE
}
