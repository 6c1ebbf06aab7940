//! Numbers and names as they stand in the JSON.

use serde::{Serialize, Serializer};
use shakmaty::{Color, Role, Square};

use crate::line::Step;
use crate::search::{is_mate, is_mated};
use crate::status::Loss;

/// Centipawns that the opponent wins, or mate.
#[derive(Debug, Clone, Copy)]
pub(super) struct Danger(pub(super) i32);

/// Centipawns in the mover's view, or mate.
#[derive(Debug, Clone, Copy)]
pub(super) struct Net(pub(super) i32);

#[derive(Debug)]
pub(super) struct Loses(pub(super) Loss);

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

pub(super) fn side_name(side: Color) -> &'static str {
    match side {
        Color::White => "white",
        Color::Black => "black",
    }
}

pub(super) fn unit_name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

pub(super) fn names(squares: impl IntoIterator<Item = Square>) -> Vec<String> {
    squares
        .into_iter()
        .map(|square| square.to_string())
        .collect()
}

pub(super) fn line_text(steps: &[Step]) -> Vec<String> {
    steps.iter().map(|step| step.uci()).collect()
}
