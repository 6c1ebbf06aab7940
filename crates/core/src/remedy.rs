//! How a remedy works: the ways, by geometry, relative to the threats that the move answers.

use shakmaty::{Bitboard, Color, Role, Square, attacks};

use crate::count;
use crate::counterattack::{attacks_in_turn, pins_a_carrier, threatens_to_promote};
use crate::line::Step;
use crate::pins::{pins, sliders};
use crate::replay::Replay;
use crate::search::{Move, Search, SearchBoard};
use crate::status::all_charged;
use crate::threat::{Attack, Threat};
use crate::values::Values;
use crate::way::Way;

/// A line of attack that a move closes: a slider and what it bears on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Segment {
    pub slider: Square,
    pub target: Square,
}

/// What the threats that a move answers have in common for naming its ways.
pub struct Answered {
    board: SearchBoard,
    attacker: Color,
    carriers: Bitboard,
    charged: Bitboard,
    landings: Bitboard,
    segments: Vec<Segment>,
    /// The most that any of them takes, in centipawns.
    at_stake: i32,
}

impl Answered {
    /// Gathers the threats; `attack` is the question that they answer.
    #[must_use]
    pub fn new<'a>(
        attack: &Attack,
        threats: impl Iterator<Item = &'a Threat>,
        search: &Search,
    ) -> Answered {
        let start = attack.start();
        let attacker = attack.attacker();
        let mut answered = Answered {
            board: start,
            attacker,
            carriers: Bitboard::EMPTY,
            charged: Bitboard::EMPTY,
            landings: Bitboard::EMPTY,
            segments: Vec::new(),
            at_stake: 0,
        };
        for threat in threats {
            answered.carriers.add(threat.first.from());
            answered.charged |= all_charged(threat);
            answered.at_stake = answered.at_stake.max(threat.wins);
            for line in &threat.lines {
                answered.add_line(&line.steps, search);
            }
        }
        answered.add_pins();
        answered
    }

    fn add_line(&mut self, steps: &[Step], search: &Search) {
        let replay = Replay::of(&self.board, steps, self.attacker, search);
        self.carriers |= replay.takers;
        self.landings |= replay.landings;
        for &(slider, target) in &replay.slides {
            self.segments.push(Segment { slider, target });
        }
        let last = replay.last;
        if last.turn() != self.attacker {
            let king = last.king(!self.attacker);
            let checkers = last.attackers(king, self.attacker, last.occupied());
            for slider in checkers & sliders(&last) {
                self.segments.push(Segment {
                    slider,
                    target: king,
                });
            }
            if replay.is_mate(self.attacker) {
                self.add_support(&last, checkers);
            }
        }
    }

    /// The lines by which sliders guard the units that give mate.
    fn add_support(&mut self, mated: &SearchBoard, checkers: Bitboard) {
        for target in checkers {
            let support = mated.attackers(target, self.attacker, mated.occupied());
            for slider in support & sliders(mated) {
                self.segments.push(Segment { slider, target });
            }
        }
    }

    /// Pins of a charged unit or of one that guards where the threat lands, up to what they are
    /// pinned to.
    fn add_pins(&mut self) {
        let defender = !self.attacker;
        for pin in pins(&self.board, self.attacker) {
            let guards = self.landings.into_iter().any(|square| {
                self.board
                    .attackers(square, defender, self.board.occupied())
                    .contains(pin.pinned)
            });
            if guards || self.charged.contains(pin.pinned) {
                self.segments.push(Segment {
                    slider: pin.slider,
                    target: pin.to,
                });
            }
        }
    }

    fn blocked_by(&self, m: Move) -> Option<Segment> {
        if !m.is_quiet() {
            return None;
        }
        self.segments
            .iter()
            .copied()
            // A unit that leaves the line's end moves away; it does not close the line.
            .find(|s| s.target != m.from() && attacks::between(s.slider, s.target).contains(m.to()))
    }
}

/// The ways of one move.
#[derive(Debug, Clone, Default)]
pub struct Ways {
    /// The main one first.
    pub names: Vec<Way>,
    /// The line of attack that it closes, if it blocks.
    pub blocked: Option<Segment>,
    /// The counterattack wins back as much as is taken.
    pub wins_back: bool,
    /// It guards no unit in danger, only a square where the threat lands.
    pub guards_landing: bool,
}

/// The ways of a move that gets out of check: capture, move or block, FIDE Laws 3.9.
#[must_use]
pub fn ways_out_of_check(board: &SearchBoard, m: Move) -> Ways {
    let us = board.turn();
    let king = board.king(us);
    let checkers = board.attackers(king, !us, board.occupied());
    let mut ways = Ways::default();
    if m.capture().is_some() && checkers.contains(m.capture_square()) {
        ways.names.push(Way::Capture);
    }
    if m.role() == Role::King {
        ways.names.push(Way::Move);
    } else if ways.names.is_empty() {
        ways.names.push(Way::Block);
        ways.blocked = checkers.first().map(|slider| Segment {
            slider,
            target: king,
        });
    }
    ways
}

/// The ways of a remedy against a danger, all but winning back and `other`, which need a line.
/// `retakes`: the move takes on the square of the last capture while something is owed.
#[must_use]
pub fn ways(
    board: &SearchBoard,
    m: Move,
    answered: &Answered,
    retakes: bool,
    values: &Values,
) -> Ways {
    let after = board.after(m, values);
    let mut ways = Ways::default();
    let carries = m.capture().is_some() && answered.carriers.contains(m.capture_square());
    if carries || retakes {
        ways.names.push(Way::Capture);
    }
    let castled = m.is_castling() && answered.charged.contains(m.rook_squares().0);
    if answered.charged.contains(m.from()) || castled {
        ways.names.push(Way::Move);
    }
    ways.blocked = answered.blocked_by(m);
    if ways.blocked.is_some() {
        ways.names.push(Way::Block);
    }
    let still = answered.charged & board.side(board.turn()) & !Bitboard::from_square(m.from());
    let still = still & !board.of_role(Role::King);
    if still
        .into_iter()
        .any(|unit| adds_guard(board, &after, m, unit))
    {
        ways.names.push(Way::Guard);
    }
    let in_between = m.capture().is_some() && !carries && !retakes;
    if after.in_check()
        || in_between
        || m.promotion().is_some()
        || attacks_in_turn(board, &after, answered.at_stake, values)
        || pins_a_carrier(board, &after, answered.carriers, values)
        || threatens_to_promote(board, &after, answered.at_stake, values)
    {
        ways.names.push(Way::Counterattack);
    }
    if ways.names.is_empty()
        && answered
            .landings
            .into_iter()
            .any(|square| adds_guard(board, &after, m, square))
    {
        ways.names.push(Way::Guard);
        ways.guards_landing = true;
    }
    ways
}

/// Whether a square has a guard after the move that it did not have before; that the moved unit
/// guarded it already is no news.
pub(crate) fn adds_guard(
    board: &SearchBoard,
    after: &SearchBoard,
    m: Move,
    square: Square,
) -> bool {
    let us = board.turn();
    let mut before = count::guards(board, square, us);
    if before.contains(m.from()) {
        before.add(m.to());
    }
    if m.is_castling() {
        let (from, to) = m.rook_squares();
        if before.contains(from) {
            before.add(to);
        }
    }
    (count::guards(after, square, us) & !before).any()
}
