//! The fast search against the plain reference: the same numbers, to the centipawn, mate
//! distances included.
//!
//! Slow: meant for a release build, where it takes a few minutes on two cores.

mod comparison;
mod positions;

use std::cmp::Reverse;
use std::io::{self, Write};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use comparison::{Fast, Report, Table, Task, compare};
use fastness_core::{Search, Values};
use fastness_reference::{self as reference, Chance, balance};
use positions::{Sample, from_historic_games, from_perft_lists, from_random_play};
use shakmaty::{Chess, Move, Position};

const FROM_RANDOM_PLAY: usize = 1200;
const FROM_RANDOM_PERFT: usize = 700;
/// One position in so many is compared at reach 3 as well.
const REACH_THREE_EVERY: usize = 20;
/// Of a position with more legal moves than this, so many are drawn at reach 3.
const MOVES_AT_REACH_THREE: usize = 6;

impl Fast for Search {
    fn danger(&mut self, pos: &Chess, reach: u32, base: i32) -> Option<i32> {
        Search::danger(self, pos, reach, base)
    }

    fn nets(&mut self, pos: &Chess, reach: u32, base: i32) -> Vec<(Move, i32)> {
        Search::nets(self, pos, reach, base)
    }
}

fn search_for(table: Table) -> Search {
    Search::new(match table {
        Table::Classical => Values::classical(),
        Table::Turing => Values::turing(),
        Table::Kaufman => Values::kaufman(),
        Table::Berliner => Values::berliner(),
    })
}

/// What to compare on each position: most with classical values and their own balance as base,
/// a third with another table, a third with a base such as the middle of a trade has.
fn tasks(samples: Vec<Sample>) -> Vec<Task> {
    let mut chance = Chance::new(3);
    let mut tasks = Vec::new();
    for (number, sample) in samples.into_iter().enumerate() {
        let table = [
            Table::Classical,
            Table::Classical,
            Table::Kaufman,
            Table::Classical,
            Table::Berliner,
            Table::Classical,
            Table::Turing,
        ][number % 7];
        let owed = [0, 0, 0, 300, -100, 0, 0, 500, 0, -900, 0][number % 11];
        let present = balance(
            sample.pos.board(),
            &table.values(),
            sample.pos.turn().other(),
        );
        let task = |reach, moves| Task {
            sample: sample.clone(),
            table,
            base: present - owed,
            reach,
            moves,
        };
        tasks.push(task(1, sample.pos.legal_moves().into_iter().collect()));
        tasks.push(task(2, sample.pos.legal_moves().into_iter().collect()));
        if number % REACH_THREE_EVERY == 0 {
            tasks.push(task(3, drawn_moves(&sample.pos, &mut chance)));
        }
    }
    // The long ones first, so that no thread is left alone with one at the end.
    tasks.sort_by_key(|task| Reverse(task.reach));
    tasks
}

fn drawn_moves(pos: &Chess, chance: &mut Chance) -> Vec<Move> {
    let mut moves: Vec<Move> = pos.legal_moves().into_iter().collect();
    while moves.len() > MOVES_AT_REACH_THREE {
        moves.swap_remove(chance.below(moves.len()));
    }
    moves
}

/// Compares every task, over all cores; one search for each table lives as long as its thread.
fn compare_all(tasks: &[Task]) -> Report {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut searches = Table::ALL.map(search_for);
        let mut report = Report::default();
        while let Some(task) = tasks.get(next.fetch_add(1, Ordering::Relaxed)) {
            report.add(compare(task, &mut searches[task.table as usize]));
        }
        report
    };
    let cores = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        let mut all = Report::default();
        for thread in threads {
            all.add(thread.join().expect("a comparing thread panicked"));
        }
        all
    })
}

#[test]
fn fast_search_and_reference_agree_everywhere() {
    let mut samples = from_random_play(FROM_RANDOM_PLAY, 1);
    samples.extend(from_historic_games());
    samples.extend(from_perft_lists(FROM_RANDOM_PERFT, 2));
    let positions = samples.len();
    let tasks = tasks(samples);
    let at_reach_three = tasks.iter().filter(|task| task.reach == 3).count();
    assert!(positions >= 3000 && at_reach_three >= 100);

    let report = compare_all(&tasks);
    // Straight to the stream, since the figures belong in the log of a passing run.
    writeln!(
        io::stderr(),
        "agreement: {positions} positions at reach 1 and 2 on every move, {at_reach_three} at \
         reach 3; {} numbers compared, {} of them mates, {} differences",
        report.compared,
        report.mates,
        report.differences.len()
    )
    .expect("standard error takes a line");
    assert!(report.mates >= 1000, "too few mates among the positions");
    assert!(report.differences.is_empty(), "{report}");
}

/// The numbers of pure minimax, wrong by a centipawn and short of a move where asked: tries the
/// comparison itself.
struct Wrong {
    values: reference::Values,
    by: i32,
}

impl Fast for Wrong {
    fn danger(&mut self, pos: &Chess, reach: u32, base: i32) -> Option<i32> {
        let passed = reference::pass(pos)?;
        let plies = 2 * reach - 1;
        let exact = reference::minimax(&passed, &self.values, plies, passed.turn(), base);
        Some(exact + self.by)
    }

    fn nets(&mut self, pos: &Chess, reach: u32, base: i32) -> Vec<(Move, i32)> {
        let mut nets = reference::nets(pos, &self.values, reach, base);
        nets.truncate(nets.len() - self.by.unsigned_abs() as usize);
        nets
    }
}

#[test]
fn the_comparison_sees_a_centipawn_and_a_missing_move() {
    // Few units, since minimax has no window.
    let few_units = from_historic_games()
        .into_iter()
        .filter(|sample| sample.pos.board().occupied().count() <= 8)
        .take(5);
    for sample in few_units {
        let task = Task {
            table: Table::Classical,
            base: 0,
            reach: 1,
            moves: sample.pos.legal_moves().into_iter().collect(),
            sample,
        };
        let values = task.table.values();
        let exact = compare(&task, &mut Wrong { values, by: 0 });
        assert!(exact.differences.is_empty(), "{exact}");
        let wrong = compare(&task, &mut Wrong { values, by: 1 });
        // The danger where there is one, the number of moves, and the missing move itself.
        let expected = if task.sample.pos.is_check() { 2 } else { 3 };
        assert_eq!(wrong.differences.len(), expected, "{wrong}");
    }
}
