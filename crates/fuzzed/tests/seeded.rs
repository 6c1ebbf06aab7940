//! The functions that the fuzzers drive, on the seeds of `fuzz/seeds` spoilt by seeded chance: the
//! same bytes every time, a few seconds in all. `make fuzz` is the long form.

use std::fs;
use std::path::Path;

use fastness_fuzzed::{fen, pgn, search, uci};
use fastness_reference::Chance;

/// Tries made of each seed's bytes, the first of them unspoilt.
const TRIES: usize = 30;
/// Pieces that say something to one of the readers.
const PIECES: [&[u8]; 12] = [
    b"[FEN \"",
    b"{",
    b"(",
    b"\n",
    b" w - - 0 1",
    b"8/",
    b"QQQQQQQQ/",
    b"\xff",
    b"go infinite\n",
    b"-",
    b"O-O",
    b"e4",
];

fn seeds(target: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../fuzz/seeds")
        .join(target);
    let mut paths: Vec<_> = fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.expect("a folder that can be read").path())
        .collect();
    paths.sort();
    assert!(!paths.is_empty(), "{} is empty", folder.display());
    paths
        .iter()
        .map(|path| fs::read(path).expect("a seed that can be read"))
        .collect()
}

fn spoil(bytes: &mut Vec<u8>, chance: &mut Chance) {
    for _ in 0..=chance.below(4) {
        let at = chance.below(bytes.len() + 1);
        match chance.below(4) {
            0 => bytes.truncate(at),
            1 if at < bytes.len() => bytes[at] = chance.below(256) as u8,
            2 => bytes.insert(at, chance.below(256) as u8),
            _ => {
                bytes.splice(at..at, PIECES[chance.below(PIECES.len())].iter().copied());
            }
        }
    }
}

fn drive(target: &str, seed: u64, function: fn(&[u8])) {
    let mut chance = Chance::new(seed);
    for bytes in seeds(target) {
        function(&bytes);
        for _ in 1..TRIES {
            let mut spoilt = bytes.clone();
            spoil(&mut spoilt, &mut chance);
            function(&spoilt);
        }
    }
}

#[test]
fn any_fen_is_read_or_refused() {
    drive("fen", 21, fen);
}

#[test]
fn any_pgn_is_played_as_the_rules_library_plays_it() {
    drive("pgn", 22, pgn);
}

#[test]
fn both_searches_agree_on_any_position() {
    drive("search", 23, search);
}

#[test]
fn any_client_is_answered_by_the_protocol() {
    drive("uci", 24, uci);
}
