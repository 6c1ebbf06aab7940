//! Threats: the moves that carry out a danger, how far they hold up, and whom they charge.

use shakmaty::{Color, Role};

use crate::line::{Left, Point, Step};
use crate::replay::Charge;
use crate::search::{Move, Search, SearchBoard, is_mate, is_mated};

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

    pub(crate) fn opening(&self) -> Vec<Step> {
        if self.after_pass {
            vec![Step::Pass]
        } else {
            Vec::new()
        }
    }

    pub(crate) fn point(&self, reach: u32) -> Point {
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
}

/// The inverse of [`crate::search::later_by_one_ply`].
const fn earlier_by_one_ply(value: i32) -> i32 {
    if is_mate(value) {
        -(value - 1)
    } else if is_mated(value) {
        -(value + 1)
    } else {
        -value
    }
}
