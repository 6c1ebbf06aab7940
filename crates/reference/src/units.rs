//! Which units are unsafe, the slow and obvious way: threats, their lines, and whom these charge.

use shakmaty::{Chess, Move, Position, Role, Square};

use crate::lines::{Attack, Charge, Place, charges, one_ply_later, searched, worth_of_unit};
use crate::moves::{after, pass};
use crate::{Values, attains, balance, value};

/// What counts as winning something: half a pawn, in centipawns.
const THRESHOLD: i32 = 50;

/// A move that carries out a danger, with what it wins at its own reach.
struct Threat {
    first: Move,
    reach: u32,
    wins: i32,
}

/// The squares of the units of the side to move that the opponent can win, alone or together with
/// others, looking `reach` opponent moves ahead; `None` in check. They are measured from the
/// position's own balance.
pub fn unsafe_units(pos: &Chess, values: &Values, reach: u32) -> Option<Vec<Square>> {
    let passed = pass(pos)?;
    if pos.legal_moves().is_empty() {
        return Some(Vec::new());
    }
    let attacker = passed.turn();
    let attack = Attack {
        values,
        attacker,
        base: balance(passed.board(), values, attacker),
    };
    let real: Vec<Vec<Vec<Charge>>> = threats(&passed, &attack, reach)
        .iter()
        .filter(|threat| is_real(&passed, &attack, threat, reach))
        .map(|threat| lines(&passed, &attack, threat))
        .collect();
    let own = passed.board().by_color(attacker.other());
    let alone = |square: Square| real.iter().any(|lines| charged_in_all(lines, square));
    let together = |square: Square| {
        real.iter().any(|lines| {
            let squares: Vec<Square> = lines.iter().flatten().map(|charge| charge.square).collect();
            let here = lines
                .iter()
                .flatten()
                .any(|c| c.on_unit && c.square == square);
            here && !squares
                .iter()
                .any(|other| *other != square && alone(*other))
        })
    };
    Some(
        own.into_iter()
            .filter(|square| alone(*square) || together(*square))
            .collect(),
    )
}

fn charged_in_all(lines: &[Vec<Charge>], square: Square) -> bool {
    lines
        .iter()
        .all(|charges| charges.iter().any(|c| c.on_unit && c.square == square))
}

/// Every threat: at the smallest reach that shows something, and at each larger one what wins a
/// pawn more than was seen before.
fn threats(passed: &Chess, attack: &Attack, reach: u32) -> Vec<Threat> {
    let mut found = Vec::new();
    let mut most_before = 0;
    for near in 1..=reach {
        let plies = 2 * near - 1;
        let mut needed = if most_before < THRESHOLD {
            THRESHOLD
        } else {
            most_before + attack.values.pawn
        };
        let (values, attacker, base) = (attack.values, attack.attacker, attack.base);
        // The last danger matters only where something new wins enough, which one bound tells.
        if near == reach && !attains(passed, values, plies, attacker, base, needed) {
            break;
        }
        let most = value(passed, values, plies, attacker, base);
        if near >= 2 {
            needed = needed.max(most - attack.values.pawn + 1);
        }
        most_before = most_before.max(most);
        if most < needed {
            continue;
        }
        for first in passed.legal_moves() {
            let wins = wins_by(passed, attack, first, near);
            if wins >= needed && !is_idle_underpromotion(passed, attack, first, near, wins) {
                found.push(Threat {
                    first,
                    reach: near,
                    wins,
                });
            }
        }
    }
    found
}

fn start(passed: &Chess, reach: u32) -> Place {
    Place {
        pos: passed.clone(),
        left: 2 * reach as i32 - 1,
        captured: None,
    }
}

fn wins_by(passed: &Chess, attack: &Attack, first: Move, reach: u32) -> i32 {
    attack.worth_of(&start(passed, reach), first)
}

/// Whether an underpromotion is no better than the queen.
fn is_idle_underpromotion(
    passed: &Chess,
    attack: &Attack,
    first: Move,
    reach: u32,
    wins: i32,
) -> bool {
    if first.promotion().is_none_or(|role| role == Role::Queen) {
        return false;
    }
    let queening = passed.legal_moves().into_iter().find(|m| {
        (m.from(), m.to(), m.promotion()) == (first.from(), first.to(), Some(Role::Queen))
    });
    queening.is_some_and(|queening| wins_by(passed, attack, queening, reach) >= wins)
}

/// Whether a threat wins something at the full reach too.
fn is_real(passed: &Chess, attack: &Attack, threat: &Threat, reach: u32) -> bool {
    let next = after(passed, threat.first);
    let plies = 2 * reach - 2;
    attains(
        &next,
        attack.values,
        plies,
        attack.attacker,
        attack.base,
        THRESHOLD,
    )
}

/// The charges of each line of a threat: one line for each of the defender's best replies, and
/// after a quiet move at reach 2 one for a second pass.
fn lines(passed: &Chess, attack: &Attack, threat: &Threat) -> Vec<Vec<Charge>> {
    let first = Some(threat.first);
    let charged = |rest: &[Option<Move>]| {
        let line: Vec<Option<Move>> = [first].into_iter().chain(rest.iter().copied()).collect();
        charges(passed, &line, attack, THRESHOLD)
    };
    let place = start(passed, threat.reach).after(threat.first);
    let worth = one_ply_later(threat.wins);
    if attack.ends(&place, worth) {
        return vec![charged(&[])];
    }
    // The charges of each line, and whether one is on what its reply only gives up.
    let mut found: Vec<Vec<(Charge, bool)>> = searched(&place)
        .into_iter()
        .filter(|reply| attack.is_best(&place, *reply, worth))
        .map(|reply| {
            let rest = attack.play_out(place.after(reply), one_ply_later(worth));
            let steps: Vec<Option<Move>> = [reply].into_iter().chain(rest).map(Some).collect();
            let is_given = |charge: &Charge| gives(&place.pos, attack.values, reply, charge);
            charged(&steps)
                .into_iter()
                .map(|charge| (charge, is_given(&charge)))
                .collect()
        })
        .collect();
    if found.is_empty() {
        found.push(
            charged(&[])
                .into_iter()
                .map(|charge| (charge, false))
                .collect(),
        );
    }
    let only_gives =
        |line: &[(Charge, bool)]| !line.is_empty() && line.iter().all(|(_, given)| *given);
    let all_give = found.iter().all(|line| only_gives(line));
    let forced = place.pos.is_check();
    let mut kept: Vec<Vec<Charge>> = found
        .into_iter()
        .filter(|line| all_give || !only_gives(line))
        .map(|line| {
            let whole = forced || only_gives(&line);
            line.into_iter()
                .filter(|(_, given)| whole || !given)
                .map(|(charge, _)| charge)
                .collect()
        })
        .collect();
    let quiet = !threat.first.is_capture() && !threat.first.is_promotion();
    if threat.reach == 2
        && quiet
        && let Some((taken_on, rest)) = after_second_pass(&place, attack)
    {
        let mut taken_next = charged(&rest);
        taken_next.retain(|charge| charge.taken_on == taken_on);
        kept.extend((!taken_next.is_empty()).then_some(taken_next));
    }
    kept
}

/// Whether a charge is on the unit that the first reply puts where it is taken, which was neither
/// attacked by something cheaper nor attacked more often than guarded where it stood.
fn gives(replying: &Chess, values: &Values, reply: Move, charge: &Charge) -> bool {
    let (Some(from), to) = (reply.from(), reply.to()) else {
        return false;
    };
    if reply.is_castle() || reply.role() == Role::King {
        return false;
    }
    let board = replying.board();
    let owner = replying.turn();
    let worth = |square: Square| match board.role_at(square) {
        Some(Role::King) | None => i32::MAX,
        Some(role) => worth_of_unit(role, values),
    };
    let attackers = board.attacks_to(from, owner.other(), board.occupied());
    let guards = board.attacks_to(from, owner, board.occupied());
    let in_danger = attackers.count() > guards.count()
        || attackers
            .into_iter()
            .any(|attacker| worth(attacker) < worth(from));
    !in_danger && charge.on_unit && (charge.square, charge.taken_on) == (from, to)
}

/// What the attacker does if the defender passes once more, and where it takes something at once.
fn after_second_pass(place: &Place, attack: &Attack) -> Option<(Square, Vec<Option<Move>>)> {
    let next = Place {
        pos: pass(&place.pos)?,
        left: place.left - 1,
        captured: None,
    };
    let worth = attack.worth(&next);
    let rest = attack.play_out(next, worth);
    let taken_on = rest.first().filter(|m| m.is_capture())?.to();
    Some((
        taken_on,
        [None]
            .into_iter()
            .chain(rest.into_iter().map(Some))
            .collect(),
    ))
}
