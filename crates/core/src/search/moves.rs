//! Moves packed into one word, and their generation one kind at a time.

use arrayvec::ArrayVec;
use shakmaty::{Bitboard, Color, Role, Square, attacks};

use super::board::SearchBoard;

/// A legal move. Castling is the king's move of two squares.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Move(u32);

/// No position has more legal moves than this.
pub type MoveList = ArrayVec<Move, 256>;

const EN_PASSANT: u32 = 1 << 21;
const CASTLING: u32 = 1 << 22;

fn role_from(bits: u32) -> Option<Role> {
    Role::try_from(bits & 7).ok()
}

impl Move {
    #[inline]
    fn new(role: Role, from: Square, to: Square) -> Move {
        Move(from as u32 | (to as u32) << 6 | (role as u32) << 12)
    }

    #[inline]
    fn taking(self, captured: Role) -> Move {
        Move(self.0 | (captured as u32) << 15)
    }

    #[inline]
    fn promoting(self, promotion: Role) -> Move {
        Move(self.0 | (promotion as u32) << 18)
    }

    #[inline]
    pub(crate) const fn word(self) -> u32 {
        self.0
    }

    #[inline]
    pub(crate) const fn from_word(word: u32) -> Move {
        Move(word)
    }

    #[inline]
    #[must_use]
    pub fn from(self) -> Square {
        Square::new(self.0 & 63)
    }

    #[inline]
    #[must_use]
    pub fn to(self) -> Square {
        Square::new(self.0 >> 6 & 63)
    }

    /// The kind of unit that moves: the pawn, where it promotes.
    #[inline]
    #[must_use]
    pub fn role(self) -> Role {
        role_from(self.0 >> 12).expect("every move has a unit")
    }

    #[inline]
    #[must_use]
    pub fn capture(self) -> Option<Role> {
        role_from(self.0 >> 15)
    }

    #[inline]
    #[must_use]
    pub fn promotion(self) -> Option<Role> {
        role_from(self.0 >> 18)
    }

    #[inline]
    #[must_use]
    pub const fn is_en_passant(self) -> bool {
        self.0 & EN_PASSANT != 0
    }

    #[inline]
    #[must_use]
    pub const fn is_castling(self) -> bool {
        self.0 & CASTLING != 0
    }

    /// Neither a capture nor a promotion.
    #[inline]
    #[must_use]
    pub const fn is_quiet(self) -> bool {
        self.0 & (0o77 << 15) == 0
    }

    /// Where the captured unit stands: beside the target square en passant.
    #[inline]
    #[must_use]
    pub fn capture_square(self) -> Square {
        if self.is_en_passant() {
            Square::from_coords(self.to().file(), self.from().rank())
        } else {
            self.to()
        }
    }

    /// From and to of the rook that castles.
    #[must_use]
    pub fn rook_squares(self) -> (Square, Square) {
        let rank = self.from().rank();
        let (from, to) = if self.to().file() > self.from().file() {
            (shakmaty::File::H, shakmaty::File::F)
        } else {
            (shakmaty::File::A, shakmaty::File::D)
        };
        (
            Square::from_coords(from, rank),
            Square::from_coords(to, rank),
        )
    }

    /// UCI text, such as `e7e8q`.
    #[must_use]
    pub fn uci(self) -> String {
        let mut text = format!("{}{}", self.from(), self.to());
        if let Some(promotion) = self.promotion() {
            text.push(promotion.char());
        }
        text
    }
}

impl std::fmt::Debug for Move {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.uci())
    }
}

/// What bounds the side to move: its king, who checks it, which of its units are pinned.
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    pub king: Square,
    pub checkers: Bitboard,
    pub pinned: Bitboard,
}

impl Bounds {
    #[inline]
    #[must_use]
    pub fn of(board: &SearchBoard) -> Bounds {
        let us = board.turn();
        let king = board.king(us);
        Bounds {
            king,
            checkers: board.attackers(king, !us, board.occupied()),
            pinned: board.blockers(king, !us, us),
        }
    }

    /// The same where it is known that there is no check.
    #[inline]
    #[must_use]
    pub fn unchecked(board: &SearchBoard) -> Bounds {
        let us = board.turn();
        let king = board.king(us);
        Bounds {
            king,
            checkers: Bitboard::EMPTY,
            pinned: board.blockers(king, !us, us),
        }
    }

    /// Squares where a unit other than the king may land: all, or those that end the check.
    #[inline]
    fn landing(&self) -> Bitboard {
        match self.checkers.single_square() {
            Some(checker) => attacks::between(self.king, checker) | self.checkers,
            None if self.checkers.is_empty() => Bitboard::FULL,
            None => Bitboard::EMPTY,
        }
    }

    #[inline]
    fn pin_allows(&self, from: Square, to: Square) -> bool {
        !self.pinned.contains(from) || attacks::aligned(from, to, self.king)
    }
}

/// Units that can take, cheapest first, each with where it stands and what it may take.
#[derive(Debug)]
pub struct Takers(ArrayVec<(Role, Square, Bitboard), 16>);

/// Which promotions to generate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Promotions {
    QueenOnly,
    Every,
}

const PROMOTIONS: [Role; 4] = [Role::Queen, Role::Knight, Role::Rook, Role::Bishop];

impl Promotions {
    #[inline]
    fn roles(self) -> &'static [Role] {
        match self {
            Promotions::QueenOnly => &PROMOTIONS[..1],
            Promotions::Every => &PROMOTIONS,
        }
    }
}

/// Units worth taking, dearest first; the order captures are tried in.
pub const VICTIMS: [Role; 5] = [
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

impl SearchBoard {
    #[inline]
    fn king_may_go(&self, bounds: &Bounds, to: Square) -> bool {
        let occupied = self.occupied() ^ Bitboard::from_square(bounds.king);
        self.attackers(to, !self.turn(), occupied).is_empty()
    }

    /// Legal captures, unit by unit, of the opponent's units on `targets`; en passant left out.
    #[inline]
    #[must_use]
    pub fn takers(&self, targets: Bitboard, bounds: &Bounds) -> Takers {
        let us = self.turn();
        let occupied = self.occupied();
        let open = targets & bounds.landing();
        let mut takers = Takers(ArrayVec::new());
        if open.any() {
            for role in &Role::ALL[..5] {
                for from in self.units(us, *role) {
                    let bears = match role {
                        Role::Pawn => attacks::pawn_attacks(us, from),
                        role => reach_of(*role, from, occupied),
                    };
                    let mut takes = bears & open;
                    if takes.any() && bounds.pinned.contains(from) {
                        takes &= attacks::ray(bounds.king, from);
                    }
                    if takes.any() {
                        takers.0.push((*role, from, takes));
                    }
                }
            }
        }
        let near = attacks::king_attacks(bounds.king) & targets;
        let legal = near
            .into_iter()
            .filter(|&to| self.king_may_go(bounds, to))
            .fold(Bitboard::EMPTY, |squares, to| squares.with(to));
        if legal.any() {
            takers.0.push((Role::King, bounds.king, legal));
        }
        takers
    }

    /// The captures of units of one kind, the least valuable taker first.
    #[inline]
    pub fn captures_of(
        &self,
        victim: Role,
        takers: &Takers,
        promotions: Promotions,
        list: &mut MoveList,
    ) {
        let victims = self.of_role(victim);
        for (role, from, takes) in &takers.0 {
            for to in *takes & victims {
                push_with_promotion(Move::new(*role, *from, to).taking(victim), promotions, list);
            }
        }
    }

    /// Legal en passant captures.
    #[inline]
    pub fn en_passant_captures(&self, bounds: &Bounds, list: &mut MoveList) {
        let Some(to) = self.en_passant() else {
            return;
        };
        let us = self.turn();
        let captured = Square::from_coords(to.file(), us.relative_rank(shakmaty::Rank::Fifth));
        for from in attacks::pawn_attacks(!us, to) & self.units(us, Role::Pawn) {
            let gone = Bitboard::from_square(from) | Bitboard::from_square(captured);
            let occupied = (self.occupied() ^ gone) | Bitboard::from_square(to);
            let checkers = self.attackers(bounds.king, !us, occupied) & !gone;
            if checkers.is_empty() {
                let m = Move::new(Role::Pawn, from, to).taking(Role::Pawn);
                list.push(Move(m.0 | EN_PASSANT));
            }
        }
    }

    /// Legal pushes to the last rank.
    #[inline]
    pub fn promotion_pushes(&self, bounds: &Bounds, promotions: Promotions, list: &mut MoveList) {
        let us = self.turn();
        let seventh = Bitboard::from_rank(us.relative_rank(shakmaty::Rank::Seventh));
        let ready = self.units(us, Role::Pawn) & seventh;
        if ready.is_empty() {
            return;
        }
        let landing = bounds.landing() & !self.occupied();
        for from in ready {
            let to = forward(us, from);
            if landing.contains(to) && bounds.pin_allows(from, to) {
                push_with_promotion(Move::new(Role::Pawn, from, to), promotions, list);
            }
        }
    }

    /// Every legal capture and promotion, the dearest unit first.
    pub fn forcing_moves(&self, bounds: &Bounds, promotions: Promotions, list: &mut MoveList) {
        let takers = self.takers(self.side(!self.turn()), bounds);
        for victim in VICTIMS {
            self.captures_of(victim, &takers, promotions, list);
        }
        self.en_passant_captures(bounds, list);
        self.promotion_pushes(bounds, promotions, list);
    }

    /// Every legal move that neither captures nor promotes, castling included.
    pub fn quiet_moves(&self, bounds: &Bounds, list: &mut MoveList) {
        self.quiet_moves_to(bounds, |_, _| Bitboard::FULL, list);
    }

    /// Every legal quiet move that gives check.
    pub fn quiet_checks(&self, bounds: &Bounds, checks: &Checks, list: &mut MoveList) {
        let start = list.len();
        let may_check = |role: Role, from: Square| {
            if checks.discoverers.contains(from) {
                Bitboard::FULL
            } else {
                checks.by_role[role as usize - 1]
            }
        };
        self.quiet_moves_to(bounds, may_check, list);
        let mut kept = start;
        for i in start..list.len() {
            if checks.given_by(list[i], self) {
                list[kept] = list[i];
                kept += 1;
            }
        }
        list.truncate(kept);
    }

    /// Legal quiet moves to the squares that `wanted` gives for a unit and where it stands;
    /// castling whatever is wanted.
    #[inline]
    fn quiet_moves_to(
        &self,
        bounds: &Bounds,
        wanted: impl Fn(Role, Square) -> Bitboard,
        list: &mut MoveList,
    ) {
        let us = self.turn();
        let occupied = self.occupied();
        let landing = bounds.landing() & !occupied;
        if landing.any() {
            self.quiet_pawn_moves(bounds, landing, &wanted, list);
            for role in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen] {
                for from in self.units(us, role) {
                    for to in reach_of(role, from, occupied) & landing & wanted(role, from) {
                        if bounds.pin_allows(from, to) {
                            list.push(Move::new(role, from, to));
                        }
                    }
                }
            }
        }
        let steps = attacks::king_attacks(bounds.king) & !occupied;
        for to in steps & wanted(Role::King, bounds.king) {
            if self.king_may_go(bounds, to) {
                list.push(Move::new(Role::King, bounds.king, to));
            }
        }
        if bounds.checkers.is_empty() && self.castling().any() {
            self.castling_moves(bounds, list);
        }
    }

    #[inline]
    fn quiet_pawn_moves(
        &self,
        bounds: &Bounds,
        landing: Bitboard,
        wanted: &impl Fn(Role, Square) -> Bitboard,
        list: &mut MoveList,
    ) {
        let us = self.turn();
        let seventh = Bitboard::from_rank(us.relative_rank(shakmaty::Rank::Seventh));
        let second = Bitboard::from_rank(us.relative_rank(shakmaty::Rank::Second));
        for from in self.units(us, Role::Pawn) & !seventh {
            let one = forward(us, from);
            if self.occupied().contains(one) {
                continue;
            }
            let landing = landing & wanted(Role::Pawn, from);
            if landing.contains(one) && bounds.pin_allows(from, one) {
                list.push(Move::new(Role::Pawn, from, one));
            }
            if second.contains(from) {
                let two = forward(us, one);
                if landing.contains(two) && bounds.pin_allows(from, two) {
                    list.push(Move::new(Role::Pawn, from, two));
                }
            }
        }
    }

    fn castling_moves(&self, bounds: &Bounds, list: &mut MoveList) {
        let us = self.turn();
        let home = Bitboard::from_rank(us.backrank());
        for rook in self.castling() & home & self.units(us, Role::Rook) {
            if (attacks::between(bounds.king, rook) & self.occupied()).any() {
                continue;
            }
            let file = if rook > bounds.king {
                shakmaty::File::G
            } else {
                shakmaty::File::C
            };
            let to = Square::from_coords(file, us.backrank());
            let path = attacks::between(bounds.king, to) | Bitboard::from_square(to);
            let safe = path
                .into_iter()
                .all(|square| self.attackers(square, !us, self.occupied()).is_empty());
            if safe {
                list.push(Move(Move::new(Role::King, bounds.king, to).0 | CASTLING));
            }
        }
    }

    /// Every legal move.
    #[must_use]
    pub fn legal_moves(&self) -> MoveList {
        let bounds = Bounds::of(self);
        let mut list = MoveList::new();
        self.forcing_moves(&bounds, Promotions::Every, &mut list);
        self.quiet_moves(&bounds, &mut list);
        list
    }

    /// Whether the side to move has a legal move.
    #[must_use]
    pub fn can_move(&self, bounds: &Bounds) -> bool {
        let us = self.turn();
        if bounds.checkers.is_empty() {
            // An unpinned unit with somewhere to go settles it without making a list.
            let free = !bounds.pinned & self.side(us);
            let forward_open = |from| !self.occupied().contains(forward(us, from));
            if (self.of_role(Role::Pawn) & free)
                .into_iter()
                .any(forward_open)
            {
                return true;
            }
            let elsewhere = !self.side(us);
            for role in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen] {
                for from in self.of_role(role) & free {
                    if (reach_of(role, from, self.occupied()) & elsewhere).any() {
                        return true;
                    }
                }
            }
        }
        !self.legal_moves().is_empty()
    }
}

/// The square in front of a pawn; pawns never stand on their last rank.
#[inline]
fn forward(us: Color, from: Square) -> Square {
    match us {
        Color::White => Square::new(from as u32 + 8),
        Color::Black => Square::new(from as u32 - 8),
    }
}

/// Where a knight, bishop, rook or queen bears to.
#[inline]
fn reach_of(role: Role, from: Square, occupied: Bitboard) -> Bitboard {
    match role {
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => attacks::bishop_attacks(from, occupied),
        Role::Rook => attacks::rook_attacks(from, occupied),
        Role::Queen => attacks::queen_attacks(from, occupied),
        Role::Pawn | Role::King => Bitboard::EMPTY,
    }
}

#[inline]
fn push_with_promotion(m: Move, promotions: Promotions, list: &mut MoveList) {
    if m.role() == Role::Pawn && Bitboard::BACKRANKS.contains(m.to()) {
        for role in promotions.roles() {
            list.push(m.promoting(*role));
        }
    } else {
        list.push(m);
    }
}

/// Where the side to move would give check.
#[derive(Debug, Clone, Copy)]
pub struct Checks {
    king: Square,
    by_role: [Bitboard; 6],
    discoverers: Bitboard,
}

impl Checks {
    #[inline]
    #[must_use]
    pub fn of(board: &SearchBoard) -> Checks {
        let us = board.turn();
        let king = board.king(!us);
        let occupied = board.occupied();
        let diagonal = attacks::bishop_attacks(king, occupied);
        let straight = attacks::rook_attacks(king, occupied);
        Checks {
            king,
            by_role: [
                attacks::pawn_attacks(!us, king),
                attacks::knight_attacks(king),
                diagonal,
                straight,
                diagonal | straight,
                Bitboard::EMPTY,
            ],
            discoverers: board.blockers(king, us, us),
        }
    }

    /// Whether a capture on one of these squares might give check.
    #[inline]
    #[must_use]
    pub fn possible_on(&self, squares: Bitboard) -> bool {
        let direct = self.by_role[0] | self.by_role[1] | self.by_role[4];
        self.discoverers.any() || (direct & squares).any()
    }

    /// Whether a legal move of `board`, the board these were made from, gives check.
    #[inline]
    #[must_use]
    pub fn given_by(&self, m: Move, board: &SearchBoard) -> bool {
        let from = m.from();
        if m.promotion().is_some() || m.is_en_passant() || m.is_castling() {
            return self.given_by_odd(m, board);
        }
        self.by_role[m.role() as usize - 1].contains(m.to())
            || (self.discoverers.contains(from) && !attacks::aligned(from, m.to(), self.king))
    }

    /// Promotions, en passant and castling change more than one square's worth of lines.
    #[cold]
    fn given_by_odd(&self, m: Move, board: &SearchBoard) -> bool {
        let uncounted = crate::values::Values::new(0, 0, 0, 0, 0);
        board.after(m, &uncounted).in_check()
    }
}
