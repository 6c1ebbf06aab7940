//! The evaluation: seen from either side of the board it is the same, and its terms make it up.

use fastness_core::evaluation::{Sample, Terms, evaluate, sample, sides, terms};
use fastness_core::rules;
use shakmaty::{
    Bitboard, Board, Chess, Color, EnPassantMode, FromSetup, Piece, Position, Setup, Square,
};

fn positions() -> impl Iterator<Item = Chess> {
    include_str!("../../../tests/data/historic-positions.fen")
        .lines()
        .map(|fen| rules::position(fen).expect("a legal position"))
}

/// The position with every unit moved to another square, and perhaps of the other colour.
fn moved(position: &Chess, to: impl Fn(Square) -> Square, colors_swap: bool) -> Option<Chess> {
    let color = |color: Color| if colors_swap { !color } else { color };
    let setup = position.clone().to_setup(EnPassantMode::Legal);
    let mut board = Board::empty();
    for (square, piece) in setup.board {
        let piece = Piece {
            color: color(piece.color),
            role: piece.role,
        };
        board.set_piece_at(to(square), piece);
    }
    let moved = Setup {
        board,
        turn: color(setup.turn),
        castling_rights: setup
            .castling_rights
            .into_iter()
            .map(&to)
            .collect::<Bitboard>(),
        ep_square: setup.ep_square.map(&to),
        ..setup
    };
    Chess::from_setup(moved, shakmaty::CastlingMode::Standard).ok()
}

fn negated(terms: Terms) -> Terms {
    Terms::default() - terms
}

#[test]
fn a_colour_flip_negates_every_term() {
    for position in positions() {
        let flipped = moved(&position, Square::flip_vertical, true).expect("legal");
        assert_eq!(
            terms(&flipped),
            negated(terms(&position)),
            "{}",
            rules::fen(&position)
        );
        assert_eq!(sides(&flipped).white, sides(&position).black);
    }
}

#[test]
fn a_mirror_without_castling_changes_nothing() {
    let mut seen = 0;
    for position in positions().filter(|position| position.castles().is_empty()) {
        let mirrored = moved(&position, Square::flip_horizontal, false).expect("legal");
        assert_eq!(
            terms(&mirrored),
            terms(&position),
            "{}",
            rules::fen(&position)
        );
        seen += 1;
    }
    assert!(seen > 300, "{seen}");
}

#[test]
fn the_terms_make_up_the_evaluation() {
    for position in positions() {
        let terms = terms(&position);
        assert_eq!(terms.values().iter().sum::<i32>(), evaluate(&position));
        let sides = sides(&position);
        assert_eq!(sides.white - sides.black, terms);
        assert_eq!(*sides.of(Color::White) - *sides.of(Color::Black), terms);
    }
    assert_eq!(Terms::names().len(), Terms::default().values().len());
}

#[test]
fn the_start_position_is_even_but_for_the_move() {
    let terms = terms(&Chess::default());
    assert_eq!(terms.total(), terms.threats);
    assert!((1..50).contains(&terms.threats), "{terms:?}");
}

/// Two positions that differ in one thing, and the term that must say so in White's favour.
const BETTER: [(&str, &str, &str, &str); 9] = [
    (
        "material",
        "a knight more",
        "4k3/pppp4/8/8/8/8/PPPP4/1N2K3 w - - 0 1",
        "4k3/pppp4/8/8/8/8/PPPP4/4K3 w - - 0 1",
    ),
    (
        "placement",
        "a knight in the centre",
        "4k3/pppp4/8/8/3N4/8/PPPP4/4K3 w - - 0 1",
        "4k3/pppp4/8/8/8/8/PPPP4/N3K3 w - - 0 1",
    ),
    (
        "mobility",
        "a bishop that its own pawns do not shut in",
        "r2qk2r/pppppppp/8/8/2B5/4P3/PPPP1PPP/R2QK2R w - - 0 1",
        "r2qk2r/pppppppp/8/8/8/4P3/PPPP1PPP/R2QKB1R w - - 0 1",
    ),
    (
        "king_shelter",
        "pawns in front of the king",
        "r2q1rk1/5ppp/8/8/8/8/5PPP/R2Q1RK1 w - - 0 1",
        "r2q1rk1/5ppp/8/8/8/8/PPP5/R2Q1RK1 w - - 0 1",
    ),
    (
        "pawns",
        "a passed pawn far on",
        "4k3/8/8/P7/8/8/8/4K3 w - - 0 1",
        "4k3/8/8/8/8/P7/8/4K3 w - - 0 1",
    ),
    (
        "pawns",
        "pawns side by side and not doubled",
        "4k3/ppp5/8/8/8/8/PPP5/4K3 w - - 0 1",
        "4k3/ppp5/8/8/8/P7/P1P5/4K3 w - - 0 1",
    ),
    (
        "bishop_pair",
        "two bishops against one",
        "2b1k3/pppp4/8/8/8/8/PPPP4/2B1KB2 w - - 0 1",
        "2b1k3/pppp4/8/8/8/8/PPPP4/2B1K3 w - - 0 1",
    ),
    (
        "rooks_on_files",
        "a rook on the open file",
        "r3k3/ppp1pppp/8/8/8/8/PPP1PPPP/3RK3 w - - 0 1",
        "r3k3/ppp1pppp/8/8/8/8/PPP1PPPP/R3K3 w - - 0 1",
    ),
    (
        "threats",
        "a pawn that attacks a knight",
        "4k3/pppp4/2n5/3P4/8/8/PPP5/4K3 w - - 0 1",
        "4k3/pppp4/2n5/8/3P4/8/PPP5/4K3 w - - 0 1",
    ),
];

#[test]
fn each_term_says_what_is_better() {
    for (name, what, better, worse) in BETTER {
        let at = Terms::names()
            .iter()
            .position(|&known| known == name)
            .expect("a term");
        let of = |fen: &str| terms(&rules::position(fen).expect("legal")).values()[at];
        let (better, worse) = (of(better), of(worse));
        assert!(better > worse, "{name}, {what}: {better} and {worse}");
    }
}

#[test]
fn what_cannot_be_won_is_a_draw() {
    for fen in [
        "4k3/8/8/8/8/8/8/4K3 w - - 0 1",
        "4k3/8/8/8/8/8/8/2B1K3 w - - 0 1",
        "4k3/8/8/8/8/8/8/1NN1K3 w - - 0 1",
    ] {
        assert_eq!(evaluate(&rules::position(fen).expect("legal")), 0, "{fen}");
    }
}

/// What the fit sees is what the evaluation adds up.
#[test]
fn samples_count_what_the_terms_weigh() {
    let names = Sample::names();
    let at = |name: &str| names.iter().position(|known| known == name).expect(name);
    let position = rules::position("4k3/pppp4/8/8/3N4/8/PPPP4/4K3 w - - 0 1").expect("legal");
    let sample = sample(&position);
    assert_eq!(sample.counts.len(), names.len());
    assert_eq!(sample.counts[at("material knight")], 1);
    assert_eq!(sample.counts[at("material pawn")], 0);
    assert_eq!(sample.counts[at("file knight")], 3);
    assert_eq!(sample.counts[at("to move")], 1);
    assert!((sample.middle - 3.0 / 62.0).abs() < 1e-9);
    assert!((sample.scale - 1.0).abs() < 1e-9);
}
