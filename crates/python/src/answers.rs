//! What the binding answers, without Python: JSON text, or what is wrong with the input.

use std::cell::RefCell;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Instant;

use fastness_core::judged::Judged;
use fastness_core::report::{LookReport, SurveyReport};
use fastness_core::rules::{Game, RulesError};
use fastness_core::survey::{Survey, same_verdicts};
use fastness_core::thinking::Thinker;
use fastness_core::trade::Standpoint;
use fastness_core::{Search, SearchBoard, Values, count, offer, rank, rules};
use shakmaty::Color;

/// How to survey.
pub(crate) struct Options {
    pub(crate) reach: u32,
    pub(crate) firm: bool,
    pub(crate) values: String,
    pub(crate) table: Values,
    /// Nodes for each move that is ranked; 0 ranks none, and compares no tables of values.
    pub(crate) rank_nodes: u64,
    /// Nodes for each evaluation of a move that may be an offer; 0 leaves offers untold.
    pub(crate) offer_nodes: u64,
    pub(crate) judged: Judged,
}

thread_local! {
    /// A searcher is costly to make and answers the same after any use, so each thread keeps one.
    static SEARCH: RefCell<Option<Search>> = const { RefCell::new(None) };
    static THINKER: RefCell<Thinker> = RefCell::new(Thinker::new(THINKER_BYTES));
}

/// What a thinker's table takes, enough for the nodes of one evaluation at depth.
const THINKER_BYTES: usize = 16 << 20;

fn with_search<T>(options: &Options, work: impl FnOnce(&mut Search) -> T) -> T {
    SEARCH.with_borrow_mut(|kept| {
        let search = match kept.take() {
            Some(search) if *search.values() == options.table => kept.insert(search),
            _ => kept.insert(Search::new(options.table)),
        };
        work(search)
    })
}

fn json<T: serde::Serialize>(report: &T) -> String {
    serde_json::to_string(report).expect("reports have text keys only")
}

/// The survey of a position reached by moves.
pub(crate) fn survey(fen: &str, moves: &[String], options: &Options) -> Result<String, RulesError> {
    let game = Game::play(fen, moves, &options.table)?;
    let standpoint = game.last(&options.table);
    let position = &game.positions[game.moves.len()];
    let survey = with_search(options, |search| {
        let mut survey = search.survey_of(&standpoint, options.reach, options.firm, options.judged);
        if options.rank_nodes > 0 {
            THINKER.with_borrow_mut(|thinker| {
                rank::rank(&mut survey, position, search, thinker, options.rank_nodes);
            });
        }
        survey
    });
    let survey = Survey {
        values_matter: (options.rank_nodes > 0)
            .then(|| values_matter(fen, moves, options, &survey))
            .transpose()?,
        ..survey
    };
    Ok(json(&SurveyReport::new(&survey, position, &options.values)))
}

/// Whether one of the tables that stand for the classical and the modern values gives another
/// verdict than the survey's own.
fn values_matter(
    fen: &str,
    moves: &[String],
    options: &Options,
    survey: &Survey,
) -> Result<bool, RulesError> {
    for name in Values::COMPARED
        .into_iter()
        .filter(|name| *name != options.values)
    {
        let table = Values::named(name).expect("the tables compared have names");
        let standpoint = Game::play(fen, moves, &table)?.last(&table);
        let other = Search::new(table).survey_of(&standpoint, options.reach, false, options.judged);
        if !same_verdicts(survey, &other) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Surveys in the order of the rows, shared out over threads.
pub(crate) fn survey_many(
    rows: &[(String, Vec<String>)],
    options: &Options,
    threads: usize,
) -> Vec<(bool, String, String)> {
    let answer = |(fen, moves): &(String, Vec<String>)| match survey(fen, moves, options) {
        Ok(text) => (true, text, String::new()),
        Err(error) => (false, error.code.to_owned(), error.message),
    };
    shared_out(rows, threads, answer)
}

/// For each game the smallest reach with danger before each of its moves: 0 where none shows.
pub(crate) fn screen(
    games: &[(String, Vec<String>)],
    options: &Options,
    threads: usize,
) -> Vec<(Vec<u32>, String, String)> {
    let answer =
        |(start, moves): &(String, Vec<String>)| match Game::play(start, moves, &options.table) {
            Ok(game) => (screened(&game, options), String::new(), String::new()),
            Err(error) => (Vec::new(), error.code.to_owned(), error.message),
        };
    shared_out(games, threads, answer)
}

fn screened(game: &Game, options: &Options) -> Vec<u32> {
    let before = &game.positions[..game.moves.len()];
    with_search(options, |search| {
        before
            .iter()
            .map(|position| SearchBoard::new(position, &options.table))
            .map(|board| search.screen(&board).unwrap_or(0))
            .collect()
    })
}

/// The answers to rows, in order, shared out over threads (0: one for each core).
fn shared_out<R: Sync, A: Send>(
    rows: &[R],
    threads: usize,
    answer: impl Fn(&R) -> A + Sync,
) -> Vec<A> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let threads = if threads == 0 { cores } else { threads }.min(rows.len());
    if threads <= 1 {
        return rows.iter().map(answer).collect();
    }
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(row) = rows.get(index) else {
                return done;
            };
            done.push((index, answer(row)));
        }
    };
    let mut answers: Vec<_> = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        workers
            .into_iter()
            .flat_map(|worker| worker.join().expect("answering does not panic"))
            .collect()
    });
    answers.sort_by_key(|(index, _)| *index);
    answers.into_iter().map(|(_, answer)| answer).collect()
}

/// Looks at one side's moves in a game, or both sides'.
pub(crate) fn look(
    start: &str,
    moves: &[String],
    side: Option<Color>,
    options: &Options,
) -> Result<String, RulesError> {
    let game = Game::play(start, moves, &options.table)?;
    let mut looks = with_search(options, |search| {
        search.look(&game.start, &game.moves, side, options.reach)
    });
    if options.offer_nodes > 0 {
        THINKER.with_borrow_mut(|thinker| {
            for look in &mut looks {
                let position = &game.positions[look.ply - 1];
                look.offered = offer::is_offered(look, position, thinker, options.offer_nodes);
            }
        });
    }
    let reports: Vec<LookReport> = looks
        .iter()
        .map(|look| LookReport::new(look, &game.positions[look.ply - 1], &options.values))
        .collect();
    Ok(json(&reports))
}

/// Nodes and seconds of a survey of each position, one after another.
pub(crate) fn measure(fens: &[String], options: &Options) -> Result<Vec<(u64, f64)>, RulesError> {
    measured(fens, options, |search, standpoint| {
        search.survey(standpoint, options.reach, false);
    })
}

/// Nodes and seconds of the bare verdicts on every legal move of each position.
pub(crate) fn measure_holds(
    fens: &[String],
    options: &Options,
) -> Result<Vec<(u64, f64)>, RulesError> {
    measured(fens, options, |search, standpoint| {
        search.holds(standpoint, options.reach);
    })
}

fn measured(
    fens: &[String],
    options: &Options,
    work: impl Fn(&mut Search, &Standpoint),
) -> Result<Vec<(u64, f64)>, RulesError> {
    with_search(options, |search| {
        fens.iter()
            .map(|fen| {
                let board = SearchBoard::new(&rules::position(fen)?, &options.table);
                let (nodes, start) = (search.nodes(), Instant::now());
                work(search, &Standpoint::bare(board));
                Ok((search.nodes() - nodes, start.elapsed().as_secs_f64()))
            })
            .collect()
    })
}

/// Moves a second that the rules library generates and counts, the machine's own measure: the
/// start position to `plies`, moves of the last ply counted without playing them.
pub(crate) fn moves_a_second(plies: u32) -> f64 {
    let start = Instant::now();
    let moves = shakmaty::perft(&shakmaty::Chess::default(), plies);
    moves as f64 / start.elapsed().as_secs_f64()
}

/// The squares of the units that are unsafe at a reach.
pub(crate) fn unsafe_units(fen: &str, options: &Options) -> Result<Vec<String>, RulesError> {
    let board = SearchBoard::new(&rules::position(fen)?, &options.table);
    let squares = with_search(options, |search| search.unsafe_units(&board, options.reach));
    Ok(squares
        .into_iter()
        .map(|square| square.to_string())
        .collect())
}

/// The exchange count of every legal capture.
pub(crate) fn exchange_counts(
    fen: &str,
    options: &Options,
) -> Result<Vec<(String, i32)>, RulesError> {
    let board = SearchBoard::new(&rules::position(fen)?, &options.table);
    Ok(board
        .legal_moves()
        .into_iter()
        .filter(|m| m.capture().is_some())
        .map(|m| (m.uci(), count::exchange(&board, m, &options.table)))
        .collect())
}
