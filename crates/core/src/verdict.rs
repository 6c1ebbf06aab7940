//! The verdict on every legal move: what it nets, whether it holds, how, or why not.

use shakmaty::{Bitboard, Square};

use crate::judged::Judged;
use crate::line::{Left, Point, Step};
use crate::rank::Ranked;
use crate::reason::{self, Reason};
use crate::remedy::{self, Answered, Ways};
use crate::replay::Replay;
use crate::search::{Move, Search, later_by_one_ply};
use crate::status::all_charged;
use crate::threat::{Attack, THRESHOLD, Threat, Verdict};
use crate::trade::Standpoint;
use crate::way::Way;

/// What one legal move does.
#[derive(Debug, Clone)]
pub struct MoveVerdict {
    pub played: Move,
    /// The mover's balance change at the full reach, centipawns or a mate.
    pub net: i32,
    pub holds: bool,
    /// The smallest reach from which it falls at every reach up to the full one.
    pub falls_at: Option<u32>,
    /// Whether the verdict is the same one reach deeper; `None` if that was not asked.
    pub firm: Option<bool>,
    /// What refutes it one reach deeper, if it holds and is not firm, or if no move holds.
    pub deeper: Option<Refutation>,
    pub ways: Ways,
    /// Units that were unsafe and no longer are.
    pub saves: Bitboard,
    /// Units that fall after it, by its refutation, where they stood before it.
    pub drops: Vec<Square>,
    /// The move and its refutation; for a remedy, the move and the opponent's best try.
    pub line: Vec<Step>,
    /// For a remedy that neither moves, guards a unit, blocks nor captures in the first place: what
    /// it has ready if the dearest threat that it answers is carried out after all.
    pub answer: Option<Vec<Step>>,
    /// Why it falls, the main reason first; empty for a move that holds.
    pub reasons: Vec<Reason>,
    /// A club player would think of it here, whatever its verdict.
    pub natural: bool,
    /// Its place among the moves that hold; `None` for others, or if that was not asked.
    pub ranked: Option<Ranked>,
}

/// How a move falls one reach deeper.
#[derive(Debug, Clone)]
pub struct Refutation {
    /// The mover's balance change, centipawns or a mate.
    pub net: i32,
    /// The move and the line that wins.
    pub line: Vec<Step>,
}

impl MoveVerdict {
    /// The mover's balance change as far as it was looked: one reach deeper where it falls there.
    #[must_use]
    pub fn furthest_net(&self) -> i32 {
        self.deeper.as_ref().map_or(self.net, |deeper| deeper.net)
    }
}

/// What the verdicts on the moves of one position share.
pub struct Question<'a> {
    pub standpoint: &'a Standpoint,
    pub defence: &'a Attack,
    pub threats: &'a [Threat],
    /// Units that are unsafe, alone or together.
    pub unsafe_units: Bitboard,
    /// Whether there is danger, so that a move that holds is a remedy.
    pub in_danger: bool,
    pub in_check: bool,
    pub firm: bool,
    pub judged: Judged,
}

impl Question<'_> {
    fn child(&self, m: Move, search: &Search) -> Point {
        let board = self.standpoint.board.after(m, search.values());
        Point {
            board,
            left: Left::Plies(2 * self.defence.reach - 1),
            last_capture: m.capture().map(|_| m.to()),
        }
    }

    /// The opponent's move after `m` that is the first move of a threat, if it is still legal.
    pub(crate) fn still_legal(&self, point: &Point, threat: &Threat) -> Option<Move> {
        point.board.legal_moves().into_iter().find(|reply| {
            let first = threat.first;
            reply.from() == first.from()
                && reply.to() == first.to()
                && reply.promotion() == first.promotion()
                && reply.role() == first.role()
        })
    }
}

impl Search {
    /// The verdict on every legal move that is asked for, in the order of UCI text.
    pub fn verdicts(&mut self, question: &Question) -> Vec<MoveVerdict> {
        let mut moves = self.moves_judged(question);
        moves.sort_by_cached_key(|m| m.uci());
        let mut verdicts: Vec<MoveVerdict> = moves
            .into_iter()
            .map(|m| self.verdict(question, m))
            .collect();
        if verdicts.iter().all(|v| !v.holds && v.firm == Some(true)) {
            // What is lost least is worth the longer look.
            for verdict in &mut verdicts {
                let point = question.child(verdict.played, self);
                verdict.deeper = Some(self.refutation_deeper(question, &point, verdict.played));
            }
        }
        reason::explain(question, &mut verdicts, self);
        verdicts
    }

    fn verdict(&mut self, question: &Question, m: Move) -> MoveVerdict {
        let point = question.child(m, self);
        let nets = self.nets_by_reach(&point, question.defence.reach);
        let net = nets.last().copied().unwrap_or(0);
        let falls = |net: &i32| *net <= -THRESHOLD;
        let holds = !falls(&net);
        let falling = nets.iter().rev().take_while(|net| falls(net)).count() as u32;
        let firm = question.firm.then(|| {
            let deeper = 2 * question.defence.reach + 1;
            self.reaches(&point.board, deeper, THRESHOLD) != holds
        });
        let turns = holds && firm == Some(false);
        let mut verdict = MoveVerdict {
            played: m,
            net,
            holds,
            falls_at: (!holds).then_some(question.defence.reach + 1 - falling),
            firm,
            deeper: turns.then(|| self.refutation_deeper(question, &point, m)),
            ways: Ways::default(),
            saves: Bitboard::EMPTY,
            drops: Vec::new(),
            line: vec![Step::Move(m)],
            answer: None,
            reasons: Vec::new(),
            natural: false,
            ranked: None,
        };
        if holds {
            verdict.saves = question.unsafe_units;
            if question.in_check || question.in_danger {
                self.explain_remedy(question, &point, &mut verdict);
            }
        } else {
            self.refute(question, &point, &mut verdict);
        }
        verdict
    }

    /// The mover's net at each reach from 1 to the full one.
    fn nets_by_reach(&mut self, point: &Point, reach: u32) -> Vec<i32> {
        let mut guess = self.standing(&point.board);
        (1..=reach)
            .map(|reach| {
                guess = self.value(&point.board, 2 * reach - 1, guess);
                -guess
            })
            .collect()
    }

    fn refutation_deeper(&mut self, question: &Question, point: &Point, m: Move) -> Refutation {
        let plies = 2 * question.defence.reach + 1;
        let wins = self.value(&point.board, plies, THRESHOLD);
        let further = Point {
            left: Left::Plies(plies),
            ..*point
        };
        let replies = self.play_out(further, wins, point.board.turn());
        let line = [m].into_iter().chain(replies).map(Step::Move).collect();
        Refutation { net: -wins, line }
    }

    fn refute(&mut self, question: &Question, point: &Point, verdict: &mut MoveVerdict) {
        let opponent = point.board.turn();
        let refutation = self.play_out(*point, -verdict.net, opponent);
        verdict.line.extend(refutation.into_iter().map(Step::Move));
        let replay = Replay::of(&question.standpoint.board, &verdict.line, opponent, self);
        for charge in replay.charges(opponent, THRESHOLD) {
            let own = question.standpoint.board.side(!opponent);
            let another = !charge.on_unit && own.contains(charge.square);
            if !another && !verdict.drops.contains(&charge.square) {
                verdict.drops.push(charge.square);
            }
        }
        let unsafe_units = question.unsafe_units;
        verdict.saves = unsafe_units
            .into_iter()
            .filter(|unit| !verdict.drops.contains(unit))
            .filter(|&unit| !self.still_falls(question, point, verdict.played, unit))
            .fold(Bitboard::EMPTY, Bitboard::with);
    }

    /// Whether a unit that was unsafe still falls after a move, by the first move of a threat
    /// that charged it or by being taken where it stands.
    fn still_falls(&mut self, question: &Question, point: &Point, m: Move, unit: Square) -> bool {
        let stands = if m.from() == unit { m.to() } else { unit };
        let takes = |reply: &Move| reply.capture().is_some() && reply.capture_square() == stands;
        let mut tries: Vec<Move> = question
            .threats
            .iter()
            .filter(|t| t.verdict == Verdict::Real && all_charged(t).contains(unit))
            .filter_map(|t| question.still_legal(point, t))
            .collect();
        tries.extend(point.board.legal_moves().into_iter().filter(takes));
        tries
            .into_iter()
            .any(|reply| self.shows(point, reply, THRESHOLD))
    }

    fn explain_remedy(&mut self, question: &Question, point: &Point, verdict: &mut MoveVerdict) {
        let m = verdict.played;
        self.add_best_try(question, point, verdict);
        if question.in_check {
            verdict.ways = remedy::ways_out_of_check(&question.standpoint.board, m);
            return;
        }
        let answered: Vec<&Threat> = question
            .threats
            .iter()
            .filter(|threat| self.answers(question, point, threat))
            .collect();
        let real = answered.iter().any(|t| t.verdict == Verdict::Real);
        let relevant: Vec<&Threat> = answered
            .into_iter()
            .filter(|t| !real || t.verdict == Verdict::Real)
            .collect();
        let dearest = (relevant.iter().copied()).max_by_key(|threat| {
            let at_once = all_charged(threat).contains(threat.first.to());
            (threat.wins, at_once, std::cmp::Reverse(threat.reach))
        });
        let gathered = Answered::new(question.defence, relevant.into_iter(), self);
        let retakes = question.standpoint.owed() >= THRESHOLD && question.standpoint.retakes(m);
        let board = &question.standpoint.board;
        verdict.ways = remedy::ways(board, m, &gathered, retakes, self.values());
        if verdict.ways.names.is_empty() {
            let back = self.is_won_back(question, point, m);
            verdict.ways.wins_back = back;
            if back || self.threatens_mate(question, point) {
                verdict.ways.names.push(Way::Counterattack);
            }
        }
        if verdict.ways.names.is_empty() && !real {
            // No threat is answered at its own reach, so all real ones are answered beyond it.
            let later = question.threats.iter();
            let later = later.filter(|t| t.verdict == Verdict::Real);
            let gathered = Answered::new(question.defence, later, self);
            verdict.ways = remedy::ways(board, m, &gathered, retakes, self.values());
        }
        if verdict.ways.names.is_empty() {
            verdict.ways.names.push(Way::Other);
        }
        let at_no_unit = matches!(verdict.ways.names[0], Way::Counterattack | Way::Other);
        if at_no_unit || verdict.ways.guards_landing {
            verdict.answer = self.answer(question, point, m, dearest);
        }
    }

    /// Whether a threat wins less than the threshold after a move, or cannot be carried out.
    fn answers(&mut self, question: &Question, point: &Point, threat: &Threat) -> bool {
        question.still_legal(point, threat).is_none_or(|reply| {
            let at_its_reach = Point {
                left: Left::Plies(2 * threat.reach - 1),
                ..*point
            };
            !self.shows(&at_its_reach, reply, THRESHOLD)
        })
    }

    /// Adds the opponent's best try, a threat's first move where one is as good as any.
    fn add_best_try(&mut self, question: &Question, point: &Point, verdict: &mut MoveVerdict) {
        let opponent = point.board.turn();
        let value = -verdict.net;
        let mut tries: Vec<Move> = question
            .threats
            .iter()
            .filter(|t| t.verdict == Verdict::Real)
            .filter_map(|t| question.still_legal(point, t))
            .collect();
        tries.extend(self.preferred(point, opponent));
        let Some(reply) = tries.into_iter().find(|&m| self.shows(point, m, value)) else {
            return;
        };
        verdict.line.push(Step::Move(reply));
        let next = point.after(reply, self);
        let rest = self.play_out(next, later_by_one_ply(value), opponent);
        verdict.line.extend(rest.into_iter().map(Step::Move));
    }
}
