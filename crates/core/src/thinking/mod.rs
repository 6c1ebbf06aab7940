//! Choosing a move by search and evaluation.
//!
//! Unlike the material search, which is full width and proves what it says, this one looks far
//! ahead by leaving out what seems not worth a look: passing instead of moving (Beal 1989) and
//! looking less far into late moves. It ranks moves; it proves nothing but mates.
//!
//! A colour flip changes nothing else: every thought is thought with White to move. Nothing here
//! depends on a clock, on threads or on addresses, so the same position, game, table
//! size and node limit give the same answer on any machine. A thinker remembers what it has
//! thought before; [`Thinker::forget`] makes it answer like a new one.

mod alpha_beta;
mod best_move;
mod colours;
mod course;
mod deepening;
mod exchange;
mod limits;
mod memory;
mod order;
mod quiescence;
mod table;

pub use limits::{Limits, Score, Thought};

use course::Course;
use limits::Halt;
use memory::Memory;
use table::Table;

use crate::search::{Move, SearchBoard};
use crate::values::Values;
use shakmaty::{Chess, Position};

/// No line is followed further than this, in plies.
const FURTHEST: usize = 120;

/// A player: it keeps what it has found from one thought to the next, until it forgets.
#[derive(Debug)]
pub struct Thinker {
    table: Table,
    memory: Memory,
}

impl Thinker {
    /// A thinker with a table of at most `hash_bytes` bytes, but at least 64 KiB.
    #[must_use]
    pub fn new(hash_bytes: usize) -> Thinker {
        Thinker {
            table: Table::new(hash_bytes),
            memory: Memory::new(),
        }
    }

    /// Forget everything thought so far.
    pub fn forget(&mut self) {
        self.table.forget();
        self.memory = Memory::new();
    }

    /// Think about a position, to the first limit reached.
    ///
    /// `before` holds the positions of the game so far, oldest first, for repetition; the position
    /// itself may be the last of them or left out. `told` is called after each depth. There is no
    /// best move only where there is no legal one.
    pub fn think(
        &mut self,
        position: &Chess,
        before: &[Chess],
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        if position.turn().is_black()
            && let Some((exchanged, before)) = colours::exchanged(position).zip(
                before
                    .iter()
                    .map(colours::exchanged)
                    .collect::<Option<Vec<_>>>(),
            )
        {
            let mut told = |thought: &Thought| told(&colours::exchanged_thought(thought));
            let thought = self.think_as_it_stands(&exchanged, &before, limits, &mut told);
            return colours::exchanged_thought(&thought);
        }
        self.think_as_it_stands(position, before, limits, told)
    }

    fn think_as_it_stands(
        &mut self,
        position: &Chess,
        before: &[Chess],
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        let values = Values::classical();
        self.table.next_thought();
        self.memory.fade();
        let mut thinking = Thinking {
            values,
            table: &mut self.table,
            memory: &mut self.memory,
            course: Course::begin(position, before, &values),
            halt: Halt::new(limits),
            lines: vec![Vec::new(); FURTHEST + 2],
            at_start: None,
            standings: vec![None; FURTHEST + 2],
        };
        let board = SearchBoard::new(position, &values);
        thinking.deepen(position, &board, limits, told)
    }
}

/// One thought under way.
struct Thinking<'a> {
    values: Values,
    table: &'a mut Table,
    memory: &'a mut Memory,
    course: Course,
    halt: Halt<'a>,
    /// The best line found from each ply on.
    lines: Vec<Vec<Move>>,
    /// The best line from the start and its value, as far as this depth has found one.
    at_start: Option<(i32, Vec<Move>)>,
    /// The evaluation at each ply, in the view of its side to move; none in check.
    standings: Vec<Option<i32>>,
}
