//! A line from the client, read as the protocol says: unknown words are passed over.

use crate::go::Go;

/// What a client can ask.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Command {
    Uci,
    Debug(bool),
    IsReady,
    SetOption {
        name: String,
        value: Option<String>,
    },
    NewGame,
    /// Where the game starts, `None` for the start position, and the moves since.
    Position {
        fen: Option<String>,
        moves: Vec<String>,
    },
    Go(Go),
    Stop,
    PonderHit,
    Quit,
}

impl Command {
    /// The first command in the line, with what belongs to it; `None` if there is none.
    #[must_use]
    pub fn read(line: &str) -> Option<Command> {
        let words: Vec<&str> = line.split_whitespace().collect();
        (0..words.len()).find_map(|at| Command::named(words[at], &words[at + 1..]))
    }

    fn named(word: &str, rest: &[&str]) -> Option<Command> {
        match word {
            "uci" => Some(Command::Uci),
            "debug" => match rest.first() {
                Some(&"on") => Some(Command::Debug(true)),
                Some(&"off") => Some(Command::Debug(false)),
                _ => None,
            },
            "isready" => Some(Command::IsReady),
            "setoption" => set_option(rest),
            "ucinewgame" => Some(Command::NewGame),
            "position" => position(rest),
            "go" => Some(Command::Go(Go::read(rest))),
            "stop" => Some(Command::Stop),
            "ponderhit" => Some(Command::PonderHit),
            "quit" => Some(Command::Quit),
            _ => None,
        }
    }
}

/// `name ... [value ...]`; both may be of several words.
fn set_option(words: &[&str]) -> Option<Command> {
    let name_at = words.iter().position(|&word| word == "name")? + 1;
    let value_at = words.iter().position(|&word| word == "value");
    let name = words.get(name_at..value_at.unwrap_or(words.len()))?;
    Some(Command::SetOption {
        name: name.join(" "),
        value: value_at.map(|at| words[at + 1..].join(" ")),
    })
}

/// `startpos` or `fen ...`, then `moves ...`.
fn position(words: &[&str]) -> Option<Command> {
    let (setup, moves) = match words.iter().position(|&word| word == "moves") {
        Some(at) => (&words[..at], &words[at + 1..]),
        None => (words, &[][..]),
    };
    let at = setup
        .iter()
        .position(|word| ["startpos", "fen"].contains(word))?;
    Some(Command::Position {
        fen: (setup[at] == "fen").then(|| setup[at + 1..].join(" ")),
        moves: moves.iter().map(ToString::to_string).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn option(name: &str, value: Option<&str>) -> Option<Command> {
        Some(Command::SetOption {
            name: name.to_owned(),
            value: value.map(ToOwned::to_owned),
        })
    }

    fn position(fen: Option<&str>, moves: &[&str]) -> Option<Command> {
        Some(Command::Position {
            fen: fen.map(ToOwned::to_owned),
            moves: moves.iter().map(ToString::to_string).collect(),
        })
    }

    #[test]
    fn unknown_words_before_a_command_are_passed_over() {
        assert_eq!(Command::read("joho debug on"), Some(Command::Debug(true)));
        assert_eq!(Command::read("  x\t y isready\r"), Some(Command::IsReady));
        assert_eq!(Command::read("debug joho on"), None);
        assert_eq!(Command::read("Go depth 3"), None);
        assert_eq!(Command::read(""), None);
    }

    #[test]
    fn options_have_names_and_values_of_several_words() {
        let read = Command::read;
        assert_eq!(
            read("setoption name Hash value 32"),
            option("Hash", Some("32"))
        );
        assert_eq!(
            read("setoption name Clear Hash"),
            option("Clear Hash", None)
        );
        assert_eq!(
            read("setoption name A B value c d"),
            option("A B", Some("c d"))
        );
        assert_eq!(read("setoption name value 3"), option("", Some("3")));
        assert_eq!(read("setoption value 3 name Hash"), None);
        assert_eq!(read("setoption"), None);
    }

    #[test]
    fn positions_have_a_start_and_moves() {
        let read = Command::read;
        assert_eq!(read("position startpos"), position(None, &[]));
        assert_eq!(
            read("position startpos moves e2e4 e7e5"),
            position(None, &["e2e4", "e7e5"])
        );
        assert_eq!(
            read("position fen 8/8/8/8/8/8/8/8 w - - 0 1 moves a1a2"),
            position(Some("8/8/8/8/8/8/8/8 w - - 0 1"), &["a1a2"])
        );
        assert_eq!(read("position joho startpos"), position(None, &[]));
        assert_eq!(read("position fen"), position(Some(""), &[]));
        assert_eq!(read("position moves e2e4"), None);
        assert_eq!(read("position"), None);
    }
}
