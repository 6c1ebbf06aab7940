//! The exchange count: captures on one square, least valuable first.

use shakmaty::{Bitboard, Color, Role, Square, attacks};

use crate::search::{Move, SearchBoard};
use crate::values::Values;

/// Units that bear on a square, x-rays included, units pinned to their king left out unless they
/// would take along the pin.
struct Bearing<'a> {
    board: &'a SearchBoard,
    square: Square,
    occupied: Bitboard,
    pinned: Bitboard,
}

impl<'a> Bearing<'a> {
    fn new(board: &'a SearchBoard, square: Square) -> Bearing<'a> {
        let pinned = |side: Color| {
            let king = board.king(side);
            board
                .blockers(king, !side, side)
                .into_iter()
                .filter(|&unit| !attacks::aligned(king, unit, square))
                .fold(Bitboard::EMPTY, Bitboard::with)
        };
        Bearing {
            board,
            square,
            occupied: board.occupied(),
            pinned: pinned(Color::White) | pinned(Color::Black),
        }
    }

    fn units(&self, side: Color) -> Bitboard {
        self.board.attackers(self.square, side, self.occupied) & self.occupied & !self.pinned
    }

    /// The least valuable unit of `side` that bears on the square; a king only where nothing
    /// bears on it from the other side.
    fn least_valuable(&self, side: Color) -> Option<(Role, Square)> {
        let units = self.units(side);
        Role::ALL.into_iter().find_map(|role| {
            let unit = (units & self.board.of_role(role)).first()?;
            let kept_off = role == Role::King && {
                let behind = self.occupied.without(unit);
                let guards = self.board.attackers(self.square, !side, behind);
                (guards & behind & !self.pinned).any()
            };
            (!kept_off).then_some((role, unit))
        })
    }

    /// How many units of each side bear on the square when all lines have been opened.
    fn totals(mut self, side: Color) -> (u32, u32) {
        let (mut own, mut other) = (0, 0);
        loop {
            let (first, second) = (self.units(side), self.units(!side));
            if (first | second).is_empty() {
                return (own, other);
            }
            own += first.count() as u32;
            other += second.count() as u32;
            self.occupied &= !(first | second);
        }
    }
}

/// What the side to move gains by a capture and all that may follow on its square, either side
/// free to stop, in centipawns.
///
/// The sequence is worked backwards, as in the exchange analysis of the published worked
/// examples that the tests name.
#[must_use]
pub fn exchange(board: &SearchBoard, capture: Move, values: &Values) -> i32 {
    let mut bearing = Bearing::new(board, capture.to());
    let mut gains = vec![capture.capture().map_or(0, |role| values.of(role))];
    let mut standing = capture.role();
    let mut side = !board.turn();
    bearing.occupied &= !Bitboard::from_square(capture.from());
    if capture.is_en_passant() {
        bearing.occupied &= !Bitboard::from_square(capture.capture_square());
    }
    while let Some((role, unit)) = bearing.least_valuable(side) {
        gains.push(values.of(standing));
        standing = role;
        bearing.occupied &= !Bitboard::from_square(unit);
        side = !side;
    }
    gains
        .into_iter()
        .rev()
        .reduce(|later, gain| gain - later.max(0))
        .unwrap_or(0)
}

/// The best that `board`'s side to move gains by captures on a square, and the first of them:
/// by the least valuable unit, then by where it stands seen from that side. Nothing where no
/// legal capture there gains.
#[must_use]
pub fn best_exchange(board: &SearchBoard, square: Square, values: &Values) -> Option<(i32, Move)> {
    let stands = |m: Move| match board.turn() {
        Color::White => m.from(),
        Color::Black => m.from().flip_vertical(),
    };
    exchanges(board, square, values)
        .max_by_key(|&(gain, m)| (gain, std::cmp::Reverse((m.role(), stands(m)))))
        .filter(|&(gain, _)| gain > 0)
}

/// Every legal capture on a square with what it gains, in centipawns.
pub fn exchanges(
    board: &SearchBoard,
    square: Square,
    values: &Values,
) -> impl Iterator<Item = (i32, Move)> {
    board
        .legal_moves()
        .into_iter()
        .filter(move |m| m.capture().is_some() && m.capture_square() == square)
        .map(move |m| (exchange(board, m, values), m))
}

/// How many units of `side` and of the other side bear on a square, x-rays included, pinned
/// units left out.
#[must_use]
pub fn totals(board: &SearchBoard, square: Square, side: Color) -> (u32, u32) {
    Bearing::new(board, square).totals(side)
}

/// The units of `side` that guard a square of their own, x-rays and opened lines included,
/// pinned ones left out.
#[must_use]
pub fn guards(board: &SearchBoard, square: Square, side: Color) -> Bitboard {
    let mut bearing = Bearing::new(board, square);
    let kings = board.of_role(Role::King);
    let mut found = Bitboard::EMPTY;
    loop {
        let units = bearing.units(side) | bearing.units(!side);
        let fresh = units & !found;
        if fresh.is_empty() {
            return found & board.side(side);
        }
        found |= fresh;
        // Nothing bears on a square through a king.
        bearing.occupied &= !(fresh & !kings);
    }
}
