//! A look as handed to the sift.

use serde::Serialize;
use shakmaty::Chess;

use super::SurveyReport;
use super::words::{Danger, Net, names, side_name};
use crate::look::Look;
use crate::rules;
use crate::survey::Survey;
use crate::threat::THRESHOLD;

/// A look as handed to the sift.
#[derive(Debug, Serialize)]
pub struct LookReport {
    ply: usize,
    side: &'static str,
    fen: String,
    in_check: bool,
    owed: i32,
    danger: Option<Danger>,
    reach: Option<u32>,
    played: PlayedReport,
    holding: Option<usize>,
    legal: usize,
    best_net: Option<Net>,
    reply_wins: bool,
    offered: Option<bool>,
    survey: Option<SurveyReport>,
}

#[derive(Debug, Serialize)]
struct PlayedReport {
    uci: String,
    san: String,
    net: Option<Net>,
    holds: bool,
    way: Option<&'static str>,
    drops: Vec<String>,
    retakes: bool,
}

impl LookReport {
    /// The report of a look at a move played in `position`.
    #[must_use]
    pub fn new(look: &Look, position: &Chess, values: &str) -> LookReport {
        let survey = look.survey.as_ref();
        let moves = survey.map_or(&[][..], |survey| &survey.moves);
        let verdict = moves.iter().find(|verdict| verdict.played == look.played);
        LookReport {
            ply: look.ply,
            side: side_name(look.before.board.turn()),
            fen: rules::fen(position),
            in_check: look.danger.is_none(),
            owed: look.before.owed(),
            danger: look.danger.map(Danger),
            reach: survey.and_then(smallest_reach_with_danger),
            played: PlayedReport {
                uci: look.played.uci(),
                san: rules::san(position, look.played),
                net: verdict.map(|verdict| Net(verdict.net)),
                holds: verdict.is_none_or(|verdict| verdict.holds),
                way: verdict
                    .and_then(|verdict| verdict.ways.names.first())
                    .map(|way| way.word()),
                drops: verdict.map_or_else(Vec::new, |v| names(v.drops.iter().copied())),
                retakes: look.before.retakes(look.played),
            },
            holding: survey.map(|_| moves.iter().filter(|verdict| verdict.holds).count()),
            legal: look.before.board.legal_moves().len(),
            best_net: moves.iter().map(|verdict| verdict.net).max().map(Net),
            reply_wins: look.reply_wins,
            offered: look.offered,
            survey: survey.map(|survey| SurveyReport::new(survey, position, values)),
        }
    }
}

fn smallest_reach_with_danger(survey: &Survey) -> Option<u32> {
    let full = *survey.danger.last()?;
    if full < THRESHOLD {
        return None;
    }
    (1..)
        .zip(&survey.danger)
        .find(|&(_, &danger)| danger >= THRESHOLD)
        .map(|(reach, _)| reach)
}
