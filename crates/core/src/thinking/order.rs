//! The order in which moves are tried: what the table remembers, captures that do not lose,
//! quiet moves by what has refuted before, and captures that lose.

use arrayvec::ArrayVec;
use shakmaty::Role;

use super::exchange;
use super::memory::Memory;
use crate::search::{Bounds, MOST_MOVES, Move, MoveList, Promotions, SearchBoard};
use crate::values::Values;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    Remembered,
    Captures,
    Quiet,
    Losing,
}

/// What the order depends on besides the board.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hints {
    pub(super) remembered: Option<Move>,
    pub(super) killers: [Option<Move>; 2],
    pub(super) reply: Option<Move>,
}

/// Hands out the legal moves of a board one by one; each kind is made when it is needed.
pub(super) struct Order<'a> {
    board: &'a SearchBoard,
    bounds: Bounds,
    hints: Hints,
    stage: Stage,
    list: MoveList,
    scores: ArrayVec<i32, MOST_MOVES>,
    next: usize,
    losing: ArrayVec<Move, 64>,
}

impl<'a> Order<'a> {
    pub(super) fn new(board: &'a SearchBoard, in_check: bool, hints: Hints) -> Order<'a> {
        Order {
            board,
            bounds: Bounds::of(board, in_check),
            hints,
            stage: Stage::Remembered,
            list: MoveList::new(),
            scores: ArrayVec::new(),
            next: 0,
            losing: ArrayVec::new(),
        }
    }

    pub(super) fn next(&mut self, memory: &Memory, values: &Values) -> Option<Move> {
        loop {
            match self.stage {
                Stage::Remembered => {
                    self.stage = Stage::Captures;
                    self.make_captures(values);
                    if self.hints.remembered.is_some() {
                        return self.hints.remembered;
                    }
                }
                Stage::Captures => match self.pick() {
                    Some(m) if self.is_losing(m, values) && !self.losing.is_full() => {
                        self.losing.push(m);
                    }
                    Some(m) => return Some(m),
                    None => {
                        self.stage = Stage::Quiet;
                        self.make_quiet(memory);
                    }
                },
                Stage::Quiet => match self.pick() {
                    Some(m) => return Some(m),
                    None => {
                        self.stage = Stage::Losing;
                        self.next = 0;
                    }
                },
                Stage::Losing => {
                    let m = self.losing.get(self.next).copied();
                    self.next += 1;
                    return m;
                }
            }
        }
    }

    fn is_losing(&self, m: Move, values: &Values) -> bool {
        match m.promotion() {
            Some(promotion) => promotion != Role::Queen,
            None => exchange::loses(self.board, m, values),
        }
    }

    fn make_captures(&mut self, values: &Values) {
        self.board
            .forcing_moves(&self.bounds, Promotions::Every, &mut self.list);
        for m in &self.list {
            let taken = m.capture().map_or(0, |role| values.of(role));
            let promoted = m.promotion().map_or(0, |role| values.of(role));
            self.scores.push((taken + promoted) * 8 - m.role() as i32);
        }
    }

    fn make_quiet(&mut self, memory: &Memory) {
        self.list.clear();
        self.scores.clear();
        self.next = 0;
        self.board.quiet_moves(&self.bounds, &mut self.list);
        let side = self.board.turn();
        for &m in &self.list {
            let score = if Some(m) == self.hints.killers[0] {
                1 << 22
            } else if Some(m) == self.hints.killers[1] {
                1 << 21
            } else if Some(m) == self.hints.reply {
                1 << 20
            } else {
                memory.history(side, m)
            };
            self.scores.push(score);
        }
    }

    /// The best move left in the list, the one handed out already left aside.
    fn pick(&mut self) -> Option<Move> {
        while self.next < self.list.len() {
            let mut best = self.next;
            for at in self.next + 1..self.list.len() {
                if self.scores[at] > self.scores[best] {
                    best = at;
                }
            }
            self.list.swap(self.next, best);
            self.scores.swap(self.next, best);
            let m = self.list[self.next];
            self.next += 1;
            if Some(m) != self.hints.remembered {
                return Some(m);
            }
        }
        None
    }
}
