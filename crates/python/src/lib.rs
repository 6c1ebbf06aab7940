//! The Python face of `fastness_core`: coarse calls that answer in JSON text, and the GIL
//! released while they run. `fastness.core` turns the text into typed dictionaries.

mod answers;
mod uci;

use pyo3::prelude::*;

pyo3::import_exception!(fastness.errors, PositionError);
pyo3::import_exception!(fastness.errors, MoveError);
pyo3::import_exception!(fastness.errors, OptionError);

/// The compiled part of `fastness.core`.
#[pymodule(gil_used = false)]
mod _native {
    use super::{OptionError, raised};
    use crate::answers::{self, Options};
    use fastness_core::Values;
    use fastness_core::judged::Judged;
    use pyo3::prelude::*;
    use shakmaty::{Bitboard, Square};

    /// The version of the compiled core, the same as that of the Python package.
    #[pyfunction]
    fn version() -> &'static str {
        env!("CARGO_PKG_VERSION")
    }

    /// The names of the tables of unit values, the default first.
    #[pyfunction]
    fn values_names() -> Vec<&'static str> {
        Values::NAMES.to_vec()
    }

    /// The survey of one position as JSON text, after UCI `moves` are played from `fen`.
    /// Moves that hold are ranked by `rank_nodes` nodes each, unless it is 0. Only the moves that
    /// land on `square` are judged, or all of them if it is empty.
    #[pyfunction]
    #[expect(
        clippy::too_many_arguments,
        reason = "each is an option of its own in Python"
    )]
    fn survey(
        py: Python<'_>,
        fen: &str,
        moves: Vec<String>,
        reach: u32,
        firm: bool,
        values: &str,
        rank_nodes: u64,
        square: &str,
    ) -> PyResult<String> {
        let options = Options {
            rank_nodes,
            judged: judged(square)?,
            ..options(reach, firm, values)?
        };
        py.detach(|| answers::survey(fen, &moves, &options))
            .map_err(raised)
    }

    /// The surveys of many positions in order, over `threads` threads (0: one for each core).
    /// A row is (true, JSON text) or (false, code, message) in a list of three.
    #[pyfunction]
    fn survey_many(
        py: Python<'_>,
        rows: Vec<(String, Vec<String>)>,
        reach: u32,
        firm: bool,
        values: &str,
        rank_nodes: u64,
        threads: usize,
    ) -> PyResult<Vec<(bool, String, String)>> {
        let options = Options {
            rank_nodes,
            ..options(reach, firm, values)?
        };
        Ok(py.detach(|| answers::survey_many(&rows, &options, threads)))
    }

    /// The squares of the units of the side to move that are unsafe at a reach.
    #[pyfunction]
    fn unsafe_units(py: Python<'_>, fen: &str, reach: u32, values: &str) -> PyResult<Vec<String>> {
        let options = options(reach, false, values)?;
        py.detach(|| answers::unsafe_units(fen, &options))
            .map_err(raised)
    }

    /// For each game (FEN and UCI moves) the smallest reach, 1 or 2, at which something is in
    /// danger before each move, 0 where nothing is; or an empty list, a code and a message.
    #[pyfunction]
    fn screen(
        py: Python<'_>,
        games: Vec<(String, Vec<String>)>,
        values: &str,
        threads: usize,
    ) -> PyResult<Vec<(Vec<u32>, String, String)>> {
        let options = options(2, false, values)?;
        Ok(py.detach(|| answers::screen(&games, &options, threads)))
    }

    /// A look at every move of `side` ("white", "black" or "both") in a game, as JSON text.
    /// Offers are told by `offer_nodes` nodes for each evaluation, unless it is 0.
    #[pyfunction]
    fn look(
        py: Python<'_>,
        start: &str,
        moves: Vec<String>,
        side: &str,
        reach: u32,
        values: &str,
        offer_nodes: u64,
    ) -> PyResult<String> {
        let options = Options {
            offer_nodes,
            ..options(reach, false, values)?
        };
        let side = match side {
            "white" => Some(shakmaty::Color::White),
            "black" => Some(shakmaty::Color::Black),
            "both" => None,
            other => {
                return Err(OptionError::new_err(format!(
                    "the side is \"white\", \"black\" or \"both\", not \"{other}\""
                )));
            }
        };
        py.detach(|| answers::look(start, &moves, side, &options))
            .map_err(raised)
    }

    /// Positions visited and seconds taken by surveys of `fens` on one thread, one pair each.
    #[pyfunction]
    fn measure(
        py: Python<'_>,
        fens: Vec<String>,
        reach: u32,
        values: &str,
    ) -> PyResult<Vec<(u64, f64)>> {
        let options = options(reach, false, values)?;
        py.detach(|| answers::measure(&fens, &options))
            .map_err(raised)
    }

    /// Positions visited and seconds taken by the bare verdicts on every move of each position.
    #[pyfunction]
    fn measure_holds(
        py: Python<'_>,
        fens: Vec<String>,
        reach: u32,
        values: &str,
    ) -> PyResult<Vec<(u64, f64)>> {
        let options = options(reach, false, values)?;
        py.detach(|| answers::measure_holds(&fens, &options))
            .map_err(raised)
    }

    /// Moves a second that this machine generates and counts from the start to `plies`.
    #[pyfunction]
    fn moves_a_second(py: Python<'_>, plies: u32) -> f64 {
        py.detach(|| answers::moves_a_second(plies))
    }

    /// Every legal move's exchange count in centipawns, by UCI text: only captures have one.
    #[pyfunction]
    fn exchange_counts(fen: &str, values: &str) -> PyResult<Vec<(String, i32)>> {
        let options = options(1, false, values)?;
        answers::exchange_counts(fen, &options).map_err(raised)
    }

    /// Answers a UCI client on standard input and output until `quit` or the end of the input.
    #[pyfunction]
    fn uci(py: Python<'_>) -> PyResult<()> {
        Ok(py.detach(crate::uci::converse)?)
    }

    fn options(reach: u32, firm: bool, values: &str) -> PyResult<Options> {
        if !(1..=5).contains(&reach) {
            return Err(OptionError::new_err(format!(
                "the reach is 1 to 5 opponent moves, not {reach}"
            )));
        }
        let table = Values::named(values).ok_or_else(|| {
            OptionError::new_err(format!(
                "\"{values}\" is no table of values; there are {}",
                Values::NAMES.join(", ")
            ))
        })?;
        Ok(Options {
            reach,
            firm,
            values: values.to_owned(),
            table,
            rank_nodes: 0,
            offer_nodes: 0,
            judged: Judged::Every,
        })
    }

    /// Every move, or only those that land on a square.
    fn judged(square: &str) -> PyResult<Judged> {
        if square.is_empty() {
            return Ok(Judged::Every);
        }
        let read: Result<Square, _> = square.parse();
        read.map(|square| Judged::Landing(Bitboard::from_square(square)))
            .map_err(|_| OptionError::new_err(format!("\"{square}\" is no square, such as e4")))
    }
}

fn raised(error: fastness_core::rules::RulesError) -> PyErr {
    if error.code == "move" {
        MoveError::new_err(error.message)
    } else {
        PositionError::new_err((error.code, error.message))
    }
}
