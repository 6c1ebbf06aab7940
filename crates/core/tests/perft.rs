//! The rules the core stands on, against published counts of move sequences (FIDE Laws of Chess).

#[path = "positions/perft_lists.rs"]
mod perft_lists;

use fastness_reference::Chance;
use perft_lists::perft_rows;
use shakmaty::{CastlingMode, Chess, PositionError, PositionErrorKinds, fen::Fen, perft};

/// The position, or why the rules refuse it.
fn read(fen: &str) -> Result<Chess, PositionErrorKinds> {
    let parsed: Fen = fen.parse().unwrap_or_else(|error| panic!("{fen}: {error}"));
    parsed
        .into_position(CastlingMode::Standard)
        .map_err(|error: PositionError<Chess>| error.kinds())
}

fn position(fen: &str) -> Chess {
    read(fen).unwrap_or_else(|kinds| panic!("{fen}: {kinds:?}"))
}

fn counts_agree(pos: &Chess, expected: &[u64]) {
    for (depth, expected) in (1..).zip(expected) {
        assert_eq!(perft(pos, depth), *expected, "{pos:?} to depth {depth}");
    }
}

#[test]
fn start_position() {
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    counts_agree(&position(start), &[20, 400, 8902, 197_281]);
}

#[test]
fn castling_en_passant_and_promotion_together() {
    let fen = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1";
    counts_agree(&position(fen), &[48, 2039, 97_862]);
}

#[test]
fn seeded_rows_of_the_random_list_to_depth_3() {
    let mut rows = perft_rows("random.perft");
    assert_eq!(
        rows.len(),
        6838,
        "random.perft is not the one of chess 1.11.2"
    );
    let mut chance = Chance::new(300);
    for _ in 0..300 {
        let (fen, counts) = rows.swap_remove(chance.below(rows.len()));
        counts_agree(&position(&fen), &counts[..3]);
    }
}

#[test]
fn tricky_rows_agree_or_are_refused_for_a_stated_reason() {
    let (mut agreed, mut castling_rights, mut impossible_check) = (0, 0, 0);
    for (fen, counts) in perft_rows("tricky.perft") {
        match read(&fen) {
            Ok(pos) => {
                counts_agree(&pos, &counts[..counts.len().min(3)]);
                agreed += 1;
            }
            // Rights for a king or rook that does not stand where standard chess puts it.
            Err(PositionErrorKinds::INVALID_CASTLING_RIGHTS) => castling_rights += 1,
            // Checks that no last move can have given.
            Err(PositionErrorKinds::IMPOSSIBLE_CHECK) => impossible_check += 1,
            Err(kinds) => panic!("{fen}: {kinds:?}"),
        }
    }
    assert_eq!((agreed, castling_rights, impossible_check), (7, 6, 6));
}
