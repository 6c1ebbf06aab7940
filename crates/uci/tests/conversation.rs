//! Whole conversations with a scripted thinker.

#[cfg(test)]
mod scripted;

use fastness_uci::Score;
use scripted::Client;

const MEGABYTE: usize = 1 << 20;

fn best_moves(lines: &[String]) -> usize {
    lines
        .iter()
        .filter(|line| line.starts_with("bestmove"))
        .count()
}

#[test]
fn it_introduces_itself() {
    let mut client = Client::new();
    client.send("uci");
    let lines = client.until("uciok");
    assert_eq!(
        lines[0],
        format!("id name fastness {}", env!("CARGO_PKG_VERSION"))
    );
    assert_eq!(
        lines[2..4],
        [
            "option name Hash type spin default 16 min 1 max 1024",
            "option name Clear Hash type button"
        ]
    );
    assert!(client.end().is_empty());
}

#[test]
fn each_depth_is_told_and_then_the_best_move() {
    let mut client = Client::new();
    client.send("go depth 3");
    let lines = client.until("bestmove");
    assert_eq!(lines.len(), 4);
    for (depth, line) in (1..).zip(&lines[..3]) {
        let nodes = depth * 100;
        let beginning = format!("info depth {depth} score cp 20 nodes {nodes} nps ");
        assert!(line.starts_with(&beginning), "{line}");
    }
    let played = lines[3].replace("bestmove ", "");
    assert!(lines[2].ends_with(&format!(" pv {played}")), "{lines:?}");
}

#[test]
fn limits_reach_the_thinker() {
    let mut client = Client::new();
    client.send("go nodes 250");
    assert_eq!(client.until("bestmove").len(), 3);
    client.send("go movetime 20");
    assert!(client.until("bestmove").len() > 1);
    client.send("go wtime 60 btime 60000");
    assert!(client.until("bestmove").len() > 1);
}

#[test]
fn ready_is_answered_and_stop_obeyed_while_it_thinks() {
    let mut client = Client::new();
    client.send("go infinite");
    client.until("info depth 2");
    assert_eq!(best_moves(&client.before_ready()), 0);
    client.send("stop");
    client.until("bestmove");
    client.send("stop");
    assert!(client.before_ready().is_empty());
    assert!(client.end().is_empty());
}

#[test]
fn an_infinite_search_that_has_ended_waits_for_stop() {
    for word in ["infinite", "ponder"] {
        let mut client = Client::new();
        client.send(&format!("go depth 2 {word}"));
        client.until("info depth 2");
        std::thread::sleep(std::time::Duration::from_millis(50));
        assert!(client.before_ready().is_empty());
        client.send("stop");
        assert_eq!(client.until("bestmove").len(), 1);
    }
}

#[test]
fn ponderhit_ends_pondering_and_nothing_else() {
    let mut client = Client::new();
    client.send("ponderhit");
    client.send("go infinite");
    client.until("info depth 1");
    client.send("ponderhit");
    client.until("info depth 20");
    assert_eq!(best_moves(&client.before_ready()), 0);
    client.send("stop");
    client.until("bestmove");
    client.send("go ponder wtime 1000 btime 1000");
    client.until("info depth 1");
    client.send("ponderhit");
    client.until("bestmove");
    assert!(client.end().is_empty());
}

#[test]
fn every_go_has_one_best_move() {
    let mut client = Client::new();
    client.send("go infinite\ngo infinite\nucinewgame\ngo depth 1\nposition startpos moves e2e4");
    client.send("go");
    for _ in 0..3 {
        client.until("bestmove");
    }
    // The end of the input is the end of the last one.
    assert_eq!(best_moves(&client.end()), 1);
}

#[test]
fn quit_ends_the_conversation() {
    let mut client = Client::new();
    client.send("go infinite\nquit\nisready");
    let lines = client.end();
    assert_eq!(best_moves(&lines), 1);
    assert!(!lines.contains(&"readyok".to_owned()));
}

#[test]
fn a_game_without_moves_has_no_best_move() {
    let mut client = Client::new();
    client.send("position fen 7k/5Q2/6K1/8/8/8/8/8 b - - 0 1\ngo nodes 100");
    assert_eq!(client.until("bestmove").last().unwrap(), "bestmove 0000");
}

#[test]
fn a_mate_in_so_many_moves_ends_the_search_for_it() {
    let mut client = Client::with_scores(&[Score::Centipawns(0), Score::Mates(5), Score::Mates(3)]);
    client.send("go mate 2");
    let lines = client.until("bestmove");
    assert_eq!(lines.len(), 4);
    assert!(lines[2].contains(" score mate 2 "), "{lines:?}");
    client.send("go mate 1");
    assert_eq!(
        client.until("bestmove").len(),
        3,
        "mate in 1 is looked for to 2 plies"
    );
}

#[test]
fn only_the_moves_asked_for_are_thought_about() {
    let mut client = Client::with_scores(&[Score::Centipawns(7)]);
    client.send("go depth 2 searchmoves joho e2e5 a2a3 h2h3");
    assert_eq!(
        client.until("bestmove").len(),
        3,
        "the list ends at the first that is no move"
    );
    client.send("go depth 2 searchmoves e2e5 h2h3 a2a3");
    let lines = client.until("bestmove");
    assert_eq!(lines.len(), 3);
    assert!(
        lines[1].starts_with("info depth 2 score cp -7 "),
        "{lines:?}"
    );
    assert!(lines[1].contains(" pv h2h3 "), "{lines:?}");
    assert_eq!(lines[2], "bestmove h2h3");
    for limit in [
        "nodes 1",
        "nodes 350",
        "movetime 0",
        "movetime 10",
        "mate 1",
    ] {
        client.send(&format!("go {limit} searchmoves h2h3 a2a3"));
        assert_eq!(
            client.until("bestmove").last().unwrap(),
            "bestmove h2h3",
            "{limit}"
        );
    }
    client.send("go infinite searchmoves h2h3");
    client.until("info depth 3");
    client.send("stop");
    assert_eq!(client.until("bestmove").last().unwrap(), "bestmove h2h3");
}

#[test]
fn the_thinker_hears_of_games_options_and_positions() {
    let mut client = Client::new();
    client.send("setoption name hash value 32\nsetoption name Clear Hash\nucinewgame");
    client.send("setoption name Nonesuch value 3\nsetoption name\nsetoption");
    client.send("position startpos moves g1f3 g8f6\ngo depth 1");
    client.until("bestmove");
    assert_eq!(
        client.heard(),
        [
            format!("resize {}", 16 * MEGABYTE),
            format!("resize {}", 32 * MEGABYTE),
            "forget".to_owned(),
            "forget".to_owned(),
            "think 2 rnbqkb1r/pppppppp/5n2/8/8/5N2/PPPPPPPP/RNBQKB1R w KQkq - 2 2".to_owned(),
        ]
    );
}

#[test]
fn bad_positions_are_told_and_the_old_one_kept() {
    let mut client = Client::new();
    client.send("position startpos moves e2e4");
    for (bad, told) in [
        ("startpos moves e2e5", "move 1, \"e2e5\", is not legal in "),
        ("fen joho", "\"joho\" is not a FEN: "),
        (
            "fen 8/8/8/8/8/8/8/8 w - - 0 1",
            "\"8/8/8/8/8/8/8/8 w - - 0 1\" cannot ",
        ),
    ] {
        client.send(&format!("position {bad}"));
        let lines = client.before_ready();
        assert_eq!(lines.len(), 1);
        assert!(
            lines[0].starts_with(&format!("info string {told}")),
            "{lines:?}"
        );
        assert!(
            lines[0].ends_with("/PPPP1PPP/RNBQKBNR b KQkq - 0 1"),
            "{lines:?}"
        );
    }
    client.send("setoption name Hash value 5000");
    assert!(client.before_ready()[0].contains("1 to 1024"));
    client.send("go depth 1");
    client.until("bestmove");
    let last = client.heard().pop().unwrap();
    assert_eq!(
        last,
        "think 1 rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1"
    );
}

#[test]
fn nonsense_is_passed_over_and_told_in_debug() {
    let mut client = Client::new();
    client.send("joho\n\n \t\nregister later\ndebug maybe\nposition");
    client.send_bytes(b"\xff\xfe\x00\x1b[2J\r\n");
    assert!(client.before_ready().is_empty());
    client.send("joho debug on\njoho");
    client.send_bytes(b"\x1b[2J\n");
    assert_eq!(
        client.before_ready(),
        [
            "info string nothing to do in \"joho\"",
            "info string nothing to do in \"\u{fffd}[2J\""
        ]
    );
    client.send("debug off\njoho");
    assert!(client.before_ready().is_empty());
}
