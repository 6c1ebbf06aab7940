//! A remedy that holds by a threat of its own.

use shakmaty::{Bitboard, Role, Square};

use crate::count;
use crate::line::{Left, Point, Step};
use crate::pins::pins;
use crate::replay::Replay;
use crate::search::{Move, Search, SearchBoard, is_mate};
use crate::status::all_charged;
use crate::threat::{THRESHOLD, Threat, Verdict};
use crate::values::Values;
use crate::verdict::Question;

/// A new attack on a unit that the exchange count says would fall, worth at least what is at
/// stake.
pub(crate) fn attacks_in_turn(
    board: &SearchBoard,
    after: &SearchBoard,
    at_stake: i32,
    values: &Values,
) -> bool {
    let us = board.turn();
    let next = after.passed();
    let targets = after.side(!us) & !after.of_role(Role::King);
    if after.in_check() {
        return false;
    }
    targets.into_iter().any(|square| {
        let role = after.role_at(square).unwrap_or(Role::Pawn);
        let fresh = after.attackers(square, us, after.occupied())
            & !board.attackers(square, us, board.occupied());
        fresh.any()
            && values.of(role) >= at_stake
            && count::exchanges(&next, square, values)
                .any(|(gain, m)| gain >= THRESHOLD && fresh.contains(m.from()))
    })
}

/// A pin, absolute or relative, of a unit that carries out a threat, not there before the move.
pub(crate) fn pins_a_carrier(
    board: &SearchBoard,
    after: &SearchBoard,
    carriers: Bitboard,
    values: &Values,
) -> bool {
    let us = board.turn();
    let before: Vec<Square> = pins(board, us)
        .into_iter()
        .filter(|pin| pin.has_more_behind(board, values))
        .map(|pin| pin.pinned)
        .collect();
    pins(after, us).into_iter().any(|pin| {
        carriers.contains(pin.pinned)
            && pin.has_more_behind(after, values)
            && !before.contains(&pin.pinned)
    })
}

/// A pawn could promote on the next move, to a queen that stands, and could not before: the
/// opponent does not bear on the square, or it is guarded.
pub(crate) fn threatens_to_promote(
    board: &SearchBoard,
    after: &SearchBoard,
    at_stake: i32,
    values: &Values,
) -> bool {
    if after.in_check() || values.of(Role::Queen) - values.of(Role::Pawn) < at_stake {
        return false;
    }
    let before = promotions_that_stand(board, values);
    let next = promotions_that_stand(&after.passed(), values);
    (next & !before).any()
}

/// Where the side to move can promote a pawn to a queen that stands.
fn promotions_that_stand(board: &SearchBoard, values: &Values) -> Bitboard {
    let us = board.turn();
    board
        .legal_moves()
        .into_iter()
        .filter(|m| m.promotion() == Some(Role::Queen))
        .filter(|&m| {
            let promoted = board.after(m, values);
            let occupied = promoted.occupied();
            promoted.attackers(m.to(), !us, occupied).is_empty()
                || promoted.attackers(m.to(), us, occupied).any()
        })
        .map(Move::to)
        .fold(Bitboard::EMPTY, Bitboard::with)
}

/// Whether a charged unit is taken after all in a line that begins with the remedy, and
/// something is won in turn.
fn wins_back(board: &SearchBoard, line: &[Step], charged: Bitboard, search: &Search) -> bool {
    let us = board.turn();
    let taken = Replay::of(board, line, !us, search)
        .taken_by
        .iter()
        .any(|(unit, _)| charged.contains(*unit));
    taken && Replay::of(board, line, us, search).takers.any()
}

impl Search {
    /// Whether a real threat, carried out after a move, is answered by mate.
    pub(crate) fn threatens_mate(&mut self, question: &Question, point: &Point) -> bool {
        let real = |threat: &&Threat| threat.verdict == Verdict::Real;
        question.threats.iter().filter(real).any(|threat| {
            question
                .still_legal(point, threat)
                .and_then(|reply| self.worth_after(point, reply))
                .is_some_and(|value| is_mate(value) && value > 0)
        })
    }

    /// What the defender has after the opponent's reply to a move, to the full reach.
    fn worth_after(&mut self, point: &Point, reply: Move) -> Option<i32> {
        let next = point.after(reply, self);
        let Left::Plies(plies) = next.left else {
            return None;
        };
        Some(self.value(&next.board, plies, 0))
    }

    /// Whether a threat is carried out after all, and as much won back.
    pub(crate) fn is_won_back(&mut self, question: &Question, point: &Point, m: Move) -> bool {
        let opponent = point.board.turn();
        question.threats.iter().any(|threat| {
            let Some(reply) = question.still_legal(point, threat) else {
                return false;
            };
            let Some(value) = self.worth_after(point, reply).filter(|v| !is_mate(*v)) else {
                return false;
            };
            let next = point.after(reply, self);
            let mut line = vec![Step::Move(m), Step::Move(reply)];
            let rest = self.play_out(next, value, opponent);
            line.extend(rest.into_iter().map(Step::Move));
            let board = &question.standpoint.board;
            wins_back(board, &line, all_charged(threat), self)
        })
    }
}
