//! Surveys and looks in the shapes of the published JSON.

mod look;
mod moves;
mod words;

use serde::Serialize;
use shakmaty::{Bitboard, Chess};

pub use look::LookReport;
use moves::MoveReport;
use words::{Danger, Loses, line_text, names, side_name, unit_name};

use crate::mechanism::Cause;
use crate::rank;
use crate::rules;
use crate::status::Unit;
use crate::survey::Survey;

/// The version of the JSON contract.
pub const VERSION: u32 = 1;

/// A survey as published; `docs/schema/survey.schema.json` gives the meaning of every key.
#[derive(Debug, Serialize)]
pub struct SurveyReport {
    version: u32,
    fen: String,
    side: &'static str,
    in_check: bool,
    values: String,
    reach: u32,
    owed: i32,
    danger: Option<Vec<Danger>>,
    units: Vec<UnitReport>,
    takings: Vec<UnitReport>,
    promotions: Vec<String>,
    promotion_lines: Vec<Vec<String>>,
    ranked: bool,
    best: Option<String>,
    values_matter: Option<bool>,
    moves: Vec<MoveReport>,
}

#[derive(Debug, Serialize)]
struct UnitReport {
    square: String,
    unit: &'static str,
    status: &'static str,
    loose: bool,
    reach: Option<u32>,
    loses: Option<Loses>,
    line: Option<Vec<String>>,
    together: Vec<String>,
    attackers: Vec<String>,
    guards: Vec<String>,
    mechanisms: Vec<&'static str>,
    causes: Vec<CauseReport>,
}

#[derive(Debug, Serialize)]
struct CauseReport {
    mechanism: &'static str,
    squares: Vec<String>,
}

impl UnitReport {
    fn new(unit: &Unit) -> UnitReport {
        let proof = unit.proof.as_ref();
        UnitReport {
            square: unit.square.to_string(),
            unit: unit_name(unit.role),
            status: unit.status.word(),
            loose: unit.loose,
            reach: proof.map(|proof| proof.reach),
            loses: proof.map(|proof| Loses(proof.loses)),
            line: proof.map(|proof| line_text(&proof.line)),
            together: names(unit.together),
            attackers: names(unit.attackers),
            guards: names(unit.guards),
            mechanisms: unit.causes.iter().map(Cause::word).collect(),
            causes: unit.causes.iter().map(CauseReport::new).collect(),
        }
    }
}

impl CauseReport {
    fn new(cause: &Cause) -> CauseReport {
        CauseReport {
            mechanism: cause.word(),
            squares: names(cause.squares),
        }
    }
}

impl SurveyReport {
    /// The report of a survey of `position`.
    #[must_use]
    pub fn new(survey: &Survey, position: &Chess, values: &str) -> SurveyReport {
        let board = &survey.standpoint.board;
        SurveyReport {
            version: VERSION,
            fen: rules::fen(position),
            side: side_name(board.turn()),
            in_check: survey.in_check,
            values: values.to_owned(),
            reach: survey.reach,
            owed: survey.standpoint.owed(),
            danger: (!survey.in_check).then(|| survey.danger.iter().copied().map(Danger).collect()),
            units: survey.units.iter().map(UnitReport::new).collect(),
            takings: survey.takings.iter().map(UnitReport::new).collect(),
            promotions: names(survey.promotions as Bitboard),
            promotion_lines: (survey.promotion_lines.iter())
                .map(|line| line_text(line))
                .collect(),
            ranked: survey.moves.iter().any(|verdict| verdict.ranked.is_some()),
            best: rank::best(&survey.moves).map(|verdict| verdict.played.uci()),
            values_matter: survey.values_matter,
            moves: survey
                .moves
                .iter()
                .map(|verdict| MoveReport::new(verdict, position))
                .collect(),
        }
    }
}
