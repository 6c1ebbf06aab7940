//! The search's own board against the rules library, along seeded random games.

use fastness_core::{SearchBoard, Values, rules, rules::rules_move};
use fastness_reference::Chance;
use shakmaty::{CastlingMode, Chess, Position};

const GAMES: usize = 300;
const LONGEST: usize = 200;

#[test]
fn boards_and_legal_moves_agree_along_random_games() {
    let values = Values::berliner();
    let mut chance = Chance::new(20);
    for _ in 0..GAMES {
        let mut position = Chess::default();
        let mut board = SearchBoard::new(&position, &values);
        for _ in 0..LONGEST {
            let mut expected: Vec<_> = position.legal_moves().into_iter().collect();
            let own = board.legal_moves();
            let mut found: Vec<_> = own.iter().map(|&m| rules_move(&position, m)).collect();
            expected.sort_by_key(|m| m.to_uci(CastlingMode::Standard).to_string());
            found.sort_by_key(|m| m.to_uci(CastlingMode::Standard).to_string());
            assert_eq!(found, expected, "{board:?}");
            if own.is_empty() {
                break;
            }
            let m = own[chance.below(own.len())];
            position.play_unchecked(rules_move(&position, m));
            board = board.after(m, &values);
            assert_eq!(board, SearchBoard::new(&position, &values), "after {m:?}");
        }
    }
}

#[test]
fn the_position_with_the_most_moves_has_room_for_them() {
    // 218 moves, the most of any position that a game can have (Petrović 1964, from memory).
    let fen = "R6R/3Q4/1Q4Q1/4Q3/2Q4Q/Q4Q2/pp1Q4/kBNN1KB1 w - - 0 1";
    let position = rules::position(fen).unwrap();
    let board = SearchBoard::new(&position, &Values::classical());
    assert_eq!(board.legal_moves().len(), 218);
    assert_eq!(position.legal_moves().len(), 218);
}

#[test]
fn more_than_a_game_can_have_is_refused() {
    // 270 moves and more: the search has no room for some of these.
    for fen in [
        "kBQQQQQQ/BR5Q/Q6Q/Q6Q/Q6Q/Q6Q/Q6Q/KQQQQQQQ w - - 0 1",
        "kBQQQQQQ/BR5Q/Q6Q/Q6Q/Q6Q/Q6Q/Q6Q/QQQQQQQK w - - 0 1",
        "rnbqkbnr/pppppppp/8/8/8/4Q3/PPPPPPPP/RNBQKB1R w KQkq - 0 1",
    ] {
        assert_eq!(
            rules::position(fen).unwrap_err().code,
            "many_units",
            "{fen}"
        );
    }
}
