//! Positions small enough to work out on a board, each with the reason for its number.

use fastness_reference::{MATE, Values, balance, danger, minimax, net, nets, pass, value};
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, Chess, Color, Move, Position, fen::Fen};

const CLASSICAL: Values = Values::classical();

fn position(fen: &str) -> Chess {
    let fen: Fen = fen.parse().expect("a FEN");
    fen.into_position(CastlingMode::Standard)
        .expect("a legal position")
}

fn legal(pos: &Chess, uci: &str) -> Move {
    let uci: UciMove = uci.parse().expect("a move");
    uci.to_move(pos).expect("a legal move")
}

/// The balance in the position itself, as the opponent of the side to move sees it.
fn own_base(pos: &Chess) -> i32 {
    balance(pos.board(), &CLASSICAL, pos.turn().other())
}

/// FEN, plies, White's base, value for White, the reason.
const VALUES: &[(&str, u32, i32, i32, &str)] = &[
    (
        "R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1",
        0,
        200,
        MATE,
        "already mate: quiescence finds no evasion",
    ),
    (
        "R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1",
        4,
        200,
        MATE,
        "already mate, with plies left",
    ),
    (
        "6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1",
        1,
        200,
        MATE - 1,
        "Ra8 mate on the back rank",
    ),
    (
        "6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1",
        0,
        200,
        0,
        "quiescence looks for no quiet move, mate or not",
    ),
    (
        "7k/8/8/8/8/8/R7/1R5K w - - 0 1",
        3,
        1000,
        MATE - 3,
        "Ra7 takes the seventh rank away, then Rb8 mate",
    ),
    (
        "7k/8/8/8/8/8/R7/1R5K w - - 0 1",
        2,
        1000,
        0,
        "the mating move lies beyond two plies",
    ),
    (
        "7k/8/8/8/8/1r6/r7/7K b - - 0 1",
        1,
        -1000,
        1 - MATE,
        "Black mates at once on the first rank",
    ),
    (
        "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1",
        1,
        100,
        0,
        "stalemate is 0 whatever the base",
    ),
    (
        "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1",
        0,
        100,
        800,
        "stalemate is not looked for in quiescence: Black stands on the balance",
    ),
    (
        "8/P6k/8/8/8/8/8/K7 w - - 0 1",
        0,
        100,
        800,
        "a8=Q is part of quiescence",
    ),
    (
        "1n6/P6k/8/8/8/8/8/K7 w - - 0 1",
        0,
        -200,
        1100,
        "axb8=Q: the knight and a queen for the pawn",
    ),
    (
        "8/3q1P1k/8/8/8/8/8/K7 w - - 0 1",
        0,
        -800,
        800,
        "quiescence promotes to a queen only",
    ),
    (
        "8/3q1P1k/8/8/8/8/8/K7 w - - 0 1",
        1,
        -800,
        1100,
        "f8=N+ forks king and queen: a knight and the queen for the pawn",
    ),
    (
        "4q3/5P1k/8/8/8/8/8/K7 w - - 0 1",
        0,
        -800,
        1700,
        "fxe8=Q, a capture that promotes",
    ),
    (
        "8/8/8/k7/3pP3/8/8/K7 b - e3 0 1",
        0,
        0,
        -100,
        "Black takes en passant in quiescence",
    ),
    (
        "8/8/8/k7/3pP3/8/8/K7 b - - 0 1",
        0,
        0,
        0,
        "without the right there is nothing to take",
    ),
    (
        "8/8/8/8/k7/8/1r6/K7 w - - 0 1",
        0,
        -500,
        500,
        "a king may take what is not guarded",
    ),
    (
        "8/8/8/8/8/k7/1r6/K7 w - - 0 1",
        0,
        -500,
        0,
        "but not what is guarded",
    ),
    (
        "8/6pP/1k2R3/2R5/8/8/6R1/6BK b - - 0 1",
        0,
        1800,
        MATE - 4,
        "king to the seventh, Rxg7+, king to the eighth, h8=Q mate: four plies of quiescence",
    ),
    (
        "8/6pP/4p3/k1R5/4R3/8/6R1/6BK b - - 0 1",
        0,
        1700,
        1000,
        "the same with Rxe6+ before it: the check on the sixth ply is not answered, so it is no \
         mate, but both pawns fall and a queen is made",
    ),
    (
        "4k3/8/8/8/8/8/4q3/4K2R w K - 0 1",
        0,
        -400,
        900,
        "in check one cannot stand: the king takes the queen",
    ),
];

#[test]
fn values_worked_out_by_hand() {
    for &(fen, plies, base, expected, reason) in VALUES {
        let pos = position(fen);
        let white = value(&pos, &CLASSICAL, plies, Color::White, base);
        let black = value(&pos, &CLASSICAL, plies, Color::Black, -base);
        let plain = minimax(&pos, &CLASSICAL, plies, Color::White, base);
        assert_eq!(white, expected, "{fen} at {plies} plies: {reason}");
        assert_eq!(black, -expected, "{fen} seen by Black: {reason}");
        assert_eq!(plain, expected, "{fen} by minimax: {reason}");
    }
}

#[test]
fn passing_differs_from_moving_in_mutual_zugzwang() {
    let pos = position("8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1");
    // If White could pass, Black's king would have to let go of e5.
    assert_eq!(danger(&pos, &CLASSICAL, 1, 0), Some(-100));
    // White has no pass: every move lets go of e4.
    let moves = nets(&pos, &CLASSICAL, 1, 0);
    assert_eq!(moves.len(), 5);
    assert!(moves.iter().all(|(_, net)| *net == -100), "{moves:?}");
}

#[test]
fn danger_is_what_falls_after_a_pass() {
    let pos = position("4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1");
    let base = own_base(&pos);
    assert_eq!(base, -200);
    assert_eq!(danger(&pos, &CLASSICAL, 1, base), Some(300));
    // Nf6 attacks the pawn and is safe; Ne3 is safe as well; Nb4 gains nothing.
    for quiet in ["d5f6", "d5e3", "d5b4"] {
        assert_eq!(
            net(&pos, legal(&pos, quiet), &CLASSICAL, 1, base),
            0,
            "{quiet}"
        );
    }
    // A king move that guards nothing leaves the knight to the pawn.
    assert_eq!(net(&pos, legal(&pos, "e8f8"), &CLASSICAL, 1, base), -300);
}

#[test]
fn the_base_of_a_trade_is_the_balance_before_it() {
    // After 1.e4 e5 2.Nf3 Nc6 3.Bb5 a6 4.Bxc6 nothing was won or lost before the trade.
    let fen = "r1bqkbnr/1ppp1ppp/p1B5/4p3/4P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 4";
    let pos = position(fen);
    assert_eq!(own_base(&pos), 300);
    assert_eq!(net(&pos, legal(&pos, "h7h6"), &CLASSICAL, 1, 0), -300);
    assert_eq!(net(&pos, legal(&pos, "h7h6"), &CLASSICAL, 1, 300), 0);
    // Taking back leaves e5 to Nxe5; the queen wins it back one move later.
    assert_eq!(net(&pos, legal(&pos, "d7c6"), &CLASSICAL, 1, 0), -100);
    assert_eq!(net(&pos, legal(&pos, "d7c6"), &CLASSICAL, 2, 0), 0);
}

#[test]
fn no_pass_in_check_and_en_passant_lapses() {
    let in_check = position("4k3/8/8/8/8/8/4q3/4K2R w K - 0 1");
    assert!(pass(&in_check).is_none());
    assert_eq!(danger(&in_check, &CLASSICAL, 1, 0), None);

    let pos = position("4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 1");
    assert!(pos.legal_moves().iter().any(|m| m.is_en_passant()));
    let passed = pass(&pos).expect("not in check");
    assert_eq!(passed.turn(), Color::White);
    let again = pass(&passed).expect("not in check");
    assert_eq!(again.turn(), Color::Black);
    assert!(!again.legal_moves().iter().any(|m| m.is_en_passant()));
}

#[test]
fn tables_count_as_published() {
    // Two bishops and a queen against two knights and a rook.
    let pos = position("nn2k2r/8/8/8/8/8/8/BB1QK3 w - - 0 1");
    for (values, expected) in [
        (Values::classical(), 900 + 600 - 600 - 500),
        (Values::turing(), 1000 + 700 - 600 - 500),
        (Values::kaufman(), 975 + 650 - 650 - 500),
        (Values::berliner(), 880 + 666 - 640 - 510),
    ] {
        assert_eq!(balance(pos.board(), &values, Color::White), expected);
        assert_eq!(balance(pos.board(), &values, Color::Black), -expected);
    }
}
