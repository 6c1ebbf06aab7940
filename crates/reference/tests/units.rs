//! Which units are unsafe, on positions small enough to work out on a board.

use fastness_reference::{Values, unsafe_units};
use shakmaty::{CastlingMode, Chess, fen::Fen};

/// FEN, the squares unsafe at reach 3, the reason.
const CASES: &[(&str, &[&str], &str)] = &[
    (
        "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
        &["e5"],
        "two attack the bishop, and its guard may be taken at no gain",
    ),
    (
        "3q2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 b - - 0 1",
        &["d8"],
        "the bishop leaves the rook's file with a check on h7",
    ),
    (
        "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1",
        &[],
        "the rook that takes the bishop is mated on the first rank",
    ),
    (
        "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1",
        &["e3", "f3"],
        "the king forks both, and one of them is kept",
    ),
    (
        "3r2k1/P7/8/8/8/8/8/R5K1 b - - 0 1",
        &["d8"],
        "the rook must take the pawn that queens, and is taken",
    ),
    (
        "4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1",
        &["e6"],
        "the pinned bishop is attacked by a pawn next",
    ),
    (
        "rnbqkb1r/pppp1ppp/8/4N3/4n3/8/PPPPQPPP/RNB1KB1R b KQkq - 0 1",
        &["e4"],
        "the knight is attacked and unguarded; the queen falls only if it moves off",
    ),
    (
        "6k1/5ppp/8/8/8/8/5PPP/R5K1 b - - 0 1",
        &["g8"],
        "mate on the back rank charges the king",
    ),
    (
        "4k3/8/8/8/8/8/8/4RK2 b - - 0 1",
        &[],
        "in check there is no pass",
    ),
];

#[test]
fn units_fall_as_worked_out() {
    for (fen, expected, reason) in CASES {
        let parsed: Fen = fen.parse().expect("a FEN");
        let pos: Chess = parsed
            .into_position(CastlingMode::Standard)
            .expect("a legal position");
        let found = unsafe_units(&pos, &Values::classical(), 3).unwrap_or_default();
        let squares: Vec<String> = found.iter().map(ToString::to_string).collect();
        assert_eq!(squares, *expected, "{fen}: {reason}");
    }
}
