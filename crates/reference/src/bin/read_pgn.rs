//! Reads PGN on standard input by the crate `pgn-reader`, an independent reader, for tests only.
//!
//! One JSON list a game: the position at the start and the one after every move, those of the
//! variations where they stand, as FEN. What cannot be read gives `{"error": "..."}`.

use std::io;
use std::ops::ControlFlow;

use pgn_reader::{RawTag, Reader, SanPlus, Skip, Visitor};
use serde::Serialize;
use shakmaty::{CastlingMode, Chess, EnPassantMode, Position, fen::Fen};

#[derive(Serialize)]
#[serde(untagged)]
enum Told {
    Game(Vec<String>),
    Wrong { error: String },
}

/// The board before the last move, which a variation begins from, and the board now.
#[derive(Clone)]
struct Line {
    before: Chess,
    now: Chess,
}

struct Game {
    line: Line,
    /// The lines that go on when the variations that are open end.
    waiting: Vec<Line>,
    seen: Vec<String>,
}

struct Positions;

impl Visitor for Positions {
    type Tags = Result<Chess, String>;
    type Movetext = Game;
    type Output = Told;

    fn begin_tags(&mut self) -> ControlFlow<Told, Self::Tags> {
        ControlFlow::Continue(Ok(Chess::default()))
    }

    fn tag(&mut self, tags: &mut Self::Tags, name: &[u8], value: RawTag<'_>) -> ControlFlow<Told> {
        if name == b"FEN" {
            *tags = Fen::from_ascii(value.as_bytes())
                .map_err(|error| error.to_string())
                .and_then(|fen| {
                    let position = fen.into_position(CastlingMode::Standard);
                    position.map_err(|error| error.to_string())
                });
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, tags: Self::Tags) -> ControlFlow<Told, Game> {
        match tags {
            Err(error) => ControlFlow::Break(Told::Wrong { error }),
            Ok(start) => ControlFlow::Continue(Game {
                seen: vec![told(&start)],
                line: Line {
                    before: start.clone(),
                    now: start,
                },
                waiting: Vec::new(),
            }),
        }
    }

    fn san(&mut self, game: &mut Game, san: SanPlus) -> ControlFlow<Told> {
        let line = &mut game.line;
        match san.san.to_move(&line.now) {
            Err(error) => ControlFlow::Break(Told::Wrong {
                error: format!("{san}: {error}"),
            }),
            Ok(played) => {
                line.before = line.now.clone();
                line.now.play_unchecked(played);
                game.seen.push(told(&line.now));
                ControlFlow::Continue(())
            }
        }
    }

    fn begin_variation(&mut self, game: &mut Game) -> ControlFlow<Told, Skip> {
        game.waiting.push(game.line.clone());
        game.line.now = game.line.before.clone();
        ControlFlow::Continue(Skip(false))
    }

    fn end_variation(&mut self, game: &mut Game) -> ControlFlow<Told> {
        match game.waiting.pop() {
            None => ControlFlow::Break(Told::Wrong {
                error: "a variation ends that did not begin".to_owned(),
            }),
            Some(line) => {
                game.line = line;
                ControlFlow::Continue(())
            }
        }
    }

    fn end_game(&mut self, game: Game) -> Told {
        Told::Game(game.seen)
    }
}

fn told(position: &Chess) -> String {
    Fen::from_position(position, EnPassantMode::Legal).to_string()
}

fn main() -> io::Result<()> {
    let mut reader = Reader::new(io::stdin().lock());
    while let Some(game) = reader.read_game(&mut Positions)? {
        println!("{}", serde_json::to_string(&game)?);
    }
    Ok(())
}
