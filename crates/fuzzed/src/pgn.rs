//! A game as PGN text, read by the crate `pgn-reader`, into what the core takes of games.

use std::cell::RefCell;
use std::ops::ControlFlow;

use fastness_core::report::LookReport;
use fastness_core::rules::Game;
use fastness_core::{Search, Values, rules};
use pgn_reader::{RawTag, Reader, SanPlus, Skip, Visitor};
use shakmaty::{CastlingMode, Chess, Position};

/// Games of a text that are played through, and plies of each: enough for what can go wrong.
const MOST_GAMES: usize = 4;
const MOST_PLIES: usize = 80;
const REACH: u32 = 1;

thread_local! {
    static SEARCH: RefCell<Search> = RefCell::new(Search::new(Values::classical()));
}

/// Reads games. The core plays the same moves to the same positions as the rules library, and
/// looks at every one of them.
///
/// # Panics
///
/// Where it does not.
pub fn pgn(bytes: &[u8]) {
    let mut reader = Reader::new(bytes);
    for _ in 0..MOST_GAMES {
        // What is no PGN ends the reading.
        let Ok(Some(read)) = reader.read_game(&mut Moves) else {
            return;
        };
        if let Some(read) = read {
            play_through(&read);
        }
    }
}

fn play_through(read: &Read) {
    let values = Values::classical();
    let game = Game::play(&read.start, &read.moves, &values)
        .unwrap_or_else(|error| panic!("{error} in a game that the rules library has played"));
    let last = &game.positions[game.moves.len()];
    assert_eq!(
        rules::fen(last),
        rules::fen(&read.now),
        "after {:?}",
        read.moves
    );

    SEARCH.with_borrow_mut(|search| {
        let looks = search.look(&game.start, &game.moves, None, REACH);
        assert_eq!(looks.len(), game.moves.len());
        for look in &looks {
            let report = LookReport::new(look, &game.positions[look.ply - 1], "classical");
            serde_json::to_string(&report).expect("reports have text keys only");
        }
    });
}

struct Read {
    start: String,
    moves: Vec<String>,
    now: Chess,
}

struct Moves;

impl Visitor for Moves {
    type Tags = Option<Chess>;
    type Movetext = Read;
    type Output = Option<Read>;

    fn begin_tags(&mut self) -> ControlFlow<Option<Read>, Self::Tags> {
        ControlFlow::Continue(Some(Chess::default()))
    }

    fn tag(
        &mut self,
        tags: &mut Self::Tags,
        name: &[u8],
        value: RawTag<'_>,
    ) -> ControlFlow<Option<Read>> {
        if name == b"FEN" {
            *tags = rules::position(&String::from_utf8_lossy(value.as_bytes())).ok();
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, tags: Self::Tags) -> ControlFlow<Option<Read>, Read> {
        match tags {
            None => ControlFlow::Break(None),
            Some(now) => ControlFlow::Continue(Read {
                start: rules::fen(&now),
                moves: Vec::new(),
                now,
            }),
        }
    }

    fn san(&mut self, read: &mut Read, san: SanPlus) -> ControlFlow<Option<Read>> {
        if read.moves.len() < MOST_PLIES
            && let Ok(played) = san.san.to_move(&read.now)
        {
            read.moves
                .push(played.to_uci(CastlingMode::Standard).to_string());
            read.now.play_unchecked(played);
        }
        ControlFlow::Continue(())
    }

    fn begin_variation(&mut self, _: &mut Read) -> ControlFlow<Option<Read>, Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn end_game(&mut self, read: Read) -> Option<Read> {
        Some(read)
    }
}
