//! The perft lists inside the source archive of the PyPI package `chess` 1.11.2.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

/// Each position of a list, in order: its FEN, and the number of move sequences of 1, 2, 3 ...
/// plies. Panics with what to do when the archive is not there.
pub(crate) fn perft_rows(list: &str) -> Vec<(String, Vec<u64>)> {
    let path = chess_source().join("examples/perft").join(list);
    let text = fs::read_to_string(&path).unwrap_or_else(|error| {
        panic!(
            "{}: {error}. Unpack the source archive of PyPI chess 1.11.2 (pip download \
             chess==1.11.2 --no-deps --no-binary :all:) into .cache, or name its folder in \
             FASTNESS_CHESS_SOURCE",
            path.display()
        )
    });
    let mut rows: Vec<(String, Vec<u64>)> = Vec::new();
    for (number, line) in text.lines().enumerate() {
        if let Some(fen) = line.strip_prefix("epd ") {
            rows.push((fen.trim().to_owned(), Vec::new()));
        } else if let Some(entry) = line.strip_prefix("perft ") {
            let count = entry.split_whitespace().nth(1).and_then(|n| n.parse().ok());
            match (rows.last_mut(), count) {
                (Some((_, counts)), Some(count)) => counts.push(count),
                _ => panic!("{}, line {}: {line:?}", path.display(), number + 1),
            }
        }
    }
    rows
}

fn chess_source() -> PathBuf {
    match env::var_os("FASTNESS_CHESS_SOURCE") {
        Some(folder) => PathBuf::from(folder),
        None => Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.cache/chess-1.11.2"),
    }
}
