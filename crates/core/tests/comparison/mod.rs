//! One position, the numbers of both searches, and what differs.

use std::fmt;

use fastness_reference::{self as reference, MATE, Values};
use shakmaty::{CastlingMode, Chess, Move, Position};

use crate::positions::Sample;

/// The search on trial. `base` is a balance from the view of the opponent of the side to move.
pub(crate) trait Fast {
    fn danger(&mut self, pos: &Chess, reach: u32, base: i32) -> Option<i32>;
    fn nets(&mut self, pos: &Chess, reach: u32, base: i32) -> Vec<(Move, i32)>;
}

/// A table of unit values, by name, since each search has its own type for it.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Table {
    Classical,
    Turing,
    Kaufman,
    Berliner,
}

impl Table {
    pub(crate) const ALL: [Table; 4] = [
        Table::Classical,
        Table::Turing,
        Table::Kaufman,
        Table::Berliner,
    ];

    pub(crate) fn values(self) -> Values {
        match self {
            Table::Classical => Values::classical(),
            Table::Turing => Values::turing(),
            Table::Kaufman => Values::kaufman(),
            Table::Berliner => Values::berliner(),
        }
    }
}

/// What is compared: the danger, and the nets of `moves`, at one reach.
pub(crate) struct Task {
    pub(crate) sample: Sample,
    pub(crate) table: Table,
    pub(crate) base: i32,
    pub(crate) reach: u32,
    pub(crate) moves: Vec<Move>,
}

/// How many numbers were compared, how many of them were mates, and a line for each difference.
#[derive(Default)]
pub(crate) struct Report {
    pub(crate) compared: usize,
    pub(crate) mates: usize,
    pub(crate) differences: Vec<String>,
}

impl Report {
    pub(crate) fn add(&mut self, other: Report) {
        self.compared += other.compared;
        self.mates += other.mates;
        self.differences.extend(other.differences);
    }

    fn note(&mut self, task: &Task, what: &str, fast: Option<i32>, plain: Option<i32>) {
        self.compared += 1;
        self.mates += usize::from(plain.is_some_and(|value| value.abs() > MATE / 2));
        if fast != plain {
            self.differences.push(format!(
                "{} ({}), {:?}, base {}, reach {}: {what} fast {fast:?}, reference {plain:?}",
                task.sample.fen(),
                task.sample.origin,
                task.table,
                task.base,
                task.reach
            ));
        }
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const SHOWN: usize = 20;
        writeln!(
            f,
            "{} differences, the first of them:",
            self.differences.len()
        )?;
        for line in self.differences.iter().take(SHOWN) {
            writeln!(f, "{line}")?;
        }
        Ok(())
    }
}

/// Asks both searches. The fast one has to give every legal move once, whichever are compared.
pub(crate) fn compare(task: &Task, fast: &mut impl Fast) -> Report {
    let (pos, values) = (&task.sample.pos, task.table.values());
    let mut report = Report::default();

    let danger = fast.danger(pos, task.reach, task.base);
    let plain = reference::danger(pos, &values, task.reach, task.base);
    report.note(task, "danger", danger, plain);

    let nets = fast.nets(pos, task.reach, task.base);
    if nets.len() != pos.legal_moves().len() {
        report.differences.push(format!(
            "{}: {} nets for {} legal moves",
            task.sample.fen(),
            nets.len(),
            pos.legal_moves().len()
        ));
    }
    for &m in &task.moves {
        let found = nets.iter().find(|(other, _)| *other == m);
        let plain = reference::net(pos, m, &values, task.reach, task.base);
        let name = m.to_uci(CastlingMode::Standard).to_string();
        report.note(task, &name, found.map(|(_, net)| *net), Some(plain));
    }
    report
}
