//! Answers questions to the plain judge: one JSON object a line in, one a line out.
//!
//! `{"fen": "...", "moves": ["0000", "d1d8"], "plies": 2, "attacker": "white", "base": 0,
//! "values": "classical"}` asks for the value after these moves (UCI; `0000` is a pass), in the
//! attacker's view: `{"centipawns": 300}`, or `{"mates": 1}` and `{"mated": 2}` in plies from
//! there. With `"least": 50` besides, only whether the value is at least that: `{"attains": true}`.
//! With `"played": 1`, so many plies of the quiescence have been played and `plies` is not used.
//! `{"fen": "...", "unsafe_at": 3, "values": "classical"}` asks which units of the side to move are
//! unsafe at a reach: `{"unsafe": ["e5"]}`, nothing in check.
//! What cannot be read gives `{"error": "..."}`.

use std::io::{self, BufRead, Write};

use fastness_reference::{MATE, Values, attains, pass, unsafe_units, value, value_in_quiescence};
use serde::{Deserialize, Serialize};
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, Chess, Color, Position, fen::Fen};

/// From here on a value is a mate and no balance.
const MATES_FROM: i32 = MATE - 1_000;

#[derive(Deserialize)]
#[serde(untagged)]
enum Asked {
    Units(UnitsQuestion),
    Value(Question),
}

#[derive(Deserialize)]
struct UnitsQuestion {
    fen: String,
    unsafe_at: u32,
    values: String,
}

#[derive(Deserialize)]
struct Question {
    fen: String,
    moves: Vec<String>,
    plies: u32,
    attacker: String,
    base: i32,
    values: String,
    least: Option<i32>,
    played: Option<u32>,
}

#[derive(Serialize)]
#[serde(rename_all = "lowercase")]
enum Answer {
    Centipawns(i32),
    Mates(i32),
    Mated(i32),
    Attains(bool),
    Unsafe(Vec<String>),
    Error(String),
}

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for line in io::stdin().lock().lines() {
        let answer = serde_json::from_str(&line?)
            .map_err(|error| error.to_string())
            .and_then(|asked| match asked {
                Asked::Units(question) => units(&question),
                Asked::Value(question) => answer(&question),
            })
            .unwrap_or_else(Answer::Error);
        writeln!(out, "{}", serde_json::to_string(&answer)?)?;
        out.flush()?;
    }
    Ok(())
}

fn answer(question: &Question) -> Result<Answer, String> {
    let pos = reached(&question.fen, &question.moves)?;
    let values = table(&question.values)?;
    let attacker = colour(&question.attacker)?;
    let (plies, base) = (question.plies, question.base);
    if let Some(least) = question.least {
        let attained = attains(&pos, &values, plies, attacker, base, least);
        return Ok(Answer::Attains(attained));
    }
    let wins = match question.played {
        Some(played) => value_in_quiescence(&pos, &values, played, attacker, base),
        None => value(&pos, &values, plies, attacker, base),
    };
    Ok(if wins.abs() < MATES_FROM {
        Answer::Centipawns(wins)
    } else if wins > 0 {
        Answer::Mates(MATE - wins)
    } else {
        Answer::Mated(MATE + wins)
    })
}

fn units(question: &UnitsQuestion) -> Result<Answer, String> {
    let pos = reached(&question.fen, &[])?;
    if question.unsafe_at == 0 {
        return Err("a reach counts from 1".to_owned());
    }
    let found = unsafe_units(&pos, &table(&question.values)?, question.unsafe_at);
    let squares = found.unwrap_or_default();
    Ok(Answer::Unsafe(
        squares.iter().map(ToString::to_string).collect(),
    ))
}

fn reached(fen: &str, moves: &[String]) -> Result<Chess, String> {
    let fen: Fen = fen.parse().map_err(|error| format!("{fen}: {error}"))?;
    let mut pos: Chess = fen
        .into_position(CastlingMode::Standard)
        .map_err(|error| error.to_string())?;
    for text in moves {
        let uci: UciMove = text.parse().map_err(|error| format!("{text}: {error}"))?;
        pos = if uci == UciMove::Null {
            pass(&pos).ok_or("a pass in check")?
        } else {
            let legal = uci.to_move(&pos);
            pos.play(legal.map_err(|error| format!("{text}: {error}"))?)
                .map_err(|error| error.to_string())?
        };
    }
    Ok(pos)
}

fn table(name: &str) -> Result<Values, String> {
    match name {
        "classical" => Ok(Values::classical()),
        "turing" => Ok(Values::turing()),
        "kaufman" => Ok(Values::kaufman()),
        "berliner" => Ok(Values::berliner()),
        _ => Err(format!("no table of values {name}")),
    }
}

fn colour(name: &str) -> Result<Color, String> {
    match name {
        "white" => Ok(Color::White),
        "black" => Ok(Color::Black),
        _ => Err(format!("no side {name}")),
    }
}
