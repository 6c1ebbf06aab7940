//! Choosing a move: mates found, draws seen, limits kept, the same answer every time.

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use fastness_core::rules;
use fastness_core::thinking::{Limits, Score, Thinker, Thought};
use shakmaty::{Chess, Position, uci::UciMove};

const TABLE: usize = 4 << 20;

fn position(fen: &str) -> Chess {
    rules::position(fen).expect("a legal position")
}

/// The positions from a start on, and the last of them apart.
fn played(fen: &str, moves: &str) -> (Vec<Chess>, Chess) {
    let mut now = position(fen);
    let mut before = Vec::new();
    for text in moves.split_whitespace() {
        let m: UciMove = text.parse().expect("UCI");
        let m = m.to_move(&now).expect("a legal move");
        before.push(now.clone());
        now.play_unchecked(m);
    }
    (before, now)
}

fn nodes(nodes: u64) -> Limits<'static> {
    Limits {
        nodes: Some(nodes),
        ..Limits::default()
    }
}

fn think(fen: &str, limits: &Limits<'_>) -> Thought {
    Thinker::new(TABLE).think(&position(fen), &[], limits, &mut |_| ())
}

fn uci(thought: &Thought) -> String {
    thought.best.map_or_else(String::new, |m| {
        m.to_uci(shakmaty::CastlingMode::Standard).to_string()
    })
}

/// FEN, plies to mate, best move where only one mates as soon. Counted by hand.
const MATES: [(&str, Score, &str); 5] = [
    // A rook on the first rank, the king behind its own pawns.
    ("6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1", Score::Mates(1), "a1a8"),
    // The same with Black to play it.
    ("r5k1/8/8/8/8/8/5PPP/6K1 b - - 0 1", Score::Mates(1), "a8a1"),
    // Two rooks take the last two ranks: 1.Rb7 and 2.Ra8 mate, whatever the king does.
    ("6k1/8/8/8/8/8/1R6/R5K1 w - - 0 1", Score::Mates(3), ""),
    // Smothered: 1.Qg8+ Rxg8 2.Nf7 mate.
    (
        "5r1k/6pp/7N/8/2Q5/8/8/6K1 w - - 0 1",
        Score::Mates(3),
        "c4g8",
    ),
    // Bare kings but for a queen that mates at once next to her king.
    ("k7/8/1K6/8/8/8/8/6Q1 w - - 0 1", Score::Mates(1), ""),
];

#[test]
fn mates_are_found_and_counted() {
    for (fen, score, best) in MATES {
        let thought = think(fen, &nodes(200_000));
        assert_eq!(thought.score, score, "{fen}");
        if !best.is_empty() {
            assert_eq!(uci(&thought), best, "{fen}");
        }
    }
}

#[test]
fn the_line_of_a_mate_ends_in_mate() {
    let fen = "5r1k/6pp/7N/8/2Q5/8/8/6K1 w - - 0 1";
    let mut at = position(fen);
    let thought = think(fen, &nodes(200_000));
    for m in &thought.line {
        assert!(at.is_legal(*m), "{m:?}");
        at.play_unchecked(*m);
    }
    assert!(at.is_checkmate(), "{:?}", thought.line);
}

#[test]
fn lines_are_legal_and_begin_with_the_best_move() {
    let fens = include_str!("../../../tests/data/historic-positions.fen");
    let mut thinker = Thinker::new(TABLE);
    for fen in fens.lines().step_by(60) {
        let start = position(fen);
        let thought = thinker.think(&start, &[], &nodes(3_000), &mut |_| ());
        assert_eq!(thought.line.first().copied(), thought.best, "{fen}");
        let mut at = start;
        for m in thought.line {
            assert!(at.is_legal(m), "{fen}: {m:?}");
            at.play_unchecked(m);
        }
    }
}

#[test]
fn no_move_where_the_game_is_over() {
    let mated = think("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1", &nodes(1_000));
    assert_eq!((mated.best, mated.score), (None, Score::Mated(0)));
    let stalemate = think("k7/2Q5/1K6/8/8/8/8/8 b - - 0 1", &nodes(1_000));
    assert_eq!(
        (stalemate.best, stalemate.score),
        (None, Score::Centipawns(0))
    );
}

#[test]
fn the_same_nodes_give_the_same_answer() {
    let fens = include_str!("../../../tests/data/historic-positions.fen");
    let mut used = Thinker::new(TABLE);
    for fen in fens.lines().step_by(80) {
        let start = position(fen);
        let fresh = Thinker::new(TABLE).think(&start, &[], &nodes(5_000), &mut |_| ());
        used.forget();
        let again = used.think(&start, &[], &nodes(5_000), &mut |_| ());
        assert_eq!(fresh, again, "{fen}");
    }
}

/// The FEN with colours exchanged and the board turned, by its text alone.
fn exchanged(fen: &str) -> String {
    let other_case = |text: &str| -> String {
        text.chars()
            .map(|c| match c.is_uppercase() {
                true => c.to_ascii_lowercase(),
                false => c.to_ascii_uppercase(),
            })
            .collect()
    };
    let fields: Vec<&str> = fen.split(' ').collect();
    let board: Vec<String> = fields[0].split('/').rev().map(other_case).collect();
    let en_passant = other_rank(fields[3]);
    [
        board.join("/").as_str(),
        if fields[1] == "w" { "b" } else { "w" },
        &other_case(fields[2]),
        &en_passant,
        fields[4],
        fields[5],
    ]
    .join(" ")
}

/// Squares in UCI notation on the board turned.
fn other_rank(text: &str) -> String {
    let turned = |c: char| c.to_digit(10).map_or(c, |rank| (b'9' - rank as u8) as char);
    text.chars().map(turned).collect()
}

#[test]
fn a_colour_flip_changes_nothing_else() {
    let fens = include_str!("../../../tests/data/historic-positions.fen");
    for fen in fens.lines().step_by(60) {
        let one = think(fen, &nodes(5_000));
        let other = think(&exchanged(fen), &nodes(5_000));
        assert_eq!(one.score, other.score, "{fen}");
        assert_eq!((one.depth, one.nodes), (other.depth, other.nodes), "{fen}");
        assert_eq!(uci(&one), other_rank(&uci(&other)), "{fen}");
    }
}

#[test]
fn the_node_limit_is_never_exceeded() {
    let start = Chess::default();
    for limit in [0, 1, 2, 37, 1_000, 10_000] {
        let thought = Thinker::new(TABLE).think(&start, &[], &nodes(limit), &mut |_| ());
        assert!(thought.nodes <= limit, "{} of {limit}", thought.nodes);
        assert!(thought.best.is_some());
    }
}

#[test]
fn each_depth_is_told_in_turn() {
    let limits = Limits {
        depth: Some(5),
        ..Limits::default()
    };
    let mut depths = Vec::new();
    let thought = Thinker::new(TABLE).think(&Chess::default(), &[], &limits, &mut |told| {
        depths.push(told.depth);
    });
    assert_eq!(depths, [1, 2, 3, 4, 5]);
    assert_eq!(thought.depth, 5);
}

#[test]
fn it_stops_when_told_to_and_when_time_is_up() {
    let stop = AtomicBool::new(true);
    let told = Limits {
        stop: Some(&stop),
        ..Limits::default()
    };
    let out_of_time = Limits {
        time: Some(Duration::from_millis(30)),
        ..Limits::default()
    };
    for limits in [told, out_of_time] {
        let thought = Thinker::new(TABLE).think(&Chess::default(), &[], &limits, &mut |_| ());
        assert!(thought.best.is_some());
    }
}

/// A side a rook and more behind holds by checking for ever.
#[test]
fn a_perpetual_check_is_a_draw() {
    let fen = "6k1/6p1/8/6KQ/1r6/q2b4/8/8 w - - 0 1";
    let thought = think(fen, &nodes(100_000));
    assert_eq!(thought.score, Score::Centipawns(0));
    assert_eq!(uci(&thought), "h5e8");
}

/// Black has a bare king against a queen, but the same four moves have been played twice: going
/// round once more brings a position about for the third time.
#[test]
fn the_game_before_counts_for_repetition() {
    let fen = "7k/8/8/8/8/8/8/1Q4K1 b - - 0 1";
    let round = "h8g8 b1c1 g8h8 c1b1";
    let (before, now) = played(fen, &format!("{round} {round}"));
    let score = |before: &[Chess]| {
        let thought = Thinker::new(TABLE).think(&now, before, &nodes(20_000), &mut |_| ());
        (thought.score, uci(&thought))
    };
    assert_eq!(score(&before), (Score::Centipawns(0), "h8g8".to_owned()));
    let with_now: Vec<Chess> = before.iter().chain([&now]).cloned().collect();
    assert_eq!(score(&with_now), score(&before));
    let (unaware, _) = score(&[]);
    assert!(matches!(
        unaware,
        Score::Mated(_) | Score::Centipawns(..-300)
    ));
}

/// A rook's win is no win when the fiftieth move without a capture or a pawn move is due.
#[test]
fn fifty_moves_without_progress_are_a_draw() {
    let score = |quiet_plies: u32| {
        let fen = format!("4k3/8/8/8/8/8/8/R3K3 w - - {quiet_plies} 80");
        think(&fen, &nodes(20_000)).score
    };
    assert_eq!(score(99), Score::Centipawns(0));
    assert_eq!(score(u32::MAX), Score::Centipawns(0));
    assert!(matches!(score(0), Score::Centipawns(300..)));
}

/// Endings that every player learns to win, played out against itself.
#[test]
fn bare_kings_are_mated() {
    for fen in [
        "8/8/8/4k3/8/8/8/R3K3 w - - 0 1",
        "8/8/8/4k3/8/8/8/3QK3 w - - 0 1",
        "4k3/8/4K3/4P3/8/8/8/8 w - - 0 1",
    ] {
        let mut thinker = Thinker::new(TABLE);
        let (mut now, mut before) = (position(fen), Vec::new());
        while !now.is_game_over() && before.len() < 100 {
            let thought = thinker.think(&now, &before, &nodes(20_000), &mut |_| ());
            before.push(now.clone());
            now.play_unchecked(thought.best.expect("a move"));
        }
        assert!(now.is_checkmate(), "{fen}: {}", rules::fen(&now));
    }
}
