//! The position to think about and those of the game before it.

use fastness_core::rules::{self, RulesError};
use shakmaty::uci::UciMove;
use shakmaty::{Chess, Move, Position};

/// A game as the client tells it.
#[derive(Clone, Default)]
pub struct Game {
    /// The earlier positions, oldest first.
    pub before: Vec<Chess>,
    pub position: Chess,
}

impl Game {
    /// The game that starts from `fen`, or from the start position, and goes on with `moves`.
    ///
    /// # Errors
    ///
    /// `RulesError` for a bad FEN or for the first move that is not legal.
    pub fn play(fen: Option<&str>, moves: &[String]) -> Result<Game, RulesError> {
        let mut game = Game {
            before: Vec::new(),
            position: fen.map_or_else(|| Ok(Chess::default()), rules::position)?,
        };
        for (number, text) in (1..).zip(moves) {
            let Some(legal) = text
                .parse::<UciMove>()
                .ok()
                .and_then(|uci| uci.to_move(&game.position).ok())
            else {
                return Err(RulesError {
                    code: "move",
                    message: format!(
                        "move {number}, \"{text}\", is not legal in {}.",
                        rules::fen(&game.position)
                    ),
                });
            };
            game.go_on(legal);
        }
        Ok(game)
    }

    /// The game after one more legal move.
    #[must_use]
    pub fn after(&self, m: Move) -> Game {
        let mut game = self.clone();
        game.go_on(m);
        game
    }

    /// Those of the moves that are legal now.
    #[must_use]
    pub fn legal(&self, moves: &[UciMove]) -> Vec<Move> {
        moves
            .iter()
            .filter_map(|uci| uci.to_move(&self.position).ok())
            .collect()
    }

    fn go_on(&mut self, legal: Move) {
        self.before.push(self.position.clone());
        self.position.play_unchecked(legal);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn play(fen: Option<&str>, moves: &str) -> Result<Game, RulesError> {
        let moves: Vec<String> = moves.split_whitespace().map(ToOwned::to_owned).collect();
        Game::play(fen, &moves)
    }

    #[test]
    fn earlier_positions_are_kept_oldest_first() {
        let game = play(None, "g1f3 g8f6 f3g1 f6g8").unwrap();
        assert_eq!(game.before.len(), 4);
        assert_eq!(game.before[0], Chess::default());
        assert_eq!(game.position.board(), Chess::default().board());
    }

    #[test]
    fn special_moves_are_read() {
        let castled = play(Some("4k3/8/8/8/8/8/8/4K2R w K - 0 1"), "e1g1").unwrap();
        assert_eq!(
            rules::fen(&castled.position),
            "4k3/8/8/8/8/8/8/5RK1 b - - 1 1"
        );
        let promoted = play(Some("8/P6k/8/8/8/8/8/K7 w - - 0 1"), "a7a8n").unwrap();
        assert_eq!(
            rules::fen(&promoted.position),
            "N7/7k/8/8/8/8/8/K7 b - - 0 1"
        );
    }

    #[test]
    fn the_first_illegal_move_is_named() {
        for (moves, named) in [
            ("e2e4 e2e4", "move 2, \"e2e4\", "),
            ("0000", "move 1, \"0000\", "),
            ("e2e4 joho", "move 2, \"joho\", "),
            ("e2e4 e7e5 N@e3", "move 3, \"N@e3\", "),
        ] {
            let message = play(None, moves).err().unwrap().message;
            assert!(message.starts_with(named), "{message}");
        }
        assert!(play(Some("8/8/8/8/8/8/8/8 w - - 0 1"), "").is_err());
    }
}
