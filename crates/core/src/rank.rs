//! Ranks of the moves that hold: what they net first, as far as it was looked, then the evaluation.

use shakmaty::{Chess, Move, Position};

use crate::price::{Price, price};
use crate::rules;
use crate::search::{MATE, Search};
use crate::survey::Survey;
use crate::thinking::{Limits, Score, Thinker, Thought};
use crate::verdict::MoveVerdict;

/// Moves within so many centipawns of the first of a rank share it.
pub const SAME_RANK: i32 = 25;
/// Moves of the best net within so many centipawns of the best are the better ways.
pub const ADVISED: i32 = 50;
/// So many plies of likely play are kept, the opponent's two moves and their answers, or a few more
/// where a trade is going on.
const LIKELY: usize = 4;
const LIKELY_IN_A_TRADE: usize = 8;

/// What a move that holds is worth beside its net.
#[derive(Debug, Clone)]
pub struct Ranked {
    /// By the evaluation, in the mover's view: centipawns, or a mate counted as in the search.
    pub evaluation: i32,
    /// 1 is the first; ties share a rank, and the next one counts them.
    pub rank: u32,
    pub advised: bool,
    pub price: Price,
    /// How play is likely to go on after it, by the evaluation; no proof.
    pub likely: Vec<Move>,
}

/// Ranks the holding moves of a survey of `position` by `nodes` a move.
pub fn rank(
    survey: &mut Survey,
    position: &Chess,
    search: &Search,
    thinker: &mut Thinker,
    nodes: u64,
) {
    let thoughts: Vec<Option<(i32, Vec<Move>)>> = survey
        .moves
        .iter()
        .map(|verdict| {
            verdict
                .holds
                .then(|| think_after(position, verdict, thinker, nodes))
        })
        .collect();
    let evaluations: Vec<Option<i32>> = thoughts
        .iter()
        .map(|thought| thought.as_ref().map(|(evaluation, _)| *evaluation))
        .collect();
    let ranks = ranks(&survey.moves, &evaluations);
    let board = survey.standpoint.board;
    for ((verdict, thought), place) in survey.moves.iter_mut().zip(thoughts).zip(ranks) {
        verdict.ranked = thought
            .zip(place)
            .map(|((evaluation, likely), place)| Ranked {
                evaluation,
                rank: place.rank,
                advised: place.advised,
                price: price(&board, &verdict.line, &verdict.ways.names, search.values()),
                likely,
            });
    }
}

/// The one move that alone has the first rank.
#[must_use]
pub fn best(moves: &[MoveVerdict]) -> Option<&MoveVerdict> {
    let mut first = moves
        .iter()
        .filter(|verdict| verdict.ranked.as_ref().is_some_and(|r| r.rank == 1));
    let best = first.next()?;
    first.next().is_none().then_some(best)
}

#[derive(Clone, Copy)]
struct Place {
    rank: u32,
    advised: bool,
}

fn ranks(moves: &[MoveVerdict], evaluations: &[Option<i32>]) -> Vec<Option<Place>> {
    let mut order: Vec<(usize, i32, i32)> = moves
        .iter()
        .zip(evaluations)
        .enumerate()
        .filter_map(|(index, (verdict, evaluation))| {
            Some((index, verdict.furthest_net(), (*evaluation)?))
        })
        .collect();
    order.sort_by_key(|&(index, net, evaluation)| (std::cmp::Reverse((net, evaluation)), index));
    let mut places = vec![None; moves.len()];
    let Some(&(_, best_net, best_evaluation)) = order.first() else {
        return places;
    };
    let mut head = (0, best_net, best_evaluation);
    for (place, &(index, net, evaluation)) in (1..).zip(&order) {
        if head.0 == 0 || net != head.1 || evaluation < head.2 - SAME_RANK {
            head = (place, net, evaluation);
        }
        places[index] = Some(Place {
            rank: head.0,
            advised: net == best_net && evaluation >= best_evaluation - ADVISED,
        });
    }
    places
}

/// What the mover has after a move by the evaluation, and how play is likely to go on.
fn think_after(
    position: &Chess,
    verdict: &MoveVerdict,
    thinker: &mut Thinker,
    nodes: u64,
) -> (i32, Vec<Move>) {
    let mut after = position.clone();
    after.play_unchecked(rules::rules_move(position, verdict.played));
    let thought = think(&after, thinker, nodes);
    (-centipawns(thought.score), settled(thought.line))
}

/// The line up to a move after which nothing is taken at once; nothing where there is no such move.
fn settled(mut line: Vec<Move>) -> Vec<Move> {
    let shortest = LIKELY.min(line.len());
    let longest = LIKELY_IN_A_TRADE.min(line.len());
    let end = (shortest..=longest).find(|&end| {
        let next_takes = line.get(end).is_some_and(|next| next.is_capture());
        let last_takes = end == line.len() && line.last().is_some_and(|next| next.is_capture());
        !next_takes && !last_takes
    });
    line.truncate(end.unwrap_or(0));
    line
}

/// What a position is worth to the side to move after `nodes` nodes: centipawns, or a mate.
pub fn evaluation_of(position: &Chess, thinker: &mut Thinker, nodes: u64) -> i32 {
    centipawns(think(position, thinker, nodes).score)
}

fn think(position: &Chess, thinker: &mut Thinker, nodes: u64) -> Thought {
    thinker.forget();
    let limits = Limits {
        depth: None,
        nodes: Some(nodes),
        time: None,
        stop: None,
    };
    thinker.think(position, &[], &limits, &mut |_| {})
}

fn centipawns(score: Score) -> i32 {
    match score {
        Score::Centipawns(centipawns) => centipawns,
        Score::Mates(plies) => MATE - plies as i32,
        Score::Mated(plies) => plies as i32 - MATE,
    }
}
