//! Why a unit falls: each name of the trade defined once, by the function that finds it. The same
//! definitions in a table are in `docs/mechanisms.md`.
//!
//! The words: the owner has the unit that falls, the attacker is the other side. The line is the
//! proof of the unit's status; the capture is its move that takes the unit, the taker makes it, on
//! the taking square. "Bears on" means attacks or guards by the way it moves, pinned or not;
//! "guards" leaves pinned units out and looks through others. To gain is to win half a pawn.

mod attackers;
mod boards;
mod discoveries;
mod fork;
mod guards;
mod in_between;
mod king;
mod lines;
mod mates;
mod overload;
mod promotion;
mod scene;
mod trapped;

use shakmaty::{Bitboard, Role};

pub use scene::Scene;

/// The names, in the order in which they are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mechanism {
    Unguarded,
    LessValuableAttacker,
    Outnumbered,
    PinnedGuard,
    OverloadedGuard,
    RemovalOfTheGuard,
    Fork,
    Pin,
    Skewer,
    DiscoveredAttack,
    DiscoveredCheck,
    DoubleCheck,
    Trapped,
    BackRank,
    MateThreat,
    Promotion,
    Interference,
    InBetweenMove,
    Desperado,
}

impl Mechanism {
    /// The word for it, the same in JSON and in text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Mechanism::Unguarded => "unguarded",
            Mechanism::LessValuableAttacker => "less valuable attacker",
            Mechanism::Outnumbered => "outnumbered",
            Mechanism::PinnedGuard => "pinned guard",
            Mechanism::OverloadedGuard => "overloaded guard",
            Mechanism::RemovalOfTheGuard => "removal of the guard",
            Mechanism::Fork => "fork",
            Mechanism::Pin => "pin",
            Mechanism::Skewer => "skewer",
            Mechanism::DiscoveredAttack => "discovered attack",
            Mechanism::DiscoveredCheck => "discovered check",
            Mechanism::DoubleCheck => "double check",
            Mechanism::Trapped => "trapped",
            Mechanism::BackRank => "back rank",
            Mechanism::MateThreat => "mate threat",
            Mechanism::Promotion => "promotion",
            Mechanism::Interference => "interference",
            Mechanism::InBetweenMove => "in-between move",
            Mechanism::Desperado => "desperado",
        }
    }
}

/// A reason why a unit falls, with the squares that take part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cause {
    pub mechanism: Mechanism,
    pub squares: Bitboard,
}

impl Cause {
    /// The word for its mechanism.
    #[must_use]
    pub fn word(&self) -> &'static str {
        self.mechanism.word()
    }
}

/// Finds one mechanism in a scene: the squares that take part, if it applies.
type Finder = fn(&Scene) -> Option<Bitboard>;

const OF_A_UNIT: [(Mechanism, Finder); 19] = [
    (Mechanism::Unguarded, attackers::unguarded),
    (
        Mechanism::LessValuableAttacker,
        attackers::less_valuable_attacker,
    ),
    (Mechanism::Outnumbered, attackers::outnumbered),
    (Mechanism::PinnedGuard, guards::pinned_guard),
    (Mechanism::OverloadedGuard, overload::overloaded_guard),
    (Mechanism::RemovalOfTheGuard, guards::removal_of_the_guard),
    (Mechanism::Fork, fork::fork),
    (Mechanism::Pin, lines::pin),
    (Mechanism::Skewer, lines::skewer),
    (Mechanism::DiscoveredAttack, discoveries::discovered_attack),
    (Mechanism::DiscoveredCheck, discoveries::discovered_check),
    (Mechanism::DoubleCheck, discoveries::double_check),
    (Mechanism::Trapped, trapped::trapped),
    (Mechanism::BackRank, mates::back_rank),
    (Mechanism::MateThreat, mates::mate_threat),
    (Mechanism::Promotion, promotion::promotion),
    (Mechanism::Interference, guards::interference),
    (Mechanism::InBetweenMove, in_between::in_between_move),
    (Mechanism::Desperado, attackers::desperado),
];

const OF_THE_KING: [(Mechanism, Finder); 6] = [
    (Mechanism::OverloadedGuard, king::overloaded_guard),
    (Mechanism::RemovalOfTheGuard, king::removal_of_the_guard),
    (Mechanism::DiscoveredCheck, discoveries::discovered_check),
    (Mechanism::DoubleCheck, discoveries::double_check),
    (Mechanism::BackRank, king::back_rank),
    (Mechanism::MateThreat, king::mate_threat),
];

/// Why the unit of a scene falls, in the order of the names.
#[must_use]
pub fn causes(scene: &Scene) -> Vec<Cause> {
    let finders: &[(Mechanism, Finder)] = if scene.role == Role::King {
        &OF_THE_KING
    } else {
        &OF_A_UNIT
    };
    finders
        .iter()
        .filter_map(|&(mechanism, finder)| {
            finder(scene).map(|squares| Cause { mechanism, squares })
        })
        .collect()
}
