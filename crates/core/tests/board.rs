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
    // The one that the rules library's own room for moves is measured by.
    let fen = "kBQQQQQQ/BR5Q/Q6Q/Q6Q/Q6Q/Q6Q/Q6Q/KQQQQQQQ w - - 0 1";
    let position = rules::position(fen).unwrap();
    let board = SearchBoard::new(&position, &Values::classical());
    assert_eq!(board.legal_moves().len(), 270);
    assert_eq!(position.legal_moves().len(), 270);
}
