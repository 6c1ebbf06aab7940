//! Alpha-beta against pure minimax, and the colours changed, on seeded positions.

use fastness_reference::{Chance, MATE, Values, balance, danger, minimax, nets, value};
use shakmaty::{
    Board, CastlingMode, Chess, Color, EnPassantMode, FromSetup, Piece, Position, Role, Setup,
    Square,
};

/// Two kings and `units` more on random squares, legal, either side to move.
fn few_units(chance: &mut Chance, units: usize) -> Chess {
    loop {
        let mut setup = Setup::empty();
        setup.board = scatter(chance, units);
        setup.turn = [Color::White, Color::Black][chance.below(2)];
        if let Ok(pos) = Chess::from_setup(setup, CastlingMode::Standard) {
            return pos;
        }
    }
}

fn scatter(chance: &mut Chance, units: usize) -> Board {
    const ROLES: [Role; 6] = [
        Role::Pawn,
        Role::Pawn,
        Role::Knight,
        Role::Bishop,
        Role::Rook,
        Role::Queen,
    ];
    let mut board = Board::empty();
    let kings = [Color::White, Color::Black].map(|color| Piece {
        color,
        role: Role::King,
    });
    let others: Vec<Piece> = (0..units)
        .map(|_| Piece {
            color: [Color::White, Color::Black][chance.below(2)],
            role: ROLES[chance.below(ROLES.len())],
        })
        .collect();
    for piece in kings.into_iter().chain(others) {
        board.set_piece_at(Square::ALL[chance.below(64)], piece);
    }
    board
}

fn random_play(chance: &mut Chance, plies: usize) -> Chess {
    let mut pos = Chess::default();
    for _ in 0..plies {
        let moves = pos.legal_moves();
        if moves.is_empty() {
            break;
        }
        pos.play_unchecked(moves[chance.below(moves.len())]);
    }
    pos
}

fn with_colours_changed(pos: &Chess) -> Chess {
    let setup = pos.to_setup(EnPassantMode::Legal).into_mirrored();
    Chess::from_setup(setup, CastlingMode::Standard).expect("legal with the colours changed")
}

#[test]
fn alphabeta_and_minimax_agree() {
    let mut chance = Chance::new(31);
    let (mut mates, mut quiet) = (0, 0);
    for number in 0..200 {
        // Four plies without a window cost too much beside many units.
        let (units, most_plies) = [(2, 4), (3, 4), (4, 3), (6, 2)][number % 4];
        let pos = few_units(&mut chance, units);
        let attacker = [Color::White, Color::Black][number / 2 % 2];
        let values = [Values::classical(), Values::berliner()][number / 4 % 2];
        let present = balance(pos.board(), &values, attacker);
        let base = present + [0, 0, 100, -300][number / 4 % 4];
        for plies in 1..=most_plies {
            let fast = value(&pos, &values, plies, attacker, base);
            let plain = minimax(&pos, &values, plies, attacker, base);
            assert_eq!(fast, plain, "{pos:?} at {plies} plies for {attacker:?}");
            mates += usize::from(plain.abs() > MATE / 2);
            quiet += usize::from(plain.abs() <= MATE / 2);
        }
    }
    assert!(mates >= 10 && quiet >= 100, "{mates} mates, {quiet} others");
}

#[test]
fn changing_the_colours_changes_nothing_else() {
    let mut chance = Chance::new(32);
    let values = Values::kaufman();
    for number in 0..60 {
        let pos = match number % 2 {
            0 => few_units(&mut chance, 4),
            _ => random_play(&mut chance, number),
        };
        let flipped = with_colours_changed(&pos);
        let base = balance(pos.board(), &values, pos.turn().other());
        assert_eq!(
            danger(&pos, &values, 1, base),
            danger(&flipped, &values, 1, base),
            "{pos:?}"
        );
        let sorted = |pos: &Chess| {
            let mut all: Vec<i32> = nets(pos, &values, 1, base).iter().map(|n| n.1).collect();
            all.sort_unstable();
            all
        };
        assert_eq!(sorted(&pos), sorted(&flipped), "{pos:?}");
    }
}
