//! Written by `scripts/fit_evaluation.py`; `docs/evaluation.md` explains.
//! Fitted on 2026-11-25 to 32981 quiet positions of
//! 546 games played by the evaluation against itself (2000 nodes a move,
//! seed 1) and 211 historic games (`tests/data/historic.pgn`).
//! Loss on every tenth game, held out: 0.5522 with the start values,
//! 0.5483 with these. A pawn is worth 101 rating points.

use super::feature::FEATURES;
use super::tally::{Weight, weight};

pub(super) const WEIGHTS: [Weight; FEATURES] = [
    weight(78, 122),    // material pawn
    weight(341, 263),   // material knight
    weight(384, 290),   // material bishop
    weight(493, 546),   // material rook
    weight(1041, 1018), // material queen
    weight(4, 0),       // file pawn
    weight(6, 4),       // file knight
    weight(0, 1),       // file bishop
    weight(4, 2),       // file rook
    weight(1, 2),       // file queen
    weight(-7, 5),      // file king
    weight(0, -1),      // rank pawn
    weight(5, 3),       // rank knight
    weight(3, 1),       // rank bishop
    weight(-1, 2),      // rank rook
    weight(2, 3),       // rank queen
    weight(-9, 5),      // rank king
    weight(2, 4),       // advance pawn
    weight(2, 2),       // advance knight
    weight(3, 0),       // advance bishop
    weight(-2, 1),      // advance rook
    weight(1, 2),       // advance queen
    weight(-3, 3),      // advance king
    weight(12, 0),      // centre pawn
    weight(22, 10),     // outpost knight
    weight(11, 5),      // outpost bishop
    weight(0, 2),       // hunt
    weight(2, 2),       // moves knight
    weight(4, 3),       // moves bishop
    weight(2, 2),       // moves rook
    weight(1, 3),       // moves queen
    weight(-4, -6),     // cramped knight
    weight(-5, -6),     // cramped bishop
    weight(-4, -7),     // cramped rook
    weight(-4, -6),     // cramped queen
    weight(-4, -6),     // bishop's own pawns
    weight(2, -1),      // room
    weight(17, 0),      // shelter one step
    weight(7, 0),       // shelter two steps
    weight(-17, -1),    // shelter no own pawn
    weight(-14, -1),    // shelter no pawn
    weight(-2, 0),      // storm one step
    weight(-10, 0),     // storm two steps
    weight(-5, 0),      // storm three steps
    weight(-6, 0),      // ring knight
    weight(-6, 0),      // ring bishop
    weight(-6, 0),      // ring rook
    weight(-7, 0),      // ring queen
    weight(-15, 0),     // ring pairs
    weight(-12, 0),     // ring weak
    weight(-16, 0),     // safe checks knight
    weight(-8, 0),      // safe checks bishop
    weight(-17, 0),     // safe checks rook
    weight(-11, 0),     // safe checks queen
    weight(-10, -17),   // pawn doubled
    weight(-8, -9),     // pawn isolated
    weight(-12, -13),   // pawn backward
    weight(5, 5),       // pawn guarded
    weight(3, 5),       // pawn beside
    weight(3, 0),       // pawn lever
    weight(2, 4),       // passed second
    weight(9, 17),      // passed third
    weight(20, 42),     // passed fourth
    weight(33, 61),     // passed fifth
    weight(55, 118),    // passed sixth
    weight(77, 155),    // passed seventh
    weight(2, 2),       // passed guarded
    weight(-2, -5),     // passed stopped
    weight(1, 7),       // passed free
    weight(-1, 4),      // passed king race
    weight(32, 47),     // bishop pair
    weight(20, 10),     // rook open file
    weight(11, 9),      // rook half-open file
    weight(10, 20),     // rook seventh rank
    weight(5, 16),      // rook behind passed pawn
    weight(36, 31),     // pawn attacks minor
    weight(42, 31),     // pawn attacks rook
    weight(42, 31),     // pawn attacks queen
    weight(26, 21),     // lesser attacks minor on rook
    weight(31, 21),     // lesser attacks minor on queen
    weight(31, 21),     // lesser attacks rook on queen
    weight(10, 16),     // unguarded pawn
    weight(26, 21),     // unguarded minor
    weight(26, 21),     // unguarded rook
    weight(16, 16),     // unguarded queen
    weight(17, 8),      // to move
];
