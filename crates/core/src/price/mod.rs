//! What a move that holds costs and gains besides: from the terms of the evaluation before and
//! after it, and from the geometry. Each name is defined once, at its function.

mod costs;
mod gains;

use shakmaty::{Bitboard, Color, Role, Square};

use crate::evaluation::{self, Terms};
use crate::line::Step;
use crate::search::{Move, SearchBoard};
use crate::values::Values;
use crate::way::Way;

/// The least change of a term of the evaluation that is worth a word, in centipawns.
const NOTABLE: i32 = 20;

/// One cost or gain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    pub name: &'static str,
    /// The squares that take part.
    pub squares: Vec<Square>,
    /// What the term of the evaluation changes by, where it is one; never negative.
    pub centipawns: Option<i32>,
}

impl Item {
    fn by_geometry(name: &'static str, squares: impl IntoIterator<Item = Square>) -> Item {
        Item {
            name,
            squares: squares.into_iter().collect(),
            centipawns: None,
        }
    }

    fn by_term(
        name: &'static str,
        squares: impl IntoIterator<Item = Square>,
        centipawns: i32,
    ) -> Item {
        Item {
            name,
            squares: squares.into_iter().collect(),
            centipawns: Some(centipawns),
        }
    }
}

/// What a move costs and gains.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Price {
    pub costs: Vec<Item>,
    pub gains: Vec<Item>,
}

/// A move with what its price is read from.
struct Scene<'a> {
    before: &'a SearchBoard,
    after: SearchBoard,
    /// After the move and the line that follows it.
    end: SearchBoard,
    m: Move,
    ways: &'a [Way],
    /// The mover's own terms.
    terms_before: Terms,
    terms_after: Terms,
    values: &'a Values,
}

impl Scene<'_> {
    fn us(&self) -> Color {
        self.before.turn()
    }

    fn units(&self, board: &SearchBoard, role: Role) -> Bitboard {
        board.units(self.us(), role)
    }

    /// Where the king stands after the move.
    fn king(&self) -> Square {
        self.after.king(self.us())
    }

    /// The first rank as the mover sees it.
    fn first_rank(&self) -> Bitboard {
        Bitboard::from_rank(self.us().backrank())
    }
}

/// The price of a move on `board`: `line` begins with it and goes on with the opponent's best
/// try; `ways` is how it works, the main way first.
#[must_use]
pub fn price(board: &SearchBoard, line: &[Step], ways: &[Way], values: &Values) -> Price {
    let Some(&Step::Move(m)) = line.first() else {
        return Price::default();
    };
    let after = board.after(m, values);
    let end = line.iter().fold(*board, |board, step| match step {
        Step::Pass => board.passed(),
        Step::Move(m) => board.after(*m, values),
    });
    let us = board.turn();
    let scene = Scene {
        before: board,
        after,
        end,
        m,
        ways,
        terms_before: *evaluation::sides_of(board).of(us),
        terms_after: *evaluation::sides_of(&after).of(us),
        values,
    };
    Price {
        costs: costs::ALL.iter().filter_map(|cost| cost(&scene)).collect(),
        gains: gains::ALL.iter().filter_map(|gain| gain(&scene)).collect(),
    }
}

/// How many squares a piece of this kind could go to from a square, units of its own apart.
fn freedom(board: &SearchBoard, side: Color, role: Role, from: Square) -> usize {
    (crate::search::reach_of(role, from, board.occupied()) & !board.side(side)).count()
}

/// Whether a side has bishops on squares of both colours.
fn has_bishop_pair(board: &SearchBoard, side: Color) -> bool {
    let bishops = board.units(side, Role::Bishop);
    (bishops & Bitboard::LIGHT_SQUARES).any() && (bishops & Bitboard::DARK_SQUARES).any()
}
