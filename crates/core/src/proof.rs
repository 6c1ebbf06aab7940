//! The lines that prove a threat, and those that answer it.

use shakmaty::{Role, Square};

use crate::line::{Left, Point, Step};
use crate::replay::{Charge, Replay};
use crate::search::{Move, Search, SearchBoard, later_by_one_ply};
use crate::threat::{Attack, ProofLine, THRESHOLD};

impl Search {
    /// A line for each of the defender's best replies to the first move of a threat. At reach 2
    /// a quiet first move is answered by a pass as well, which charges only what is taken next.
    pub(crate) fn proof_lines(
        &mut self,
        attack: &Attack,
        first: Move,
        reach: u32,
        wins: i32,
    ) -> Vec<ProofLine> {
        let point = attack.point(reach).after(first, self);
        let value = later_by_one_ply(wins);
        let mut opening = attack.opening();
        opening.push(Step::Move(first));
        if self.stands(&point, value) {
            return vec![self.proof_line(attack, opening)];
        }
        let mut lines = Vec::new();
        for reply in self.preferred(&point, attack.attacker()) {
            if self.shows(&point, reply, value) {
                let next = point.after(reply, self);
                let rest = self.play_out(next, later_by_one_ply(value), attack.attacker());
                let mut steps = opening.clone();
                steps.push(Step::Move(reply));
                steps.extend(rest.into_iter().map(Step::Move));
                lines.push(self.proof_line(attack, steps));
            }
        }
        if lines.is_empty() {
            // Mated or stalemated where it stands.
            lines.push(self.proof_line(attack, opening.clone()));
        }
        let gives = |line: &ProofLine| self.gives_another(attack, &point.board, line);
        if lines.iter().any(|line| !gives(line)) {
            lines.retain(|line| !gives(line));
        }
        for line in &mut lines {
            self.leave_out_what_is_given(attack, &point.board, line);
        }
        if reach == 2 && first.is_quiet() && !point.board.in_check() {
            lines.extend(self.line_after_pass(attack, &point, opening));
        }
        lines
    }

    /// Whether a line charges only what the defender's first reply gives: giving up something
    /// else saves what is attacked, and says nothing about what is in danger.
    fn gives_another(&self, attack: &Attack, replying: &SearchBoard, line: &ProofLine) -> bool {
        !line.charges.is_empty()
            && line
                .charges
                .iter()
                .all(|charge| self.is_given(attack, replying, &line.steps, charge))
    }

    /// Drops the charge of what the first reply gives, where the line charges something else as
    /// well; in check the reply is forced, and what it loses is lost by the check.
    fn leave_out_what_is_given(
        &self,
        attack: &Attack,
        replying: &SearchBoard,
        line: &mut ProofLine,
    ) {
        if replying.in_check() || self.gives_another(attack, replying, line) {
            return;
        }
        let ProofLine { steps, charges } = line;
        charges.retain(|charge| !self.is_given(attack, replying, steps, charge));
    }

    /// Whether a charge is on the unit that the defender's first reply moves, on the square it
    /// moves to, though nothing threatened it where it stood.
    fn is_given(
        &self,
        attack: &Attack,
        replying: &SearchBoard,
        steps: &[Step],
        charge: &Charge,
    ) -> bool {
        let at = usize::from(attack.after_pass) + 1;
        let Some(&Step::Move(reply)) = steps.get(at) else {
            return false;
        };
        charge.on_unit
            && !charge.by_mate
            && (charge.square, charge.taken_on) == (reply.from(), reply.to())
            && !reply.is_castling()
            && !self.stands_in_danger(replying, reply.from())
    }

    /// Whether a unit of the side to move is attacked by something worth less or more often than
    /// it is guarded, x-rays left out.
    fn stands_in_danger(&self, board: &SearchBoard, square: Square) -> bool {
        let worth = |square| {
            board
                .role_at(square)
                .map_or(0, |role| self.values().of(role))
        };
        let owner = board.turn();
        let attackers = board.attackers(square, !owner, board.occupied());
        let guards = board.attackers(square, owner, board.occupied());
        attackers.count() > guards.count()
            || attackers
                .into_iter()
                .any(|from| board.role_at(from) != Some(Role::King) && worth(from) < worth(square))
    }

    fn line_after_pass(
        &mut self,
        attack: &Attack,
        point: &Point,
        opening: Vec<Step>,
    ) -> Option<ProofLine> {
        let next = Point {
            board: point.board.passed(),
            left: point.left.next(),
            last_capture: None,
        };
        let Left::Plies(plies) = next.left else {
            return None;
        };
        let value = self.value(&next.board, plies, 0);
        let rest = self.play_out(next, value, attack.attacker());
        let taken_on = rest.first().filter(|m| m.capture().is_some())?.to();
        let mut steps = opening;
        steps.push(Step::Pass);
        steps.extend(rest.into_iter().map(Step::Move));
        let mut line = self.proof_line(attack, steps);
        line.charges.retain(|charge| charge.taken_on == taken_on);
        (!line.charges.is_empty()).then_some(line)
    }

    fn proof_line(&self, attack: &Attack, steps: Vec<Step>) -> ProofLine {
        let charges = Replay::of(&attack.start(), &steps, attack.attacker(), self)
            .charges(attack.attacker(), THRESHOLD);
        ProofLine { steps, charges }
    }

    /// The line of a first move at the full reach, with at least one reply where there is one.
    pub fn full_line(&mut self, attack: &Attack, first: Move, wins: i32) -> Vec<Step> {
        let point = attack.point(attack.reach).after(first, self);
        let value = later_by_one_ply(wins);
        let mut steps = attack.opening();
        steps.push(Step::Move(first));
        let preferred = self.preferred(&point, attack.attacker());
        let Some(reply) = preferred
            .into_iter()
            .find(|&m| self.shows(&point, m, value))
        else {
            return steps;
        };
        steps.push(Step::Move(reply));
        let next = point.after(reply, self);
        let rest = self.play_out(next, later_by_one_ply(value), attack.attacker());
        steps.extend(rest.into_iter().map(Step::Move));
        steps
    }

    /// How what a threat takes is won back: one of its own lines, played on to the full reach
    /// where that gives the attacker less than the threshold; else the line at the full reach.
    pub(crate) fn winning_back(
        &mut self,
        attack: &Attack,
        first: Move,
        wins_in_full: i32,
        lines: &[ProofLine],
    ) -> Vec<Step> {
        for line in lines {
            if line.steps.contains(&Step::Pass) && line.steps.last() == Some(&Step::Pass) {
                continue;
            }
            if let Some(steps) = self.played_on(attack, &line.steps) {
                return steps;
            }
        }
        self.full_line(attack, first, wins_in_full)
    }

    fn played_on(&mut self, attack: &Attack, steps: &[Step]) -> Option<Vec<Step>> {
        let mut point = attack.point(attack.reach);
        for step in steps.iter().skip(usize::from(attack.after_pass)) {
            match step {
                Step::Pass => return None,
                Step::Move(m) => point = point.after(*m, self),
            }
        }
        let Left::Plies(plies) = point.left else {
            return None;
        };
        let value = self.value(&point.board, plies, 0);
        let for_attacker = if point.board.turn() == attack.attacker() {
            value
        } else {
            -value
        };
        if for_attacker >= THRESHOLD {
            return None;
        }
        let rest = self.play_out(point, value, attack.attacker());
        Some(
            steps
                .iter()
                .copied()
                .chain(rest.into_iter().map(Step::Move))
                .collect(),
        )
    }
}
