//! Turns games into what the fit of the evaluation's weights is made from.
//!
//! `samples` reads games as `play_games` prints them. It prints the names of the features with
//! `;` between, then a line for each quiet position: the result, how much of the middle game is
//! left, how much of an advantage counts, and the features that are not even as `number:count`.

use std::error::Error;
use std::io::{self, BufRead, BufWriter, Write};

use fastness_core::evaluation::{Sample, sample};
use fastness_core::{Search, SearchBoard, Values, rules};
use shakmaty::{Chess, Color, Position};

/// The first plies of a game say little about its result.
const OPENING_PLIES: usize = 8;

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = BufWriter::new(io::stdout().lock());
    let mut search = Search::new(Values::classical());
    writeln!(out, "{}", Sample::names().join(";"))?;
    for (number, line) in io::stdin().lock().lines().enumerate() {
        let line = line?;
        let [result, fen, moves] = line.split(';').collect::<Vec<_>>()[..] else {
            return Err(format!("no game: {line}").into());
        };
        let moves: Vec<&str> = moves.split_whitespace().collect();
        let game =
            rules::Game::play(fen, &moves, &Values::classical()).map_err(|error| error.message)?;
        for position in game.positions.iter().skip(OPENING_PLIES) {
            if is_quiet(position, &mut search) {
                writeln!(out, "{number} {result} {}", row(&sample(position)))?;
            }
        }
    }
    Ok(())
}

fn row(sample: &Sample) -> String {
    let uneven = sample
        .counts
        .iter()
        .enumerate()
        .filter(|(_, count)| **count != 0);
    let counts: Vec<String> = uneven
        .map(|(feature, count)| format!("{feature}:{count}"))
        .collect();
    format!(
        "{:.4} {:.4} {}",
        sample.middle,
        sample.scale,
        counts.join(" ")
    )
}

/// Whether nobody is in check and neither side wins anything by taking, were it its turn.
fn is_quiet(position: &Chess, search: &mut Search) -> bool {
    if position.is_check() || position.is_game_over() {
        return false;
    }
    let values = Values::classical();
    let board = SearchBoard::new(position, &values);
    search.begin(board.balance(Color::White), 1);
    search.value(&board, 0, 0) == 0 && search.value(&board.passed(), 0, 0) == 0
}
