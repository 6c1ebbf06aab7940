//! The Bratko-Kopec test: 24 positions with a best move each, half of them with a tactical point
//! and half with a pawn lever (Kopec and Bratko, "The Bratko-Kopec Experiment", 1982).
//!
//! Slow: meant for a release build.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use fastness_core::rules;
use fastness_core::thinking::{Limits, Thinker};
use shakmaty::{Chess, san::San};

const NODES: u64 = 1_000_000;
const TABLE: usize = 64 << 20;
/// So many are solved at that number of nodes. The search is deterministic: fewer is a change.
const SOLVED: usize = 18;

struct Row {
    name: String,
    position: Chess,
    best: Vec<San>,
}

fn rows() -> Vec<Row> {
    let folder = env::var_os("FASTNESS_CHESS_SOURCE").map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.cache/chess-1.11.2"),
        PathBuf::from,
    );
    let path = folder.join("examples/bratko_kopec/bratko-kopec.epd");
    let text = fs::read_to_string(&path).unwrap_or_else(|error| {
        panic!(
            "{}: {error}. Unpack the source archive of PyPI chess 1.11.2 (pip download \
             chess==1.11.2 --no-deps --no-binary :all:) into .cache, or name its folder in \
             FASTNESS_CHESS_SOURCE",
            path.display()
        )
    });
    text.lines().map(row).collect()
}

/// A row such as `... w - - bm Nd5 a4; id "BK.05";`.
fn row(line: &str) -> Row {
    let (placed, operations) = line.split_once(" bm ").expect("a best move");
    let (best, rest) = operations.split_once(';').expect("an end of the moves");
    Row {
        name: rest.trim_matches(|c| " ;id\"".contains(c)).to_owned(),
        position: rules::position(&format!("{placed} 0 1")).expect("a legal position"),
        best: best
            .split(' ')
            .map(|san| san.parse().expect("SAN"))
            .collect(),
    }
}

fn is_solved(row: &Row, thinker: &mut Thinker) -> bool {
    let limits = Limits {
        nodes: Some(NODES),
        ..Limits::default()
    };
    thinker.forget();
    let thought = thinker.think(&row.position, &[], &limits, &mut |_| ());
    let solved = row
        .best
        .iter()
        .any(|san| san.to_move(&row.position).ok() == thought.best);
    println!(
        "{} {}: {:?} to depth {}",
        row.name,
        if solved { "solved" } else { "not solved" },
        thought.best,
        thought.depth
    );
    solved
}

#[test]
fn as_many_are_solved_as_before() {
    let rows = rows();
    assert_eq!(rows.len(), 24);
    let (next, solved) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let threads = thread::available_parallelism().map_or(1, |cores| cores.get().min(rows.len()));
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                let mut thinker = Thinker::new(TABLE);
                while let Some(row) = rows.get(next.fetch_add(1, Ordering::Relaxed)) {
                    if is_solved(row, &mut thinker) {
                        solved.fetch_add(1, Ordering::Relaxed);
                    }
                }
            });
        }
    });
    let solved = solved.into_inner();
    println!("{solved} of {} at {NODES} nodes", rows.len());
    assert!(solved >= SOLVED, "{solved} of {}", rows.len());
}
