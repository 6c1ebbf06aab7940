//! Positions made of choices: reached by legal moves, or put together unit by unit.

use shakmaty::{
    CastlingMode, Chess, Color, EnPassantMode, FromSetup, Piece, Position, Role, Setup, Square,
};

use crate::choices::Choices;

/// A position put together holds no more units than this beside the kings: the plain search has no
/// bounds of its own, and with many queens its quiescence has no end that one could wait for.
const MOST_UNITS: usize = 10;
/// Plies played at most before the position is looked at.
const MOST_PLIES: usize = 120;

/// The position that the choices lead to; `None` where no such position can stand on a board.
pub(crate) fn position(choices: &mut Choices<'_>) -> Option<Chess> {
    let start = if choices.below(2) == 0 {
        Chess::default()
    } else {
        put_together(choices)?
    };
    Some(played(start, choices))
}

fn put_together(choices: &mut Choices<'_>) -> Option<Chess> {
    const ROLES: [Role; 5] = [
        Role::Pawn,
        Role::Knight,
        Role::Bishop,
        Role::Rook,
        Role::Queen,
    ];
    let mut setup = Setup::empty();
    for color in Color::ALL {
        let king = Piece {
            color,
            role: Role::King,
        };
        setup
            .board
            .set_piece_at(Square::new(choices.below(64) as u32), king);
    }
    for _ in 0..choices.below(MOST_UNITS + 1) {
        let square = Square::new(choices.below(64) as u32);
        let piece = Piece {
            color: choices.of(&Color::ALL),
            role: choices.of(&ROLES),
        };
        if setup.board.role_at(square) != Some(Role::King) {
            setup.board.set_piece_at(square, piece);
        }
    }
    setup.turn = choices.of(&Color::ALL);
    Chess::from_setup(setup, CastlingMode::Standard).ok()
}

fn played(mut position: Chess, choices: &mut Choices<'_>) -> Chess {
    for _ in 0..MOST_PLIES {
        let moves = position.legal_moves();
        if choices.done() || moves.is_empty() {
            break;
        }
        position.play_unchecked(moves[choices.below(moves.len())]);
    }
    position
}

/// The position as a FEN, to say which one it was.
pub(crate) fn told(position: &Chess) -> String {
    shakmaty::fen::Fen::from_position(position, EnPassantMode::Legal).to_string()
}
