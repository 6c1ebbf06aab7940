//! The features that the evaluation counts, in families, each under the term it belongs to.

/// A named part of the evaluation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Term {
    Material,
    Placement,
    Mobility,
    KingShelter,
    Pawns,
    BishopPair,
    RooksOnFiles,
    Threats,
}

pub(super) const TERMS: usize = 8;

/// Features of one kind, such as one for each kind of unit. Their weights stand in a row.
#[derive(Debug, Clone, Copy)]
pub(super) struct Family {
    pub(super) name: &'static str,
    pub(super) term: Term,
    pub(super) members: &'static [&'static str],
    pub(super) first: usize,
}

impl Family {
    /// The family whose weights follow those of this one.
    const fn then(
        self,
        term: Term,
        name: &'static str,
        members: &'static [&'static str],
    ) -> Family {
        Family {
            name,
            term,
            members,
            first: self.first + self.members.len(),
        }
    }
}

const UNITS: &[&str] = &["pawn", "knight", "bishop", "rook", "queen", "king"];
const PIECES: &[&str] = &["knight", "bishop", "rook", "queen"];
const ONE: &[&str] = &[""];

pub(super) const MATERIAL: Family = Family {
    name: "material",
    term: Term::Material,
    members: &["pawn", "knight", "bishop", "rook", "queen"],
    first: 0,
};

/// Nearness to the middle files: -3, -1, 1 or 3.
pub(super) const FILE: Family = MATERIAL.then(Term::Placement, "file", UNITS);
/// Nearness to the middle ranks: -3, -1, 1 or 3.
pub(super) const RANK: Family = FILE.then(Term::Placement, "rank", UNITS);
/// Steps towards the other side's first rank: -7, -5, ... 7.
pub(super) const ADVANCE: Family = RANK.then(Term::Placement, "advance", UNITS);
/// Pawns on d4, e4, d5, e5.
pub(super) const CENTRE_PAWN: Family = ADVANCE.then(Term::Placement, "centre pawn", ONE);
/// Minor pieces beyond the middle, guarded by a pawn, that no pawn can ever drive off.
pub(super) const OUTPOST: Family =
    CENTRE_PAWN.then(Term::Placement, "outpost", &["knight", "bishop"]);
/// How near a king is to the bare king it hunts: 0 to 6.
pub(super) const HUNT: Family = OUTPOST.then(Term::Placement, "hunt", ONE);

/// Squares a piece can go to that no pawn of the other side attacks.
pub(super) const MOVES: Family = HUNT.then(Term::Mobility, "moves", PIECES);
/// How many squares a piece lacks of four.
pub(super) const CRAMPED: Family = MOVES.then(Term::Mobility, "cramped", PIECES);
/// Own pawns on a bishop's colour.
pub(super) const BISHOP_PAWNS: Family = CRAMPED.then(Term::Mobility, "bishop's own pawns", ONE);
/// Squares for the pieces behind the pawns on the four middle files.
pub(super) const ROOM: Family = BISHOP_PAWNS.then(Term::Mobility, "room", ONE);

/// The nearest own pawn in front of the king on its file and the two beside it.
pub(super) const SHELTER: Family = ROOM.then(
    Term::KingShelter,
    "shelter",
    &["one step", "two steps", "no own pawn", "no pawn"],
);
/// Pawns of the other side that come near, on the same three files.
pub(super) const STORM: Family = SHELTER.then(
    Term::KingShelter,
    "storm",
    &["one step", "two steps", "three steps"],
);
/// Squares beside the king that a piece of the other side attacks.
pub(super) const RING: Family = STORM.then(Term::KingShelter, "ring", PIECES);
/// Pairs of pieces of the other side that attack squares beside the king.
pub(super) const RING_PAIRS: Family = RING.then(Term::KingShelter, "ring pairs", ONE);
/// Squares beside the king, attacked and guarded by the king or nothing else.
pub(super) const RING_WEAK: Family = RING_PAIRS.then(Term::KingShelter, "ring weak", ONE);
/// Squares from which a piece of the other side could give check without loss.
pub(super) const SAFE_CHECKS: Family = RING_WEAK.then(Term::KingShelter, "safe checks", PIECES);

pub(super) const PAWN_FAULTS: Family =
    SAFE_CHECKS.then(Term::Pawns, "pawn", &["doubled", "isolated", "backward"]);
pub(super) const PAWN_MERITS: Family =
    PAWN_FAULTS.then(Term::Pawns, "pawn", &["guarded", "beside", "lever"]);
/// Passed pawns by rank, the second rank first.
pub(super) const PASSED: Family = PAWN_MERITS.then(
    Term::Pawns,
    "passed",
    &["second", "third", "fourth", "fifth", "sixth", "seventh"],
);
/// More about passed pawns, each counted as often as the pawn has advanced.
pub(super) const PASSED_MORE: Family = PASSED.then(
    Term::Pawns,
    "passed",
    &["guarded", "stopped", "free", "king race"],
);

pub(super) const BISHOP_PAIR: Family = PASSED_MORE.then(Term::BishopPair, "bishop pair", ONE);

pub(super) const ROOKS: Family = BISHOP_PAIR.then(
    Term::RooksOnFiles,
    "rook",
    &[
        "open file",
        "half-open file",
        "seventh rank",
        "behind passed pawn",
    ],
);

/// Pieces that a pawn attacks.
pub(super) const BY_PAWN: Family =
    ROOKS.then(Term::Threats, "pawn attacks", &["minor", "rook", "queen"]);
/// Dearer pieces that a minor piece or a rook attacks.
pub(super) const BY_LESSER: Family = BY_PAWN.then(
    Term::Threats,
    "lesser attacks",
    &["minor on rook", "minor on queen", "rook on queen"],
);
/// Units attacked and not guarded.
pub(super) const UNGUARDED: Family = BY_LESSER.then(
    Term::Threats,
    "unguarded",
    &["pawn", "minor", "rook", "queen"],
);
/// The right to move.
pub(super) const TO_MOVE: Family = UNGUARDED.then(Term::Threats, "to move", ONE);

pub(super) const FEATURES: usize = TO_MOVE.first + TO_MOVE.members.len();

/// Every family, in the order of the weights.
pub(super) const FAMILIES: [Family; 27] = [
    MATERIAL,
    FILE,
    RANK,
    ADVANCE,
    CENTRE_PAWN,
    OUTPOST,
    HUNT,
    MOVES,
    CRAMPED,
    BISHOP_PAWNS,
    ROOM,
    SHELTER,
    STORM,
    RING,
    RING_PAIRS,
    RING_WEAK,
    SAFE_CHECKS,
    PAWN_FAULTS,
    PAWN_MERITS,
    PASSED,
    PASSED_MORE,
    BISHOP_PAIR,
    ROOKS,
    BY_PAWN,
    BY_LESSER,
    UNGUARDED,
    TO_MOVE,
];
