//! The positions on which the fast search and the plain reference are compared.

mod perft_lists;

use std::fs;
use std::path::Path;

use fastness_reference::Chance;
use perft_lists::perft_rows;
use shakmaty::{CastlingMode, Chess, EnPassantMode, Position, fen::Fen};

/// A position and where it comes from.
#[derive(Clone)]
pub(crate) struct Sample {
    pub(crate) origin: &'static str,
    pub(crate) pos: Chess,
}

impl Sample {
    /// `None` for a position that the rules refuse.
    fn read(origin: &'static str, fen: &str) -> Option<Sample> {
        let parsed: Fen = fen.parse().unwrap_or_else(|error| panic!("{fen}: {error}"));
        let pos = parsed.into_position(CastlingMode::Standard).ok()?;
        Some(Sample { origin, pos })
    }

    pub(crate) fn fen(&self) -> String {
        Fen::from_position(&self.pos, EnPassantMode::Legal).to_string()
    }
}

/// `count` positions, each after a random number of random moves from the start position.
pub(crate) fn from_random_play(count: usize, seed: u64) -> Vec<Sample> {
    let mut chance = Chance::new(seed);
    let game = |_| Sample {
        origin: "random play",
        pos: random_play(&mut chance),
    };
    (0..count).map(game).collect()
}

/// The seeded sample of positions of the historic games.
pub(crate) fn from_historic_games() -> Vec<Sample> {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/historic-positions.fen");
    let text =
        fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    text.lines()
        .map(|fen| Sample::read("historic games", fen).unwrap_or_else(|| panic!("{fen}: refused")))
        .collect()
}

/// `count` rows of the random perft list, and those of the tricky one that are legal in standard
/// chess (`perft.rs` says which are not).
pub(crate) fn from_perft_lists(count: usize, seed: u64) -> Vec<Sample> {
    let mut chance = Chance::new(seed);
    let mut random = perft_rows("random.perft");
    let mut samples: Vec<Sample> = (0..count)
        .map(|_| random.swap_remove(chance.below(random.len())))
        .map(|(fen, _)| {
            Sample::read("random.perft", &fen).unwrap_or_else(|| panic!("{fen}: refused"))
        })
        .collect();
    let tricky = perft_rows("tricky.perft");
    samples.extend(
        tricky
            .iter()
            .filter_map(|(fen, _)| Sample::read("tricky.perft", fen)),
    );
    samples
}

fn random_play(chance: &mut Chance) -> Chess {
    let mut pos = Chess::default();
    for _ in 0..4 + chance.below(116) {
        let moves = pos.legal_moves();
        if moves.is_empty() {
            break;
        }
        pos.play_unchecked(moves[chance.below(moves.len())]);
    }
    pos
}
