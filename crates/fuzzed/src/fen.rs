//! A FEN as anyone may paste it.

use std::cell::RefCell;

use fastness_core::report::SurveyReport;
use fastness_core::thinking::{Limits, Thinker};
use fastness_core::trade::Standpoint;
use fastness_core::{Search, SearchBoard, Values, rank, rules};
use shakmaty::{CastlingMode, Position};

const REACH: u32 = 1;
/// Nodes by which a move is ranked: enough to go through every part of it.
const RANK_NODES: u64 = 60;
const TABLE_BYTES: usize = 1 << 16;

/// Nodes of a thought about the move to play.
const THOUGHT_NODES: u64 = 300;

thread_local! {
    static CORE: RefCell<(Search, Thinker)> =
        RefCell::new((Search::new(Values::classical()), Thinker::new(TABLE_BYTES)));
}

/// Reads a position. One that is taken has the same legal moves on the search's own board as in
/// the rules library, is the same again when its FEN is read back, can be thought about, and has a
/// survey.
///
/// # Panics
///
/// Where any of that is not so.
pub fn fen(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let position = match rules::position(&text) {
        Ok(position) => position,
        Err(error) => {
            assert!(!error.code.is_empty() && error.message.ends_with('.'));
            return;
        }
    };
    let written = rules::fen(&position);
    let again = rules::position(&written).map(|position| rules::fen(&position));
    assert_eq!(again.as_ref(), Ok(&written), "written from {text:?}");

    CORE.with_borrow_mut(|(search, thinker)| {
        let board = SearchBoard::new(&position, search.values());
        let name = |m: &shakmaty::Move| m.to_uci(CastlingMode::Standard).to_string();
        let mut expected: Vec<_> = position.legal_moves().iter().map(name).collect();
        let mut found: Vec<_> = board.legal_moves().into_iter().map(|m| m.uci()).collect();
        expected.sort();
        found.sort();
        assert_eq!(found, expected, "the legal moves in {written}");

        let limits = Limits {
            nodes: Some(THOUGHT_NODES),
            ..Limits::default()
        };
        thinker.think(&position, &[], &limits, &mut |_| ());
        let mut survey = search.survey(&Standpoint::bare(board), REACH, true);
        rank::rank(&mut survey, &position, search, thinker, RANK_NODES);
        let report = SurveyReport::new(&survey, &position, "classical");
        serde_json::to_string(&report).expect("reports have text keys only");
    });
}
