//! Everything computed about one position.

use shakmaty::{Bitboard, Color, Role, Square};

use crate::judged::Judged;
use crate::line::Step;
use crate::search::{Search, SearchBoard};
use crate::status::{Status, Unit, promotions_of, unjudged};
use crate::threat::{Attack, ProofLine, THRESHOLD, Threat, Verdict};
use crate::trade::Standpoint;
use crate::verdict::{MoveVerdict, Question};

/// The survey of a position for the side to move.
#[derive(Debug, Clone)]
pub struct Survey {
    pub standpoint: Standpoint,
    pub reach: u32,
    pub in_check: bool,
    /// What the opponent wins by force after a pass, by reach from 1; empty in check.
    pub danger: Vec<i32>,
    /// Every unit of the side to move.
    pub units: Vec<Unit>,
    /// The opponent's units that the side to move could win now.
    pub takings: Vec<Unit>,
    /// Squares on which the opponent would promote, where a threat charges no unit.
    pub promotions: Bitboard,
    /// For each of them in order, a line that begins with the pass.
    pub promotion_lines: Vec<Vec<Step>>,
    pub moves: Vec<MoveVerdict>,
    /// Whether another table of values gives another verdict; `None` if that was not asked.
    pub values_matter: Option<bool>,
}

/// Whether the opponent wins something at the full reach.
#[must_use]
pub fn is_danger(danger: &[i32]) -> bool {
    danger.last().is_some_and(|&full| full >= THRESHOLD)
}

impl Search {
    /// Surveys a position to a reach; with `firm`, every verdict one reach deeper as well.
    pub fn survey(&mut self, standpoint: &Standpoint, reach: u32, firm: bool) -> Survey {
        self.survey_of(standpoint, reach, firm, Judged::Every)
    }

    /// The same, but only some of the moves are judged.
    pub fn survey_of(
        &mut self,
        standpoint: &Standpoint,
        reach: u32,
        firm: bool,
        judged: Judged,
    ) -> Survey {
        let bare = standpoint.board.balance(Color::White);
        self.begin(bare, reach + u32::from(firm));
        self.survey_on(standpoint, reach, firm, judged)
    }

    /// The same, with what the searcher has learnt of this position already, measured from
    /// whichever base.
    pub fn survey_on(
        &mut self,
        standpoint: &Standpoint,
        reach: u32,
        firm: bool,
        judged: Judged,
    ) -> Survey {
        let board = standpoint.board;
        let in_check = board.in_check();
        let bare = board.balance(Color::White);
        self.measure_from(bare);
        let defence = Attack {
            board: board.passed(),
            after_pass: true,
            reach,
        };
        let mut survey = Survey {
            standpoint: *standpoint,
            reach,
            in_check,
            danger: Vec::new(),
            units: Vec::new(),
            takings: Vec::new(),
            promotions: Bitboard::EMPTY,
            promotion_lines: Vec::new(),
            moves: Vec::new(),
            values_matter: None,
        };
        let mut threats = Vec::new();
        let over = board.legal_moves().is_empty();
        if in_check {
            survey.units = units_in_check(standpoint);
        } else if over {
            survey.danger = vec![0; reach as usize];
            survey.units = not_judged(standpoint);
        } else {
            survey.danger = self.winnings(&defence);
            threats = self.threats(&defence, &survey.danger);
            survey.units = self.statuses(&defence, &threats);
            survey.promotions = promotions(&threats);
            survey.promotion_lines = promotion_lines(&threats, survey.promotions);
            survey.takings = self.takings(standpoint, reach);
        }
        if standpoint.base() != bare {
            self.measure_from(standpoint.base());
            if !in_check && !over {
                survey.danger = self.winnings(&defence);
            }
        }
        let question = Question {
            standpoint,
            defence: &defence,
            threats: &threats,
            unsafe_units: unsafe_squares(&survey.units),
            in_danger: is_danger(&survey.danger),
            in_check,
            firm,
            judged,
        };
        survey.moves = self.verdicts(&question);
        survey
    }

    /// The squares of the units that are unsafe at a reach, by the bare balance, and nothing more:
    /// none in check.
    pub fn unsafe_units(&mut self, board: &SearchBoard, reach: u32) -> Bitboard {
        if board.in_check() || board.legal_moves().is_empty() {
            return Bitboard::EMPTY;
        }
        self.begin(board.balance(Color::White), reach);
        let defence = Attack {
            board: board.passed(),
            after_pass: true,
            reach,
        };
        let winnings = self.winnings(&defence);
        let threats = self.threats(&defence, &winnings);
        unsafe_squares(&self.statuses(&defence, &threats))
    }

    fn takings(&mut self, standpoint: &Standpoint, reach: u32) -> Vec<Unit> {
        let attack = Attack {
            board: standpoint.board,
            after_pass: false,
            reach,
        };
        // What can be taken is won at the full reach; most positions have nothing, and one bound
        // says so.
        if !self.reaches(&attack.board, 2 * reach - 1, THRESHOLD) {
            return Vec::new();
        }
        let winnings = self.winnings(&attack);
        let threats = self.threats(&attack, &winnings);
        if threats.is_empty() {
            return Vec::new();
        }
        let mut units = self.statuses(&attack, &threats);
        units.retain(|unit| unit.status.is_unsafe());
        units
    }
}

/// Whether two surveys of one position, by different values, give the same verdicts: which units
/// are not safe, which can be taken, and which moves hold.
#[must_use]
pub fn same_verdicts(one: &Survey, other: &Survey) -> bool {
    let holding = |survey: &Survey| -> Vec<bool> {
        survey.moves.iter().map(|verdict| verdict.holds).collect()
    };
    unsafe_squares(&one.units) == unsafe_squares(&other.units)
        && unsafe_squares(&one.takings) == unsafe_squares(&other.takings)
        && holding(one) == holding(other)
}

/// The squares of the units that are unsafe, alone or together.
#[must_use]
pub fn unsafe_squares(units: &[Unit]) -> Bitboard {
    units
        .iter()
        .filter(|unit| unit.status.is_unsafe())
        .fold(Bitboard::EMPTY, |squares, unit| squares.with(unit.square))
}

fn promotions(threats: &[Threat]) -> Bitboard {
    threats
        .iter()
        .filter(|threat| threat.verdict == Verdict::Real)
        .map(promotions_of)
        .fold(Bitboard::EMPTY, |squares, more| squares | more)
}

/// For each square the line of the soonest real threat that promotes there.
fn promotion_lines(threats: &[Threat], squares: Bitboard) -> Vec<Vec<Step>> {
    let real = || {
        let real = threats.iter().filter(|t| t.verdict == Verdict::Real);
        real.flat_map(|threat| &threat.lines)
    };
    let on = |line: &&ProofLine, square: Square| {
        let mut charges = line.charges.iter();
        charges.any(|charge| !charge.on_unit && charge.square == square)
    };
    squares
        .into_iter()
        .filter_map(|square| real().find(|line| on(line, square)))
        .map(|line| line.steps.clone())
        .collect()
}

/// In check there is no pass: only the moves tell what falls.
fn units_in_check(standpoint: &Standpoint) -> Vec<Unit> {
    let mut units = not_judged(standpoint);
    for unit in &mut units {
        if unit.role == Role::King {
            unit.status = Status::InCheck;
        }
    }
    units
}

fn not_judged(standpoint: &Standpoint) -> Vec<Unit> {
    let board = &standpoint.board;
    let us = board.turn();
    board
        .side(us)
        .into_iter()
        .filter_map(|square| unjudged(board, square, us))
        .collect()
}
