//! Plays games of the evaluation against itself, for the fit of its weights.
//!
//! `play_games GAMES NODES SEED` prints a line for each game: the result (1, 0.5 or 0 for White),
//! the FEN it began from, and its moves in UCI notation, with `;` between. Each game begins with
//! random moves to a position that the search holds for about even.

use std::error::Error;

use fastness_core::rules;
use fastness_core::thinking::{Limits, Score, Thinker};
use fastness_reference::Chance;
use shakmaty::{CastlingMode, Chess, Color, Move, Position};

/// Random plies at the start: from this many to this many.
const RANDOM_PLIES: (usize, usize) = (6, 11);
/// Centipawns within which a start is even enough.
const EVEN: i32 = 150;
/// A side this far ahead, in centipawns, has won when it has been so for some plies on end.
const WON: i32 = 1_000;
const WON_PLIES: u32 = 4;
/// A game that takes longer is a draw, in plies.
const LONGEST: usize = 300;
const TABLE: usize = 1 << 20;

fn main() -> Result<(), Box<dyn Error>> {
    let numbers: Vec<u64> = std::env::args()
        .skip(1)
        .map(|text| text.parse())
        .collect::<Result<_, _>>()?;
    let [games, nodes, seed] = numbers[..] else {
        return Err("play_games GAMES NODES SEED".into());
    };
    let mut player = Player {
        thinker: Thinker::new(TABLE),
        nodes,
        chance: Chance::new(seed),
    };
    for _ in 0..games {
        println!("{}", player.game());
    }
    Ok(())
}

struct Player {
    thinker: Thinker,
    nodes: u64,
    chance: Chance,
}

impl Player {
    fn game(&mut self) -> String {
        let start = self.start();
        self.thinker.forget();
        let (mut now, mut before) = (start.clone(), Vec::new());
        let mut moves: Vec<String> = Vec::new();
        let mut won = (Color::White, 0);
        let result = loop {
            if let Some(result) = over(&now, &before) {
                break result;
            }
            let (m, score) = self.choose(&now, &before);
            let ahead = if score > 0 { now.turn() } else { !now.turn() };
            won = if score.abs() < WON {
                (ahead, 0)
            } else if ahead == won.0 {
                (ahead, won.1 + 1)
            } else {
                (ahead, 1)
            };
            if won.1 >= WON_PLIES {
                break points(Some(ahead));
            }
            moves.push(m.to_uci(CastlingMode::Standard).to_string());
            before.push(now.clone());
            now.play_unchecked(m);
        };
        format!("{result};{};{}", rules::fen(&start), moves.join(" "))
    }

    fn start(&mut self) -> Chess {
        loop {
            let mut start = Chess::default();
            let plies = RANDOM_PLIES.0 + self.chance.below(RANDOM_PLIES.1 - RANDOM_PLIES.0);
            for _ in 0..plies {
                let moves = start.legal_moves();
                if !moves.is_empty() {
                    start.play_unchecked(moves[self.chance.below(moves.len())]);
                }
            }
            if !start.is_game_over() && self.choose(&start, &[]).1.abs() <= EVEN {
                return start;
            }
        }
    }

    /// The move chosen and what it is worth to the mover, in centipawns.
    fn choose(&mut self, now: &Chess, before: &[Chess]) -> (Move, i32) {
        let limits = Limits {
            nodes: Some(self.nodes),
            ..Limits::default()
        };
        let thought = self.thinker.think(now, before, &limits, &mut |_| ());
        let value = match thought.score {
            Score::Centipawns(value) => value,
            Score::Mates(_) => 2 * WON,
            Score::Mated(_) => -2 * WON,
        };
        (thought.best.expect("the game is not over"), value)
    }
}

/// The result for White, where the game has ended by the rules or has gone on for too long.
fn over(now: &Chess, before: &[Chess]) -> Option<&'static str> {
    if let shakmaty::Outcome::Known(known) = now.outcome() {
        return Some(points(known.winner()));
    }
    let stood = before.iter().filter(|&past| past == now).count();
    let drawn = stood >= 2 || now.halfmoves() >= 100 || before.len() >= LONGEST;
    drawn.then(|| points(None))
}

fn points(winner: Option<Color>) -> &'static str {
    match winner {
        Some(Color::White) => "1",
        Some(Color::Black) => "0",
        None => "0.5",
    }
}
