//! Colours exchanged and the board turned. Every thought is thought with White to move, so that
//! a colour flip changes nothing else: not the order of moves, nor what meets in the table.

use shakmaty::{
    Board, CastlingMode, Chess, EnPassantMode, FromSetup, Move, Piece, Position, PositionError,
    Setup,
};

use super::limits::Thought;

/// The position with colours exchanged and the board turned.
pub(super) fn exchanged(position: &Chess) -> Option<Chess> {
    let setup = position.to_setup(EnPassantMode::PseudoLegal);
    let mut board = Board::empty();
    for (square, piece) in setup.board {
        let exchanged = Piece {
            color: !piece.color,
            role: piece.role,
        };
        board.set_piece_at(square.flip_vertical(), exchanged);
    }
    let exchanged = Setup {
        board,
        turn: !setup.turn,
        castling_rights: setup.castling_rights.flip_vertical(),
        ep_square: setup.ep_square.map(|square| square.flip_vertical()),
        ..setup
    };
    // What was let pass on the position itself is let pass here too.
    Chess::from_setup(exchanged, CastlingMode::Standard)
        .or_else(PositionError::ignore_impossible_check)
        .ok()
}

/// A thought about a position, from one about it with colours exchanged.
pub(super) fn exchanged_thought(thought: &Thought) -> Thought {
    Thought {
        best: thought.best.map(exchanged_move),
        line: thought.line.iter().copied().map(exchanged_move).collect(),
        ..*thought
    }
}

fn exchanged_move(m: Move) -> Move {
    match m {
        Move::Normal {
            role,
            from,
            capture,
            to,
            promotion,
        } => Move::Normal {
            role,
            from: from.flip_vertical(),
            capture,
            to: to.flip_vertical(),
            promotion,
        },
        Move::EnPassant { from, to } => Move::EnPassant {
            from: from.flip_vertical(),
            to: to.flip_vertical(),
        },
        Move::Castle { king, rook } => Move::Castle {
            king: king.flip_vertical(),
            rook: rook.flip_vertical(),
        },
        Move::Put { role, to } => Move::Put {
            role,
            to: to.flip_vertical(),
        },
    }
}
