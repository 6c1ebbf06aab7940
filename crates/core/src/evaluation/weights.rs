//! The start values of the evaluation's weights (`scripts/fit_evaluation_start.csv`), not fitted yet.

use super::feature::FEATURES;
use super::tally::{Weight, weight};

pub(super) const WEIGHTS: [Weight; FEATURES] = [
    weight(100, 100), // material pawn
    weight(300, 300), // material knight
    weight(300, 300), // material bishop
    weight(500, 500), // material rook
    weight(900, 900), // material queen
    weight(3, 0),     // file pawn
    weight(4, 4),     // file knight
    weight(2, 2),     // file bishop
    weight(1, 0),     // file rook
    weight(1, 2),     // file queen
    weight(-8, 4),    // file king
    weight(0, 0),     // rank pawn
    weight(4, 4),     // rank knight
    weight(2, 2),     // rank bishop
    weight(0, 0),     // rank rook
    weight(1, 2),     // rank queen
    weight(-8, 6),    // rank king
    weight(1, 4),     // advance pawn
    weight(1, 1),     // advance knight
    weight(1, 1),     // advance bishop
    weight(0, 1),     // advance rook
    weight(0, 1),     // advance queen
    weight(-4, 1),    // advance king
    weight(10, 0),    // centre pawn
    weight(20, 10),   // outpost knight
    weight(10, 5),    // outpost bishop
    weight(0, 10),    // hunt
    weight(4, 4),     // moves knight
    weight(4, 4),     // moves bishop
    weight(2, 4),     // moves rook
    weight(1, 2),     // moves queen
    weight(-6, -6),   // cramped knight
    weight(-6, -6),   // cramped bishop
    weight(-4, -6),   // cramped rook
    weight(-4, -6),   // cramped queen
    weight(-3, -5),   // bishop's own pawns
    weight(2, 0),     // room
    weight(14, 0),    // shelter one step
    weight(7, 0),     // shelter two steps
    weight(-12, 0),   // shelter no own pawn
    weight(-12, 0),   // shelter no pawn
    weight(-2, 0),    // storm one step
    weight(-10, 0),   // storm two steps
    weight(-5, 0),    // storm three steps
    weight(-5, 0),    // ring knight
    weight(-5, 0),    // ring bishop
    weight(-6, 0),    // ring rook
    weight(-6, 0),    // ring queen
    weight(-12, 0),   // ring pairs
    weight(-10, 0),   // ring weak
    weight(-15, 0),   // safe checks knight
    weight(-8, 0),    // safe checks bishop
    weight(-15, 0),   // safe checks rook
    weight(-10, 0),   // safe checks queen
    weight(-10, -15), // pawn doubled
    weight(-12, -12), // pawn isolated
    weight(-10, -10), // pawn backward
    weight(6, 6),     // pawn guarded
    weight(5, 5),     // pawn beside
    weight(3, 0),     // pawn lever
    weight(2, 4),     // passed second
    weight(8, 16),    // passed third
    weight(18, 36),   // passed fourth
    weight(32, 64),   // passed fifth
    weight(50, 100),  // passed sixth
    weight(72, 144),  // passed seventh
    weight(2, 3),     // passed guarded
    weight(-4, -6),   // passed stopped
    weight(1, 6),     // passed free
    weight(0, 2),     // passed king race
    weight(30, 45),   // bishop pair
    weight(20, 10),   // rook open file
    weight(10, 8),    // rook half-open file
    weight(10, 20),   // rook seventh rank
    weight(5, 15),    // rook behind passed pawn
    weight(35, 30),   // pawn attacks minor
    weight(40, 30),   // pawn attacks rook
    weight(40, 30),   // pawn attacks queen
    weight(25, 20),   // lesser attacks minor on rook
    weight(30, 20),   // lesser attacks minor on queen
    weight(30, 20),   // lesser attacks rook on queen
    weight(10, 15),   // unguarded pawn
    weight(25, 20),   // unguarded minor
    weight(25, 20),   // unguarded rook
    weight(15, 15),   // unguarded queen
    weight(12, 6),    // to move
];
