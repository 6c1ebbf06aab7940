//! The status of every unit of the defender, from the threats.

use shakmaty::{Bitboard, Color, Role, Square};

use crate::count;
use crate::line::Step;
use crate::mechanism::{Cause, Scene, causes};
use crate::replay::Charge;
use crate::search::{Search, SearchBoard};
use crate::threat::{Attack, THRESHOLD, Threat, Verdict};

/// How a unit stands, the worst last but for the two that are not judgements.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    Safe,
    SafeByTactics,
    WonBack,
    UnsafeTogether,
    Unsafe,
    InCheck,
    NotJudged,
}

impl Status {
    /// The word for it, the same in JSON and in text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Status::Safe => "safe",
            Status::SafeByTactics => "safe by tactics",
            Status::WonBack => "won back",
            Status::UnsafeTogether => "unsafe together",
            Status::Unsafe => "unsafe",
            Status::InCheck => "in check",
            Status::NotJudged => "not judged",
        }
    }

    /// Whether the unit can be won, alone or together with others.
    #[must_use]
    pub const fn is_unsafe(self) -> bool {
        matches!(self, Status::Unsafe | Status::UnsafeTogether)
    }
}

/// What a unit loses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    Centipawns(i32),
    Mate,
}

/// How a status is shown: the line, the reach it takes, and what is lost.
#[derive(Debug, Clone)]
pub struct Proof {
    pub reach: u32,
    pub loses: Loss,
    pub line: Vec<Step>,
}

/// A unit with its status.
#[derive(Debug, Clone)]
pub struct Unit {
    pub square: Square,
    pub role: Role,
    pub status: Status,
    pub loose: bool,
    pub proof: Option<Proof>,
    pub together: Bitboard,
    pub attackers: Bitboard,
    pub guards: Bitboard,
    pub causes: Vec<Cause>,
}

/// Where a charge comes from: which threat and which of its lines.
#[derive(Clone, Copy)]
struct Charged<'a> {
    threat: &'a Threat,
    line: usize,
    charge: Charge,
}

impl Charged<'_> {
    fn loses(&self) -> Loss {
        if self.charge.by_mate {
            Loss::Mate
        } else {
            Loss::Centipawns(self.charge.loses.min(self.threat.wins))
        }
    }

    fn proof(&self) -> Proof {
        Proof {
            reach: self.threat.reach,
            loses: self.loses(),
            line: self.threat.lines[self.line].steps.clone(),
        }
    }

    fn weight(&self) -> i32 {
        match self.loses() {
            Loss::Mate => i32::MAX,
            Loss::Centipawns(loses) => loses,
        }
    }

    /// The smaller reach first, then the larger loss.
    fn rank(&self) -> (u32, std::cmp::Reverse<i32>) {
        (self.threat.reach, std::cmp::Reverse(self.weight()))
    }
}

/// A unit as it stands, not judged.
#[must_use]
pub fn unjudged(board: &SearchBoard, square: Square, owner: Color) -> Option<Unit> {
    let role = board.role_at(square)?;
    let attackers = board.attackers(square, !owner, board.occupied());
    let guards = board.attackers(square, owner, board.occupied());
    let king = role == Role::King;
    Some(Unit {
        square,
        role,
        status: Status::NotJudged,
        loose: !king && attackers.is_empty() && guards.is_empty(),
        proof: None,
        together: Bitboard::EMPTY,
        attackers,
        guards,
        causes: Vec::new(),
    })
}

impl Search {
    /// The status of every unit of the defender under these threats.
    pub fn statuses(&mut self, attack: &Attack, threats: &[Threat]) -> Vec<Unit> {
        let start = attack.start();
        let owner = !attack.attacker();
        let unsafe_alone = start
            .side(owner)
            .into_iter()
            .filter(|&square| sure_charge(threats, square).is_some())
            .fold(Bitboard::EMPTY, Bitboard::with);
        start
            .side(owner)
            .into_iter()
            .filter_map(|square| unjudged(&start, square, owner))
            .map(|unit| self.judged(attack, threats, unsafe_alone, unit))
            .collect()
    }

    fn judged(
        &mut self,
        attack: &Attack,
        threats: &[Threat],
        unsafe_alone: Bitboard,
        mut unit: Unit,
    ) -> Unit {
        let charged = charges_of(threats, unit.square);
        let of_verdict = |verdict| {
            charged
                .iter()
                .filter(move |c| c.threat.verdict == verdict)
                .min_by_key(|c| c.rank())
        };
        unit.status = Status::Safe;
        if let Some(sure) = sure_charge(threats, unit.square) {
            unit.status = Status::Unsafe;
            self.prove(attack, &mut unit, &sure);
        } else if let Some((shared, others)) = shared_charge(threats, unit.square, unsafe_alone) {
            unit.status = Status::UnsafeTogether;
            unit.together = others;
            self.prove(attack, &mut unit, &shared);
        } else if charged.iter().any(|c| c.threat.verdict == Verdict::Real) {
            // What falls is another unit, which the same threat charges for certain.
        } else if let Some(back) = of_verdict(Verdict::WonBack) {
            unit.status = Status::WonBack;
            unit.proof = answered(back);
        } else if let Some(refuted) = of_verdict(Verdict::Refuted) {
            unit.status = Status::SafeByTactics;
            unit.proof = answered(refuted);
        } else if let Some(proof) = self.refuted_count(attack, unit.square) {
            unit.status = Status::SafeByTactics;
            unit.proof = Some(proof);
        }
        unit
    }

    fn prove(&self, attack: &Attack, unit: &mut Unit, charged: &Charged) {
        let proof = charged.proof();
        let scene = Scene::new(attack, &proof.line, unit.square, self.values());
        unit.causes = scene.as_ref().map_or_else(Vec::new, causes);
        unit.proof = Some(proof);
    }

    /// Where the exchange count wins the unit on a square but the search does not: the capture
    /// that the count recommends, and what comes of it.
    fn refuted_count(&mut self, attack: &Attack, square: Square) -> Option<Proof> {
        let (gain, first) = count::best_exchange(&attack.board, square, self.values())?;
        if gain < THRESHOLD {
            return None;
        }
        let wins = self.wins_by(attack, first, attack.reach, 0);
        (wins < THRESHOLD).then(|| Proof {
            reach: 1,
            loses: Loss::Centipawns(0),
            line: self.full_line(attack, first, wins),
        })
    }
}

fn answered(charged: &Charged) -> Option<Proof> {
    Some(Proof {
        reach: charged.threat.reach,
        loses: Loss::Centipawns(0),
        line: charged.threat.answer.clone()?,
    })
}

fn charges_of(threats: &[Threat], square: Square) -> Vec<Charged<'_>> {
    let mut found = Vec::new();
    for threat in threats {
        for (line, proof) in threat.lines.iter().enumerate() {
            for &charge in proof
                .charges
                .iter()
                .filter(|c| c.on_unit && c.square == square)
            {
                found.push(Charged {
                    threat,
                    line,
                    charge,
                });
            }
        }
    }
    found
}

fn charges_in_all(threat: &Threat, square: Square) -> bool {
    threat
        .lines
        .iter()
        .all(|line| line.charges.iter().any(|c| c.on_unit && c.square == square))
}

/// The best charge by a real threat all of whose lines charge the unit.
fn sure_charge(threats: &[Threat], square: Square) -> Option<Charged<'_>> {
    charges_of(threats, square)
        .into_iter()
        .filter(|c| c.threat.verdict == Verdict::Real && charges_in_all(c.threat, square))
        .min_by_key(Charged::rank)
}

/// The best charge by a real threat some of whose lines charge the unit, with the other squares
/// that threat charges, none of them unsafe alone.
fn shared_charge(
    threats: &[Threat],
    square: Square,
    unsafe_alone: Bitboard,
) -> Option<(Charged<'_>, Bitboard)> {
    charges_of(threats, square)
        .into_iter()
        .filter(|c| c.threat.verdict == Verdict::Real)
        .map(|c| {
            let charged = all_charged(c.threat) | promotions_of(c.threat);
            (c, charged.without(square))
        })
        .filter(|(_, others)| (*others & unsafe_alone).is_empty())
        .min_by_key(|(c, _)| c.rank())
}

/// The square of every unit that some line of a threat charges.
#[must_use]
pub fn all_charged(threat: &Threat) -> Bitboard {
    squares_charged(threat, |charge| charge.on_unit)
}

/// Every square that some line of a threat charges for a promotion that takes no unit there.
#[must_use]
pub fn promotions_of(threat: &Threat) -> Bitboard {
    squares_charged(threat, |charge| !charge.on_unit)
}

fn squares_charged(threat: &Threat, wanted: impl Fn(&Charge) -> bool) -> Bitboard {
    threat
        .lines
        .iter()
        .flat_map(|line| &line.charges)
        .filter(|charge| wanted(charge))
        .fold(Bitboard::EMPTY, |squares, c| squares.with(c.square))
}
