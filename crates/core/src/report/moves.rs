//! The verdict on a move as published.

use serde::Serialize;
use shakmaty::{CastlingMode, Chess};

use super::words::{Net, line_text, names};
use crate::price::{Item, Price};
use crate::rank::Ranked;
use crate::reason::Reason;
use crate::rules;
use crate::verdict::MoveVerdict;

#[derive(Debug, Serialize)]
pub(super) struct MoveReport {
    uci: String,
    san: String,
    net: Net,
    holds: bool,
    falls_at: Option<u32>,
    firm: Option<bool>,
    deeper: Option<DeeperReport>,
    ways: Vec<&'static str>,
    wins_back: bool,
    blocks: Option<[String; 2]>,
    saves: Vec<String>,
    drops: Vec<String>,
    line: Option<Vec<String>>,
    answer: Option<Vec<String>>,
    reason: Option<&'static str>,
    reasons: Vec<Reason>,
    natural: bool,
    evaluation: Option<Net>,
    rank: Option<u32>,
    advised: Option<bool>,
    price: Option<PriceReport>,
    likely: Option<Vec<String>>,
}

#[derive(Debug, Serialize)]
struct DeeperReport {
    net: Net,
    line: Vec<String>,
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

impl MoveReport {
    pub(super) fn new(verdict: &MoveVerdict, position: &Chess) -> MoveReport {
        let explained = !verdict.holds || !verdict.ways.names.is_empty();
        MoveReport {
            uci: verdict.played.uci(),
            san: rules::san(position, verdict.played),
            net: Net(verdict.net),
            holds: verdict.holds,
            falls_at: verdict.falls_at,
            firm: verdict.firm,
            deeper: verdict.deeper.as_ref().map(|deeper| DeeperReport {
                net: Net(deeper.net),
                line: line_text(&deeper.line),
            }),
            ways: verdict.ways.names.iter().map(|way| way.word()).collect(),
            wins_back: verdict.ways.wins_back,
            blocks: verdict
                .ways
                .blocked
                .map(|segment| [segment.slider.to_string(), segment.target.to_string()]),
            saves: names(verdict.saves),
            drops: names(verdict.drops.iter().copied()),
            line: explained.then(|| line_text(&verdict.line)),
            answer: verdict.answer.as_deref().map(line_text),
            reason: verdict.reasons.first().map(|reason| reason.name.words()),
            reasons: verdict.reasons.clone(),
            natural: verdict.natural,
            evaluation: verdict.ranked.as_ref().map(|ranked| Net(ranked.evaluation)),
            rank: verdict.ranked.as_ref().map(|ranked| ranked.rank),
            advised: verdict.ranked.as_ref().map(|ranked| ranked.advised),
            price: verdict
                .ranked
                .as_ref()
                .map(|ranked| PriceReport::new(&ranked.price)),
            likely: verdict
                .ranked
                .as_ref()
                .map(|ranked| likely(verdict, ranked)),
        }
    }
}

/// The move and how play is likely to go on.
fn likely(verdict: &MoveVerdict, ranked: &Ranked) -> Vec<String> {
    let next = (ranked.likely.iter()).map(|m| m.to_uci(CastlingMode::Standard).to_string());
    [verdict.played.uci()].into_iter().chain(next).collect()
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
