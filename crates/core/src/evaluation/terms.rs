//! The named terms of an evaluation.

use std::ops::Sub;

use shakmaty::Color;

use super::feature::{TERMS, Term};
use super::stage::{self, FULL, WHOLE};
use super::tally::{Sums, Weight};
use crate::search::SearchBoard;

/// The named terms of an evaluation, in centipawns, weighed by how far the game has gone.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Terms {
    pub material: i32,
    pub placement: i32,
    pub mobility: i32,
    pub king_shelter: i32,
    pub pawns: i32,
    pub bishop_pair: i32,
    pub rooks_on_files: i32,
    pub threats: i32,
}

impl Terms {
    /// The names of the terms, in the order of [`Terms::values`].
    #[must_use]
    pub const fn names() -> [&'static str; TERMS] {
        [
            "material",
            "placement",
            "mobility",
            "king_shelter",
            "pawns",
            "bishop_pair",
            "rooks_on_files",
            "threats",
        ]
    }

    /// The terms in the order of [`Terms::names`], in centipawns.
    #[must_use]
    pub const fn values(&self) -> [i32; TERMS] {
        [
            self.material,
            self.placement,
            self.mobility,
            self.king_shelter,
            self.pawns,
            self.bishop_pair,
            self.rooks_on_files,
            self.threats,
        ]
    }

    /// The sum of the terms, in centipawns.
    #[must_use]
    pub fn total(&self) -> i32 {
        self.values().into_iter().sum()
    }
}

impl Sub for Terms {
    type Output = Terms;

    fn sub(self, other: Terms) -> Terms {
        Terms {
            material: self.material - other.material,
            placement: self.placement - other.placement,
            mobility: self.mobility - other.mobility,
            king_shelter: self.king_shelter - other.king_shelter,
            pawns: self.pawns - other.pawns,
            bishop_pair: self.bishop_pair - other.bishop_pair,
            rooks_on_files: self.rooks_on_files - other.rooks_on_files,
            threats: self.threats - other.threats,
        }
    }
}

/// The terms of each side, to that side's credit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Sides {
    pub white: Terms,
    pub black: Terms,
}

impl Sides {
    #[must_use]
    pub const fn of(&self, side: Color) -> &Terms {
        match side {
            Color::White => &self.white,
            Color::Black => &self.black,
        }
    }
}

/// Weighs the sums of the two stages by how far the game has gone.
#[inline]
pub(super) fn taper(board: &SearchBoard, sums: &Sums) -> Sides {
    let phase = stage::phase(board);
    let weighed = |sum: Weight| sum.middle * phase + sum.end * (FULL - phase);
    let sum_of = |side: Color| -> i32 { sums.by_side[side as usize].map(weighed).iter().sum() };
    let leader = if sum_of(Color::White) >= sum_of(Color::Black) {
        Color::White
    } else {
        Color::Black
    };
    let scale = stage::scale(board, leader);
    let of = |side: Color| {
        let term = |term: Term| {
            weighed(sums.by_side[side as usize][term as usize]) * scale / (FULL * WHOLE)
        };
        Terms {
            material: term(Term::Material),
            placement: term(Term::Placement),
            mobility: term(Term::Mobility),
            king_shelter: term(Term::KingShelter),
            pawns: term(Term::Pawns),
            bishop_pair: term(Term::BishopPair),
            rooks_on_files: term(Term::RooksOnFiles),
            threats: term(Term::Threats),
        }
    };
    Sides {
        white: of(Color::White),
        black: of(Color::Black),
    }
}
