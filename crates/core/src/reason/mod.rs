//! Why a move falls, named from its refutation and the geometry; `docs/reasons.md` says the same
//! in words. Each name has one definition, the function of that name.

mod counterattacks;
mod guards;
mod in_danger;
mod losses;
mod refutation;
pub mod stake;
pub mod winnable;

use serde::ser::{Serialize, SerializeStruct, Serializer};
use shakmaty::{Bitboard, Color, Square};

use crate::natural::{Aims, Counterattack, is_natural};
use crate::search::Search;
use crate::verdict::{MoveVerdict, Question};
use refutation::Refutation;
use stake::Stake;

/// The names of the reasons, in the order in which the main one is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Name {
    AllowsMate,
    APawnPromotes,
    TheBlockerFalls,
    GuardPinned,
    LessValuableAttacker,
    OutnumberedStill,
    TwoUnitsAttacked,
    WalksIntoACapture,
    UncoversAnotherUnit,
    AnsweredWithABiggerThreat,
    ThreatTooSmall,
    DoesNotAddressIt,
    /// None of the others: the line shows what is lost.
    LostFurtherOn,
}

impl Name {
    /// The words for it, the same in JSON and in text.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Name::AllowsMate => "allows mate",
            Name::APawnPromotes => "a pawn promotes",
            Name::TheBlockerFalls => "the blocker falls",
            Name::GuardPinned => "guard pinned",
            Name::LessValuableAttacker => "less valuable attacker",
            Name::OutnumberedStill => "outnumbered still",
            Name::WalksIntoACapture => "walks into a capture",
            Name::UncoversAnotherUnit => "uncovers another unit",
            Name::AnsweredWithABiggerThreat => "answered with a bigger threat",
            Name::ThreatTooSmall => "threat too small",
            Name::TwoUnitsAttacked => "two units attacked",
            Name::DoesNotAddressIt => "does not address it",
            Name::LostFurtherOn => "lost further on",
        }
    }
}

/// One reason why a move falls. The squares are those of the board after the move.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    pub name: Name,
    /// The squares that take part, in the order that the name's definition gives them.
    pub squares: Vec<Square>,
}

impl Serialize for Reason {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let squares: Vec<String> = self.squares.iter().map(ToString::to_string).collect();
        let mut reason = serializer.serialize_struct("Reason", 2)?;
        reason.serialize_field("reason", self.name.words())?;
        reason.serialize_field("squares", &squares)?;
        reason.end()
    }
}

/// A definition: the squares that take part where the reason applies.
type Definition = fn(&Refutation) -> Option<Vec<Square>>;

const DEFINITIONS: [(Name, Definition); 12] = [
    (Name::AllowsMate, losses::allows_mate),
    (Name::APawnPromotes, losses::a_pawn_promotes),
    (Name::TheBlockerFalls, losses::the_blocker_falls),
    (Name::GuardPinned, guards::guard_pinned),
    (Name::LessValuableAttacker, guards::less_valuable_attacker),
    (Name::OutnumberedStill, guards::outnumbered_still),
    (Name::TwoUnitsAttacked, losses::two_units_attacked),
    (Name::WalksIntoACapture, losses::walks_into_a_capture),
    (Name::UncoversAnotherUnit, losses::uncovers_another_unit),
    (
        Name::AnsweredWithABiggerThreat,
        counterattacks::answered_with_a_bigger_threat,
    ),
    (Name::ThreatTooSmall, counterattacks::threat_too_small),
    (Name::DoesNotAddressIt, counterattacks::does_not_address_it),
];

/// Names why each move falls and says which moves are natural.
pub fn explain(question: &Question, verdicts: &mut [MoveVerdict], search: &Search) {
    let values = search.values();
    let stake = Stake::of(question, values);
    for verdict in verdicts {
        let m = verdict.played;
        let after = stake.board.after(m, values);
        let counterattack = if stake.pressing {
            Counterattack::of(&stake, &after, values)
        } else {
            Counterattack::default()
        };
        verdict.natural = stake.pressing && is_natural(&stake, m, &after, &counterattack, values);
        if !verdict.holds {
            let aims = Aims::of(&stake, &stake.all, m, &after);
            let refutation = Refutation::new(&stake, aims, counterattack, &verdict.line, search);
            verdict.reasons = reasons(&refutation);
        }
    }
}

fn reasons(refutation: &Refutation) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = DEFINITIONS
        .into_iter()
        .filter_map(|(name, applies)| {
            let squares = applies(refutation)?;
            Some(Reason { name, squares })
        })
        .collect();
    // A move without an aim falls because of what was in danger before anything else.
    let aimless = (reasons.iter()).position(|reason| reason.name == Name::DoesNotAddressIt);
    if let Some(place) = aimless.filter(|_| !refutation.tries() && refutation.still_falls()) {
        let told = |reason: &&Reason| matches!(reason.name, Name::AllowsMate | Name::APawnPromotes);
        let first = reasons.iter().take_while(told).count();
        reasons[first..=place].rotate_right(1);
    }
    if reasons.is_empty() {
        // In a trade a line may lose no more: what is owed was not taken back.
        let name = if refutation.loses_nothing_more() {
            Name::DoesNotAddressIt
        } else {
            Name::LostFurtherOn
        };
        reasons.push(Reason {
            name,
            squares: refutation.what_still_falls(),
        });
    }
    reasons
}

/// Squares in one order whichever side looks at them: from the side's own first rank.
fn seen_from(side: Color, squares: Bitboard) -> Vec<Square> {
    let mut listed: Vec<Square> = squares.into_iter().collect();
    listed.sort_by_key(|square| match side {
        Color::White => *square,
        Color::Black => square.flip_vertical(),
    });
    listed
}
