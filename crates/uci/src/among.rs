//! Thinking about some of the moves only, by thinking about what each of them leads to.

use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use shakmaty::Move;

use crate::game::Game;
use crate::thinks::{Limits, Score, Thinks, Thought};

/// Where nothing else ends the thinking, it goes no deeper than this, in plies.
const DEEPEST: u32 = 100;

/// The best of the moves `only`: at least one, all legal. Depth is counted after the move.
pub fn think_among<T: Thinks>(
    thinker: &mut T,
    game: &Game,
    only: &[Move],
    limits: &Limits<'_>,
    told: &mut dyn FnMut(&Thought),
) -> Thought {
    let mut among = Among {
        thinker,
        game,
        limits,
        begun: Instant::now(),
        nodes: 0,
    };
    // However little time there is, the first move is an answer.
    let mut best = among.after(only[0], 1);
    for depth in 1..=limits.depth.unwrap_or(DEEPEST).min(DEEPEST) {
        let Some(found) = among.best(only, depth) else {
            break;
        };
        told(&found);
        best = found;
        if matches!(best.score, Score::Mates(plies) if plies <= depth) {
            break;
        }
    }
    best.nodes = among.nodes;
    best
}

struct Among<'a, T> {
    thinker: &'a mut T,
    game: &'a Game,
    limits: &'a Limits<'a>,
    begun: Instant,
    nodes: u64,
}

impl<T: Thinks> Among<'_, T> {
    /// The best move at one depth; `None` if a limit is reached before all have been looked at.
    fn best(&mut self, only: &[Move], depth: u32) -> Option<Thought> {
        let mut best: Option<Thought> = None;
        for &m in only {
            let thought = self.after(m, depth);
            if self.is_over() {
                return None;
            }
            if best
                .as_ref()
                .is_none_or(|best| worth(thought.score) > worth(best.score))
            {
                best = Some(thought);
            }
        }
        best.map(|best| Thought {
            nodes: self.nodes,
            ..best
        })
    }

    /// What one move is worth to the side that plays it.
    fn after(&mut self, m: Move, depth: u32) -> Thought {
        let game = self.game.after(m);
        let limits = Limits {
            depth: Some(depth),
            nodes: self
                .limits
                .nodes
                .map(|most| most.saturating_sub(self.nodes)),
            time: self.time_left(),
            stop: self.limits.stop,
        };
        let reply = self
            .thinker
            .think(&game.position, &game.before, &limits, &mut |_| {});
        self.nodes += reply.nodes;
        Thought {
            best: Some(m),
            line: std::iter::once(m).chain(reply.line).collect(),
            score: other_side(reply.score),
            depth,
            nodes: reply.nodes,
        }
    }

    fn time_left(&self) -> Option<Duration> {
        let time = self.limits.time?;
        Some(time.saturating_sub(self.begun.elapsed()))
    }

    fn is_over(&self) -> bool {
        self.limits
            .stop
            .is_some_and(|stop| stop.load(Ordering::Relaxed))
            || self.limits.nodes.is_some_and(|most| self.nodes >= most)
            || self.time_left().is_some_and(|left| left.is_zero())
    }
}

/// The score one ply earlier, for the side that moves there.
fn other_side(score: Score) -> Score {
    match score {
        Score::Centipawns(value) => Score::Centipawns(-value),
        Score::Mates(plies) => Score::Mated(plies + 1),
        Score::Mated(plies) => Score::Mates(plies + 1),
    }
}

/// Greater is better: the nearer mate, the later one suffered.
fn worth(score: Score) -> (i32, i64) {
    match score {
        Score::Mates(plies) => (1, -i64::from(plies)),
        Score::Centipawns(value) => (0, i64::from(value)),
        Score::Mated(plies) => (-1, i64::from(plies)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scores_are_ordered_and_turned() {
        let scores = [
            Score::Mated(2),
            Score::Mated(6),
            Score::Centipawns(-900),
            Score::Centipawns(0),
            Score::Centipawns(30),
            Score::Mates(5),
            Score::Mates(1),
        ];
        assert!(scores.is_sorted_by_key(|&score| worth(score)));
        assert_eq!(other_side(Score::Mated(0)), Score::Mates(1));
        assert_eq!(other_side(Score::Mates(1)), Score::Mated(2));
        assert_eq!(other_side(Score::Centipawns(-5)), Score::Centipawns(5));
    }
}
