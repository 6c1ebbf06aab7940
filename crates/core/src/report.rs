//! Surveys and looks in the shapes of the published JSON.

use serde::{Serialize, Serializer};
use shakmaty::{Bitboard, Chess, Color, Role, Square};

use crate::line::Step;
use crate::look::Look;
use crate::mechanism::Cause;
use crate::price::{Item, Price};
use crate::rank;
use crate::rules;
use crate::search::{is_mate, is_mated};
use crate::status::{Loss, Unit};
use crate::survey::Survey;
use crate::threat::THRESHOLD;
use crate::verdict::MoveVerdict;

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

#[derive(Debug, Serialize)]
struct MoveReport {
    uci: String,
    san: String,
    net: Net,
    holds: bool,
    falls_at: Option<u32>,
    firm: Option<bool>,
    ways: Vec<&'static str>,
    wins_back: bool,
    blocks: Option<[String; 2]>,
    saves: Vec<String>,
    drops: Vec<String>,
    line: Option<Vec<String>>,
    evaluation: Option<Net>,
    rank: Option<u32>,
    advised: Option<bool>,
    price: Option<PriceReport>,
}

#[derive(Debug, Serialize)]
struct PriceReport {
    costs: Vec<ItemReport>,
    gains: Vec<ItemReport>,
}

#[derive(Debug, Serialize)]
struct ItemReport {
    name: &'static str,
    squares: Vec<String>,
    centipawns: Option<i32>,
}

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

/// Centipawns that the opponent wins, or mate.
#[derive(Debug, Clone, Copy)]
struct Danger(i32);

/// Centipawns in the mover's view, or mate.
#[derive(Debug, Clone, Copy)]
struct Net(i32);

#[derive(Debug)]
struct Loses(Loss);

impl Serialize for Danger {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        mate_or_number(self.0, "mate", serializer)
    }
}

impl Serialize for Net {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        mate_or_number(self.0, "mates", serializer)
    }
}

impl Serialize for Loses {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Loss::Mate => serializer.serialize_str("mate"),
            Loss::Centipawns(centipawns) => serializer.serialize_i32(centipawns),
        }
    }
}

fn mate_or_number<S: Serializer>(value: i32, mate: &str, to: S) -> Result<S::Ok, S::Error> {
    if is_mate(value) {
        to.serialize_str(mate)
    } else if is_mated(value) {
        to.serialize_str("mated")
    } else {
        to.serialize_i32(value)
    }
}

fn side_name(side: Color) -> &'static str {
    match side {
        Color::White => "white",
        Color::Black => "black",
    }
}

fn unit_name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

fn names(squares: impl IntoIterator<Item = Square>) -> Vec<String> {
    squares
        .into_iter()
        .map(|square| square.to_string())
        .collect()
}

fn line_text(steps: &[Step]) -> Vec<String> {
    steps.iter().map(|step| step.uci()).collect()
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

impl MoveReport {
    fn new(verdict: &MoveVerdict, position: &Chess) -> MoveReport {
        let explained = !verdict.holds || !verdict.ways.names.is_empty();
        MoveReport {
            uci: verdict.played.uci(),
            san: rules::san(position, verdict.played),
            net: Net(verdict.net),
            holds: verdict.holds,
            falls_at: verdict.falls_at,
            firm: verdict.firm,
            ways: verdict.ways.names.iter().map(|way| way.word()).collect(),
            wins_back: verdict.ways.wins_back,
            blocks: verdict
                .ways
                .blocked
                .map(|segment| [segment.slider.to_string(), segment.target.to_string()]),
            saves: names(verdict.saves),
            drops: names(verdict.drops.iter().copied()),
            line: explained.then(|| line_text(&verdict.line)),
            evaluation: verdict.ranked.as_ref().map(|ranked| Net(ranked.evaluation)),
            rank: verdict.ranked.as_ref().map(|ranked| ranked.rank),
            advised: verdict.ranked.as_ref().map(|ranked| ranked.advised),
            price: verdict
                .ranked
                .as_ref()
                .map(|ranked| PriceReport::new(&ranked.price)),
        }
    }
}

impl PriceReport {
    fn new(price: &Price) -> PriceReport {
        let told = |items: &[Item]| items.iter().map(ItemReport::new).collect();
        PriceReport {
            costs: told(&price.costs),
            gains: told(&price.gains),
        }
    }
}

impl ItemReport {
    fn new(item: &Item) -> ItemReport {
        ItemReport {
            name: item.name,
            squares: names(item.squares.iter().copied()),
            centipawns: item.centipawns,
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
