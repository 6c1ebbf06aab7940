//! Written by `scripts/fit_evaluation.py`; `docs/evaluation.md` explains.
//! Fitted on 2026-11-25 to 51927 quiet positions of
//! 900 games played by the evaluation against itself (2000 nodes a move,
//! seed 7) and 211 historic games (`tests/data/historic.pgn`).
//! Loss on every tenth game, held out: 0.5488 with the start values,
//! 0.5443 with these. A pawn is worth 93 rating points.

use super::feature::FEATURES;
use super::tally::{Weight, weight};

pub(super) const WEIGHTS: [Weight; FEATURES] = [
    weight(69, 131),  // material pawn
    weight(309, 274), // material knight
    weight(324, 313), // material bishop
    weight(472, 475), // material rook
    weight(900, 888), // material queen
    weight(4, 0),     // file pawn
    weight(6, 3),     // file knight
    weight(4, 2),     // file bishop
    weight(4, 0),     // file rook
    weight(1, 1),     // file queen
    weight(-8, 1),    // file king
    weight(-2, -2),   // rank pawn
    weight(5, 3),     // rank knight
    weight(4, 1),     // rank bishop
    weight(0, 1),     // rank rook
    weight(2, 2),     // rank queen
    weight(-5, 2),    // rank king
    weight(2, 0),     // advance pawn
    weight(3, 2),     // advance knight
    weight(2, 1),     // advance bishop
    weight(2, 1),     // advance rook
    weight(0, 2),     // advance queen
    weight(-1, 6),    // advance king
    weight(11, 0),    // centre pawn
    weight(20, 10),   // outpost knight
    weight(10, 5),    // outpost bishop
    weight(0, 10),    // hunt
    weight(4, 0),     // moves knight
    weight(5, 2),     // moves bishop
    weight(3, 0),     // moves rook
    weight(2, -1),    // moves queen
    weight(-5, -6),   // cramped knight
    weight(-6, -5),   // cramped bishop
    weight(-4, -6),   // cramped rook
    weight(-4, -6),   // cramped queen
    weight(-3, -2),   // bishop's own pawns
    weight(2, -1),    // room
    weight(15, 0),    // shelter one step
    weight(7, 0),     // shelter two steps
    weight(-12, 0),   // shelter no own pawn
    weight(-11, 0),   // shelter no pawn
    weight(-2, 0),    // storm one step
    weight(-10, 0),   // storm two steps
    weight(-5, 0),    // storm three steps
    weight(-6, 0),    // ring knight
    weight(-5, 0),    // ring bishop
    weight(-6, 0),    // ring rook
    weight(-7, 0),    // ring queen
    weight(-13, 0),   // ring pairs
    weight(-10, 1),   // ring weak
    weight(-15, 0),   // safe checks knight
    weight(-8, 0),    // safe checks bishop
    weight(-16, 0),   // safe checks rook
    weight(-10, 1),   // safe checks queen
    weight(-9, -14),  // pawn doubled
    weight(-10, -9),  // pawn isolated
    weight(-11, -11), // pawn backward
    weight(6, 5),     // pawn guarded
    weight(4, 6),     // pawn beside
    weight(3, 0),     // pawn lever
    weight(2, 4),     // passed second
    weight(8, 16),    // passed third
    weight(18, 43),   // passed fourth
    weight(31, 66),   // passed fifth
    weight(53, 112),  // passed sixth
    weight(72, 146),  // passed seventh
    weight(3, 4),     // passed guarded
    weight(-3, -5),   // passed stopped
    weight(1, 8),     // passed free
    weight(0, 6),     // passed king race
    weight(32, 47),   // bishop pair
    weight(21, 9),    // rook open file
    weight(12, 9),    // rook half-open file
    weight(10, 16),   // rook seventh rank
    weight(5, 16),    // rook behind passed pawn
    weight(34, 30),   // pawn attacks minor
    weight(39, 30),   // pawn attacks rook
    weight(39, 30),   // pawn attacks queen
    weight(25, 20),   // lesser attacks minor on rook
    weight(30, 20),   // lesser attacks minor on queen
    weight(30, 20),   // lesser attacks rook on queen
    weight(9, 15),    // unguarded pawn
    weight(25, 20),   // unguarded minor
    weight(25, 20),   // unguarded rook
    weight(15, 15),   // unguarded queen
    weight(15, 7),    // to move
];
