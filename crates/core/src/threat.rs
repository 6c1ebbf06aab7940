//! Threats: the moves that carry out a danger, how far they hold up, and whom they charge.

use shakmaty::{Color, Role};

use crate::line::{Charge, Left, Point, Replay, Step};
use crate::search::{Move, Search, SearchBoard, later_by_one_ply};

/// What counts as winning something: half a pawn, in centipawns.
pub const THRESHOLD: i32 = 50;

/// How a threat stands at the full reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    Real,
    WonBack,
    Refuted,
}

/// One way a threat goes, and the units it charges.
#[derive(Debug, Clone)]
pub struct ProofLine {
    pub steps: Vec<Step>,
    pub charges: Vec<Charge>,
}

/// A move that carries out a danger.
#[derive(Debug, Clone)]
pub struct Threat {
    pub first: Move,
    /// The smallest reach at which it is one.
    pub reach: u32,
    /// What it wins at that reach, in the attacker's view.
    pub wins: i32,
    /// What it wins at the full reach.
    pub wins_in_full: i32,
    pub verdict: Verdict,
    /// One line for each of the defender's best first replies, at the threat's own reach.
    pub lines: Vec<ProofLine>,
    /// For a threat that is not real: the line at the full reach.
    pub answer: Option<Vec<Step>>,
}

/// The attacker's side of a question: who could win something, from which board, and whether the
/// line begins with the defender's pass.
#[derive(Debug, Clone, Copy)]
pub struct Attack {
    /// The attacker is to move here.
    pub board: SearchBoard,
    pub after_pass: bool,
    pub reach: u32,
}

impl Attack {
    #[must_use]
    pub fn attacker(&self) -> Color {
        self.board.turn()
    }

    /// The board a line begins on.
    #[must_use]
    pub fn start(&self) -> SearchBoard {
        if self.after_pass {
            self.board.passed()
        } else {
            self.board
        }
    }

    fn opening(&self) -> Vec<Step> {
        if self.after_pass {
            vec![Step::Pass]
        } else {
            Vec::new()
        }
    }

    fn point(&self, reach: u32) -> Point {
        Point {
            board: self.board,
            left: Left::Plies(2 * reach - 1),
            last_capture: None,
        }
    }
}

impl Search {
    /// What the attacker wins at each reach from 1 to the full one, in centipawns or as mate.
    pub fn winnings(&mut self, attack: &Attack) -> Vec<i32> {
        let mut found: Vec<i32> = Vec::new();
        for reach in 1..=attack.reach {
            let guess = found.last().copied().unwrap_or(0);
            found.push(self.value(&attack.board, 2 * reach - 1, guess));
        }
        found
    }

    /// What one first move wins at a reach, exactly, in the attacker's view.
    pub fn wins_by(&mut self, attack: &Attack, first: Move, reach: u32, guess: i32) -> i32 {
        let child = attack.board.after(first, self.values());
        // One ply later the other way round is the same step as one ply earlier.
        let value = self.value(&child, 2 * reach - 2, -guess);
        earlier_by_one_ply(value)
    }

    /// Every threat, by the smallest reach first and in the order of preference of lines.
    pub fn threats(&mut self, attack: &Attack, winnings: &[i32]) -> Vec<Threat> {
        let mut threats: Vec<Threat> = Vec::new();
        let mut most_before = 0;
        for (reach, &most) in (1..).zip(winnings) {
            let needed = if most_before < THRESHOLD {
                THRESHOLD
            } else {
                most_before + self.values().of(Role::Pawn)
            };
            let needed = if reach >= 2 {
                needed.max(most - self.values().of(Role::Pawn) + 1)
            } else {
                needed
            };
            most_before = most_before.max(most);
            if most < needed {
                continue;
            }
            let point = attack.point(reach);
            for first in self.preferred(&point, attack.attacker()) {
                if !self.shows(&point, first, needed) {
                    continue;
                }
                let wins = self.wins_by(attack, first, reach, most);
                if self.is_idle_underpromotion(attack, first, reach, wins) {
                    continue;
                }
                threats.push(self.threat(attack, first, reach, wins));
            }
        }
        threats
    }

    /// An underpromotion that is no better than the queen is no threat of its own.
    fn is_idle_underpromotion(
        &mut self,
        attack: &Attack,
        first: Move,
        reach: u32,
        wins: i32,
    ) -> bool {
        if first.promotion().is_none_or(|to| to == Role::Queen) {
            return false;
        }
        let queening = attack.board.legal_moves().into_iter().find(|m| {
            (m.from(), m.to(), m.promotion()) == (first.from(), first.to(), Some(Role::Queen))
        });
        queening.is_some_and(|queening| self.wins_by(attack, queening, reach, wins) >= wins)
    }

    fn threat(&mut self, attack: &Attack, first: Move, reach: u32, wins: i32) -> Threat {
        let full = if reach == attack.reach {
            wins
        } else {
            self.wins_by(attack, first, attack.reach, wins)
        };
        let verdict = if full >= THRESHOLD {
            Verdict::Real
        } else if full >= 0 {
            Verdict::WonBack
        } else {
            Verdict::Refuted
        };
        let lines = self.proof_lines(attack, first, reach, wins);
        let answer = match verdict {
            Verdict::Real => None,
            Verdict::WonBack => Some(self.winning_back(attack, first, full, &lines)),
            Verdict::Refuted => Some(self.full_line(attack, first, full)),
        };
        Threat {
            first,
            reach,
            wins,
            wins_in_full: full,
            verdict,
            lines,
            answer,
        }
    }

    /// A line for each of the defender's best replies to the first move of a threat. At reach 2
    /// a quiet first move is answered by a pass as well, which charges only what is taken next.
    fn proof_lines(
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
        if reach == 2 && first.is_quiet() && !point.board.in_check() {
            lines.extend(self.line_after_pass(attack, &point, opening));
        }
        lines
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
    fn winning_back(
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

/// The inverse of [`later_by_one_ply`].
const fn earlier_by_one_ply(value: i32) -> i32 {
    if crate::search::is_mate(value) {
        -(value - 1)
    } else if crate::search::is_mated(value) {
        -(value + 1)
    } else {
        -value
    }
}
