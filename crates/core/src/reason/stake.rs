//! What was in danger before a move, and what endangers it.

use shakmaty::{Bitboard, Role, Square, attacks};

use super::winnable::{squares, winnable};
use crate::line::Step;
use crate::remedy::Segment;
use crate::search::{Move, SearchBoard, is_mate};
use crate::status::all_charged;
use crate::threat::{ProofLine, THRESHOLD, Threat, Verdict};
use crate::values::Values;
use crate::verdict::Question;

/// What some threats charge, and how they go about it.
#[derive(Debug, Default)]
pub struct Danger {
    /// Units and promotion squares that the threats charge; in check the king.
    pub charged: Bitboard,
    /// Units that make the first move of a threat or take what it charges; in check those that
    /// give it.
    pub carriers: Bitboard,
    /// What a guard could help: what is charged but the king, and where mate is given.
    pub guardable: Bitboard,
    /// The lines along which sliders make those moves or give mate.
    segments: Vec<Segment>,
}

impl Danger {
    /// The line of attack that a move closes: it captures nothing and lands strictly between.
    #[must_use]
    pub fn blocked_by(&self, m: Move) -> Option<Segment> {
        let closes = |segment: &Segment| {
            segment.target != m.from()
                && attacks::between(segment.slider, segment.target).contains(m.to())
        };
        let blocks = m.is_quiet() && m.role() != Role::King;
        self.segments.iter().copied().find(|s| blocks && closes(s))
    }

    fn of_check(board: &SearchBoard) -> Danger {
        let target = board.king(board.turn());
        let carriers = board.attackers(target, !board.turn(), board.occupied());
        Danger {
            charged: Bitboard::from_square(target),
            carriers,
            guardable: Bitboard::EMPTY,
            segments: (carriers.into_iter())
                .map(|slider| Segment { slider, target })
                .collect(),
        }
    }

    /// Adds what a threat charges within `units`.
    fn add(&mut self, board: &SearchBoard, threat: &Threat, units: Bitboard) {
        let king = board.king(board.turn());
        for line in &threat.lines {
            for charge in &line.charges {
                if units.contains(charge.square) {
                    self.charged.add(charge.square);
                    self.guardable |= Bitboard::from_square(charge.square).without(king);
                    self.add_line(board, threat, line, charge.taken_on);
                }
            }
        }
    }

    /// Adds the moves of a line that begin it, take on a square or give mate.
    fn add_line(&mut self, board: &SearchBoard, threat: &Threat, line: &ProofLine, on: Square) {
        let king = board.king(board.turn());
        let mates = on == king;
        let last = line.steps.len() - 1;
        for (at, step) in line.steps.iter().enumerate() {
            let Step::Move(m) = *step else { continue };
            let begins = at == 1;
            let takes = at % 2 == 1 && m.capture().is_some() && m.to() == on;
            let ends = mates && at == last;
            if !(begins || takes || ends) {
                continue;
            }
            let came = at > 1 && m.from() == threat.first.to();
            self.carriers
                .add(if came { threat.first.from() } else { m.from() });
            self.add_segment(m, m.from(), m.to());
            if ends {
                self.guardable.add(m.to());
                self.add_segment(m, m.to(), king);
            }
        }
    }

    fn add_segment(&mut self, m: Move, slider: Square, target: Square) {
        if matches!(m.role(), Role::Bishop | Role::Rook | Role::Queen) {
            self.segments.push(Segment { slider, target });
        }
    }
}

/// What is at stake in a position before a move is chosen.
pub struct Stake<'a> {
    pub board: &'a SearchBoard,
    /// There is danger or check.
    pub pressing: bool,
    /// Where the last move captured, if the side to move has lost something by it.
    pub to_retake: Option<Square>,
    /// All that real threats charge.
    pub all: Danger,
    /// Of that, what falls soonest, and there what loses most.
    pub main: Danger,
    /// The first moves of the real threats, each with what its threat charges.
    pub firsts: Vec<(Move, Bitboard)>,
    /// What `main` loses, in centipawns, or what is owed where that is more.
    pub worth: i32,
    /// The opponent's units that can be taken with gain by the exchange count.
    pub takings: Bitboard,
    /// The units that the opponent could take with gain by that count after a pass.
    pub exposed: Bitboard,
}

impl<'a> Stake<'a> {
    /// What is attacked before the move: what could be taken with gain after a pass, and the king
    /// in check.
    #[must_use]
    pub fn attacked(&self) -> Bitboard {
        let king = self.board.king(self.board.turn());
        let checked = self.board.in_check().then(|| Bitboard::from_square(king));
        self.exposed | checked.unwrap_or(Bitboard::EMPTY)
    }

    /// Gathers what is in danger in a position.
    #[must_use]
    pub fn of(question: &Question<'a>, values: &Values) -> Stake<'a> {
        let board = &question.standpoint.board;
        let owed = question.standpoint.owed();
        let mut stake = Stake {
            board,
            pressing: question.in_danger || question.in_check,
            to_retake: (question.standpoint.last_capture).filter(|_| owed >= THRESHOLD),
            all: Danger::default(),
            main: Danger::default(),
            firsts: Vec::new(),
            worth: owed,
            takings: squares(&winnable(board, values)),
            exposed: squares(&winnable(&board.passed(), values)),
        };
        if question.in_check {
            stake.all = Danger::of_check(board);
            stake.main = Danger::of_check(board);
            return stake;
        }
        let real = question
            .threats
            .iter()
            .filter(|t| t.verdict == Verdict::Real);
        let real: Vec<&Threat> = real.collect();
        let soonest = real.iter().map(|threat| threat.reach).min();
        let first: Vec<&Threat> = (real.iter().copied())
            .filter(|threat| Some(threat.reach) == soonest)
            .collect();
        let most = first
            .iter()
            .map(|threat| most_lost(threat))
            .max()
            .unwrap_or(0);
        stake.worth = stake.worth.max(most);
        for threat in first {
            stake.main.add(board, threat, lost_for(threat, most));
        }
        for threat in real {
            stake.firsts.push((threat.first, all_charged(threat)));
            stake.all.add(board, threat, all_charged(threat));
        }
        stake
    }
}

/// The most that a threat takes on one square, in centipawns or as mate.
fn most_lost(threat: &Threat) -> i32 {
    if is_mate(threat.wins) {
        return i32::MAX;
    }
    let charges = threat.lines.iter().flat_map(|line| &line.charges);
    charges
        .map(|charge| charge.loses.min(threat.wins))
        .max()
        .unwrap_or(0)
}

/// The units for which a threat takes so much.
fn lost_for(threat: &Threat, most: i32) -> Bitboard {
    let charges = threat.lines.iter().flat_map(|line| &line.charges);
    charges
        .filter(|charge| charge.by_mate || charge.loses.min(threat.wins) >= most)
        .fold(Bitboard::EMPTY, |units, charge| units.with(charge.square))
}
