//! What a move sets out to do, by geometry alone, and whether a club player would think of it.

use shakmaty::{Bitboard, Role};

use crate::reason::stake::{Danger, Stake};
use crate::reason::winnable::{Winnable, winnable};
use crate::remedy::{Segment, adds_guard};
use crate::search::{Move, SearchBoard};
use crate::threat::THRESHOLD;
use crate::values::Values;

/// What a move sets out to do about a danger, by geometry alone.
#[derive(Debug, Default)]
pub struct Aims {
    /// It takes a unit that carries out the danger, or takes back.
    pub captures: bool,
    /// A charged unit leaves its square; castling counts for king and rook.
    pub moves: bool,
    /// The line of attack that it closes.
    pub blocks: Option<Segment>,
    /// Charged squares, or those where mate is threatened, with a guard that they did not have.
    pub guards: Bitboard,
}

impl Aims {
    /// What a move sets out to do about a danger.
    #[must_use]
    pub fn of(stake: &Stake, danger: &Danger, m: Move, after: &SearchBoard) -> Aims {
        let takes = m.capture().map(|_| m.capture_square());
        let retakes = stake.to_retake.is_some() && stake.to_retake == takes;
        let castled = m.is_castling() && danger.charged.contains(m.rook_squares().0);
        let exposed = danger.guardable.without(m.from());
        Aims {
            captures: retakes || takes.is_some_and(|square| danger.carriers.contains(square)),
            moves: danger.charged.contains(m.from()) || castled,
            blocks: danger.blocked_by(m),
            guards: exposed
                .into_iter()
                .filter(|&square| adds_guard(stake.board, after, m, square))
                .fold(Bitboard::EMPTY, Bitboard::with),
        }
    }

    /// Whether it does any of this.
    #[must_use]
    pub fn any(&self) -> bool {
        self.captures || self.moves || self.blocks.is_some() || self.guards.any()
    }
}

/// The attack in turn that a move makes: a check, or units that the opponent did not stand to
/// lose before it and now does, by the exchange count.
#[derive(Debug, Default)]
pub struct Counterattack {
    pub checks: bool,
    pub attacks: Vec<Winnable>,
}

impl Counterattack {
    /// The attack in turn by the move that leads to `after`.
    #[must_use]
    pub fn of(stake: &Stake, after: &SearchBoard, values: &Values) -> Counterattack {
        if after.in_check() {
            return Counterattack {
                checks: true,
                attacks: Vec::new(),
            };
        }
        let mut attacks = winnable(&after.passed(), values);
        attacks.retain(|unit| !stake.takings.contains(unit.square));
        Counterattack {
            checks: false,
            attacks,
        }
    }

    /// Whether there is one.
    #[must_use]
    pub fn any(&self) -> bool {
        self.checks || !self.attacks.is_empty()
    }
}

/// Whether a club player would think of a move where something is in danger. Of what is lost
/// soonest, and there of what loses most, it takes a carrier, moves the unit itself, closes the
/// line or adds a guard; or it takes back; or it gives check, or attacks or takes something worth
/// at least as much. It promotes to nothing less than a queen; and unless it takes a carrier or
/// takes back, what it moves cannot be taken with gain where it lands, what it takes counted, a
/// blocker not for as much as is in danger.
#[must_use]
pub fn is_natural(
    stake: &Stake,
    m: Move,
    after: &SearchBoard,
    counterattack: &Counterattack,
    values: &Values,
) -> bool {
    if m.promotion().is_some_and(|to| to != Role::Queen) {
        return false;
    }
    let aims = Aims::of(stake, &stake.main, m, after);
    if aims.captures {
        return true;
    }
    let takes = m.capture().map_or(0, |role| values.of(role));
    let attacks_as_much = (counterattack.attacks.iter()).any(|unit| unit.gain >= stake.worth);
    let in_turn = counterattack.checks || attacks_as_much || takes >= stake.worth;
    let most = if aims.blocks.is_some() {
        stake.worth
    } else {
        THRESHOLD
    };
    let loses = || {
        let there = winnable(after, values);
        let there = there.iter().find(|unit| unit.square == m.to());
        there.map_or(0, |unit| unit.gain) - takes
    };
    (aims.any() || in_turn) && loses() < most
}
