//! The edges of the core where the rules library is the judge: positions in, moves out.

use shakmaty::{
    CastlingMode, Chess, EnPassantMode, Position, PositionErrorKinds, fen::Fen, san::SanPlus,
    uci::UciMove,
};

use crate::search::{Move, SearchBoard};
use crate::trade::Standpoint;
use crate::values::Values;

/// Why a position or a move could not be used: a short code for programs and a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RulesError {
    pub code: &'static str,
    pub message: String,
}

impl std::fmt::Display for RulesError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for RulesError {}

const FAULTS: [(PositionErrorKinds, &str, &str); 9] = [
    (
        PositionErrorKinds::EMPTY_BOARD,
        "empty",
        "the board is empty; each side needs a king",
    ),
    (
        PositionErrorKinds::MISSING_KING,
        "no_king",
        "a king is missing; each side needs exactly one",
    ),
    (
        PositionErrorKinds::TOO_MANY_KINGS,
        "many_kings",
        "there are more than two kings; each side has exactly one",
    ),
    (
        PositionErrorKinds::PAWNS_ON_BACKRANK,
        "pawn_on_last_rank",
        "a pawn stands on the first or last rank, where none can be",
    ),
    (
        PositionErrorKinds::OPPOSITE_CHECK,
        "opposite_check",
        "the side that is not to move is in check; perhaps the other side is to move",
    ),
    (
        PositionErrorKinds::IMPOSSIBLE_CHECK,
        "impossible_check",
        "no last move could have given this check",
    ),
    (
        PositionErrorKinds::INVALID_CASTLING_RIGHTS,
        "castling_rights",
        "castling rights are given without king and rook at home",
    ),
    (
        PositionErrorKinds::INVALID_EP_SQUARE,
        "en_passant",
        "the en passant square has no pawn that just passed it",
    ),
    (
        PositionErrorKinds::TOO_MUCH_MATERIAL,
        "many_units",
        "a side has more than a game can give it; it has eight pawns at most, and one fewer for each \
         piece beyond those it began with",
    ),
];

/// The position of a FEN of six fields.
///
/// # Errors
///
/// `RulesError` where the text is no FEN, or no legal position can be so.
pub fn position(fen: &str) -> Result<Chess, RulesError> {
    let parsed: Fen = fen.parse().map_err(|error| RulesError {
        code: "fen",
        message: format!("\"{fen}\" is not a FEN: {error}."),
    })?;
    parsed
        .into_position(CastlingMode::Standard)
        .map_err(|illegal| {
            let kinds = illegal.kinds();
            let (code, why) = FAULTS
                .into_iter()
                .find(|(kind, _, _)| kinds.contains(*kind))
                .map_or(("position", "it breaks the rules"), |(_, code, why)| {
                    (code, why)
                });
            RulesError {
                code,
                message: format!("\"{fen}\" cannot stand on a board: {why}."),
            }
        })
}

/// The FEN of a position.
#[must_use]
pub fn fen(position: &Chess) -> String {
    Fen::from_position(position, EnPassantMode::Legal).to_string()
}

/// SAN of a legal move.
#[must_use]
pub fn san(position: &Chess, m: Move) -> String {
    SanPlus::from_move(position.clone(), rules_move(position, m)).to_string()
}

/// The rules library's form of a legal move.
///
/// # Panics
///
/// If the move is not legal in the position.
#[must_use]
pub fn rules_move(position: &Chess, m: Move) -> shakmaty::Move {
    position
        .legal_moves()
        .into_iter()
        .find(|candidate| {
            let to = candidate
                .castling_side()
                .map_or(candidate.to(), |side| side.king_to(position.turn()));
            candidate.from() == Some(m.from())
                && to == m.to()
                && candidate.promotion() == m.promotion()
        })
        .expect("moves of the search are legal")
}

/// A game: where it starts and the moves played, each legal where it stands.
pub struct Game {
    pub start: Standpoint,
    pub moves: Vec<Move>,
    /// The position before each move, and the last one.
    pub positions: Vec<Chess>,
}

impl Game {
    /// Plays moves in UCI notation from a FEN.
    ///
    /// # Errors
    ///
    /// `RulesError` for a bad FEN or for the first move that is not legal, with its number.
    pub fn play<S: AsRef<str>>(
        start: &str,
        moves: &[S],
        values: &Values,
    ) -> Result<Game, RulesError> {
        let mut position = position(start)?;
        let mut game = Game {
            start: Standpoint::bare(SearchBoard::new(&position, values)),
            moves: Vec::new(),
            positions: vec![position.clone()],
        };
        let mut board = game.start.board;
        for (number, text) in (1..).zip(moves) {
            let text = text.as_ref();
            let legal = text
                .parse::<UciMove>()
                .ok()
                .and_then(|uci| uci.to_move(&position).ok());
            let own = legal.and_then(|legal| {
                board
                    .legal_moves()
                    .into_iter()
                    .find(|&m| rules_move(&position, m) == legal)
            });
            let (Some(legal), Some(own)) = (legal, own) else {
                return Err(RulesError {
                    code: "move",
                    message: format!(
                        "move {number}, \"{text}\", is not legal in {}",
                        fen(&position)
                    ),
                });
            };
            position.play_unchecked(legal);
            board = board.after(own, values);
            game.moves.push(own);
            game.positions.push(position.clone());
        }
        Ok(game)
    }

    /// The standpoint after all the moves.
    #[must_use]
    pub fn last(&self, values: &Values) -> Standpoint {
        self.moves
            .iter()
            .fold(self.start, |standpoint, &m| standpoint.after(m, values))
    }
}
