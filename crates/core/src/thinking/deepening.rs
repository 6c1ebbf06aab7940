//! Iterative deepening: one ply more each time, as long as the limits allow.

use shakmaty::{Chess, Position};

use super::alpha_beta::{Here, INFINITE};
use super::limits::{Limits, Score, Thought};
use super::{FURTHEST, Thinking};
use crate::evaluation;
use crate::rules::rules_move;
use crate::search::{MATE, Move, SearchBoard, is_mate, is_mated};

/// The first window on either side of the last value, in centipawns.
const WINDOW: i32 = 30;

/// What can be said without any search: the first legal move, or how the game has ended.
fn first_thought(position: &Chess, board: &SearchBoard) -> Thought {
    let best = board
        .legal_moves()
        .first()
        .map(|&m| rules_move(position, m));
    let score = match best {
        Some(_) => Score::Centipawns(evaluation::standing(board)),
        None if board.in_check() => Score::Mated(0),
        None => Score::Centipawns(0),
    };
    Thought {
        best,
        line: best.into_iter().collect(),
        score,
        depth: 0,
        nodes: 0,
    }
}

/// Puts a best line and its value into a thought.
fn put(line: &[Move], value: i32, position: &Chess, thought: &mut Thought) {
    thought.score = Score::of(value);
    let mut at = position.clone();
    thought.line.clear();
    for &m in line {
        let m = rules_move(&at, m);
        at.play_unchecked(m);
        thought.line.push(m);
    }
    thought.best = thought.line.first().copied();
}

impl Thinking<'_> {
    pub(super) fn deepen(
        &mut self,
        position: &Chess,
        board: &SearchBoard,
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        let mut thought = first_thought(position, board);
        if thought.best.is_none() {
            return thought;
        }
        let furthest = limits.depth.unwrap_or(u32::MAX).min(FURTHEST as u32 - 1);
        let mut guess = None;
        for depth in 1..=furthest {
            self.at_start = None;
            let value = self.search_to(board, depth as i32, guess);
            thought.nodes = self.halt.nodes;
            if self.halt.halted {
                // A move found better before the halt is better all the same.
                if let Some((value, line)) = self.at_start.take() {
                    put(&line, value, position, &mut thought);
                }
                break;
            }
            guess = Some(value);
            thought.depth = depth;
            put(&self.lines[0], value, position, &mut thought);
            told(&thought);
            // No shorter mate can be found any more.
            if (is_mate(value) || is_mated(value)) && MATE - value.abs() <= depth as i32 {
                break;
            }
        }
        thought
    }

    /// The exact value at a depth, by windows that open around a guess.
    fn search_to(&mut self, board: &SearchBoard, depth: i32, guess: Option<i32>) -> i32 {
        let here = Here {
            ply: 0,
            in_check: board.in_check(),
            last: None,
        };
        let mut width = WINDOW;
        let (mut alpha, mut beta) = match guess {
            Some(guess) if depth >= 4 && !is_mate(guess) && !is_mated(guess) => {
                (guess - width, guess + width)
            }
            _ => (-INFINITE, INFINITE),
        };
        loop {
            let value = self.alpha_beta(board, depth, (alpha, beta), here);
            if self.halt.halted {
                return value;
            }
            width *= 4;
            if value <= alpha && alpha > -INFINITE {
                alpha = (value - width).max(-INFINITE);
            } else if value >= beta && beta < INFINITE {
                beta = (value + width).min(INFINITE);
            } else {
                return value;
            }
        }
    }
}
