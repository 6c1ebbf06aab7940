//! The material search: what one side wins by force, to a given reach.
//!
//! Everything is searched full width to the plies asked for, then a quiescence of captures,
//! promotions to a queen and check evasions. Nothing is left out but what a bound proves
//! irrelevant, so the plain reference (`crates/reference`) gives the same numbers.

mod board;
mod captures;
mod checks;
mod full_width;
mod generation;
mod last_ply;
mod lines;
mod moves;
mod quiescence;
mod quiet_moves;
mod table;

use shakmaty::{Color, Position as _};

pub use board::SearchBoard;
pub(crate) use checks::Checks;
pub(crate) use generation::{Bounds, reach_of};
pub(crate) use moves::{MOST_MOVES, Promotions};
pub use moves::{Move, MoveList};
pub use quiescence::EVASION_PLIES;
use table::Table;

use crate::values::Values;

/// A mate `k` plies after the position searched is worth `MATE - k` to the mater.
pub const MATE: i32 = 30_000;
const INFINITE: i32 = 32_000;
/// Values beyond this are mates.
const MATE_RANGE: i32 = MATE - 1_000;

/// Whether a value means that the side it is seen from gives mate.
#[must_use]
pub const fn is_mate(value: i32) -> bool {
    value > MATE_RANGE
}

/// Whether a value means that the side it is seen from is mated.
#[must_use]
pub const fn is_mated(value: i32) -> bool {
    value < -MATE_RANGE
}

/// A value as the other side sees it one ply later: a mate is then a ply nearer.
#[must_use]
pub const fn later_by_one_ply(value: i32) -> i32 {
    if is_mate(value) {
        -(value + 1)
    } else if is_mated(value) {
        -(value - 1)
    } else {
        -value
    }
}

/// A searcher with its table of values and its memory of good moves.
pub struct Search {
    values: Values,
    table: Table,
    /// White's view; what balances are measured from.
    base: i32,
    killers: [[Option<Move>; 2]; 16],
    history: [[u32; 64]; 16],
    nodes: u64,
}

impl Search {
    #[must_use]
    pub fn new(values: Values) -> Search {
        Search {
            values,
            table: Table::new(),
            base: 0,
            killers: [[None; 2]; 16],
            history: [[0; 64]; 16],
            nodes: 0,
        }
    }

    #[must_use]
    pub const fn values(&self) -> &Values {
        &self.values
    }

    /// Positions visited since the searcher was made.
    #[must_use]
    pub const fn nodes(&self) -> u64 {
        self.nodes
    }

    /// Begin with a new position to search to a reach: values are measured from `base`,
    /// centipawns in White's view.
    pub fn begin(&mut self, base: i32, reach: u32) {
        self.killers = [[None; 2]; 16];
        self.history = [[0; 64]; 16];
        self.table.begin(reach);
        self.base = base;
    }

    /// Measure from a base; what the table holds is forgotten if it is another one.
    pub fn measure_from(&mut self, base: i32) {
        if base != self.base {
            self.table.forget();
            self.base = base;
        }
    }

    /// The balance of a board in the view of the side to move, measured from the base.
    #[inline]
    #[must_use]
    pub fn standing(&self, board: &SearchBoard) -> i32 {
        match board.turn() {
            Color::White => board.balance(Color::White) - self.base,
            Color::Black => board.balance(Color::Black) + self.base,
        }
    }

    /// The value of a board with `plies` left, exact, in the view of the side to move.
    ///
    /// Null windows close in on it from `guess`.
    pub fn value(&mut self, board: &SearchBoard, plies: u32, guess: i32) -> i32 {
        let (mut lower, mut upper) = (-INFINITE, INFINITE);
        let mut probe = guess;
        loop {
            let beta = if probe == lower { probe + 1 } else { probe };
            probe = self.window(board, plies, beta - 1, beta);
            if probe < beta {
                upper = probe;
            } else {
                lower = probe;
            }
            if lower >= upper {
                return probe;
            }
        }
    }

    /// Whether the value of a board with `plies` left is at least `bound`.
    pub fn reaches(&mut self, board: &SearchBoard, plies: u32, bound: i32) -> bool {
        self.window(board, plies, bound - 1, bound) >= bound
    }

    /// Whether the quiescence of a board, with `played` of its plies played, is at least `bound`.
    pub fn reaches_quietly(&mut self, board: &SearchBoard, played: u32, bound: i32) -> bool {
        let in_check = board.in_check();
        let path = Path { ply: 0, in_check };
        self.quiescence(board, played, bound - 1, bound, path) >= bound
    }

    fn window(&mut self, board: &SearchBoard, plies: u32, alpha: i32, beta: i32) -> i32 {
        let in_check = board.in_check();
        self.full_width(board, plies, alpha, beta, Path { ply: 0, in_check })
    }

    /// What the opponent wins if the side to move passes, to `reach`; `None` in check.
    /// `base` is the opponent's balance to measure from, in centipawns.
    pub fn danger(&mut self, position: &shakmaty::Chess, reach: u32, base: i32) -> Option<i32> {
        if position.is_check() {
            return None;
        }
        let board = SearchBoard::new(position, &self.values);
        self.begin(base_for_white(base, !position.turn()), reach);
        Some(self.value(&board.passed(), 2 * reach - 1, 0))
    }

    /// Every legal move with its net to `reach`, in the mover's view.
    /// `base` is the opponent's balance to measure from, in centipawns.
    pub fn nets(
        &mut self,
        position: &shakmaty::Chess,
        reach: u32,
        base: i32,
    ) -> Vec<(shakmaty::Move, i32)> {
        let board = SearchBoard::new(position, &self.values);
        self.begin(base_for_white(base, !position.turn()), reach);
        board
            .legal_moves()
            .into_iter()
            .map(|m| {
                let value = self.value(&board.after(m, &self.values), 2 * reach - 1, 0);
                (crate::rules::rules_move(position, m), -value)
            })
            .collect()
    }
}

/// A base in the view of `side` as a base in White's view.
#[must_use]
pub const fn base_for_white(base: i32, side: Color) -> i32 {
    match side {
        Color::White => base,
        Color::Black => -base,
    }
}

/// How a node was come to.
#[derive(Debug, Clone, Copy)]
struct Path {
    /// Plies from the position searched.
    ply: i32,
    in_check: bool,
}
