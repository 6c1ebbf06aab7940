//! Proof lines: the moves that show a value, chosen by fixed rules where several would do.

use shakmaty::{Color, Role, Square};

use crate::search::{EVASION_PLIES, Move, MoveList, Search, SearchBoard, later_by_one_ply};

/// How much of a search is left at a point of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Left {
    /// So many plies of full width.
    Plies(u32),
    /// Quiescence, with so many of its plies played.
    Quiet(u32),
}

impl Left {
    /// What is left one ply later.
    #[must_use]
    pub const fn next(self) -> Left {
        match self {
            Left::Plies(0) => Left::Quiet(1),
            Left::Plies(1) => Left::Quiet(0),
            Left::Plies(plies) => Left::Plies(plies - 1),
            Left::Quiet(played) => Left::Quiet(played + 1),
        }
    }
}

/// A point of a line: the board, what is left to search, and what the line must show.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    pub board: SearchBoard,
    pub left: Left,
    /// Where the last move captured, if it did.
    pub last_capture: Option<Square>,
}

impl Point {
    /// The point after a move.
    #[must_use]
    pub fn after(&self, m: Move, search: &Search) -> Point {
        Point {
            board: self.board.after(m, search.values()),
            left: self.left.next(),
            last_capture: m.capture().map(|_| m.to()),
        }
    }
}

impl Search {
    /// Whether the side to move at a point attains `bound` or more.
    pub fn attains(&mut self, point: &Point, bound: i32) -> bool {
        match point.left {
            Left::Plies(plies) => self.reaches(&point.board, plies, bound),
            Left::Quiet(played) => self.reaches_quietly(&point.board, played, bound),
        }
    }

    /// Whether `m` is among the moves that show the value at a point, in the mover's view.
    pub fn shows(&mut self, point: &Point, m: Move, value: i32) -> bool {
        let next = point.after(m, self);
        !self.attains(&next, later_by_one_ply(value) + 1)
    }

    /// The moves searched at a point.
    fn candidates(point: &Point) -> MoveList {
        let mut list = point.board.legal_moves();
        if let Left::Quiet(played) = point.left {
            if point.board.in_check() && played < EVASION_PLIES {
                list.retain(|m| m.capture().is_none() || is_queening_or_none(*m));
            } else {
                list.retain(|m| !m.is_quiet() && is_queening_or_none(*m));
            }
        }
        list
    }

    /// The candidates at a point, those that a line prefers first.
    #[must_use]
    pub fn preferred(&self, point: &Point, attacker: Color) -> MoveList {
        let mut list = Search::candidates(point);
        list.sort_by_key(|&m| self.preference(point, m, attacker));
        list
    }

    /// Recapture first, by the king last; then the attacker's captures, dearest unit first; quiet
    /// moves; the defender's captures; and the order of UCI text seen from the mover's side of the
    /// board.
    fn preference(&self, point: &Point, m: Move, attacker: Color) -> (u8, i32, u32) {
        let mover = point.board.turn();
        let victim = m.capture().map_or(0, |role| self.values().of(role));
        let kind = if m.capture().is_some() && point.last_capture == Some(m.to()) {
            0
        } else if m.capture().is_none() {
            2
        } else if mover == attacker {
            1
        } else {
            3
        };
        let within = match kind {
            0 => i32::from(m.role() == Role::King),
            1 => -victim,
            _ => 0,
        };
        (kind, within, uci_order(m, mover))
    }

    /// Whether the balance at a point stands at its value: it is equal to it, and no recapture
    /// that would show the value too is still to come.
    pub fn stands(&mut self, point: &Point, value: i32) -> bool {
        if self.standing(&point.board) != value {
            return false;
        }
        let Some(square) = point.last_capture else {
            return true;
        };
        !Search::candidates(point)
            .into_iter()
            .any(|m| m.capture().is_some() && m.to() == square && self.shows(point, m, value))
    }

    /// Plays on from a point whose value (in the view of the side to move) is known, until the
    /// balance stands at it, or to mate or stalemate.
    pub fn play_out(&mut self, mut point: Point, mut value: i32, attacker: Color) -> Vec<Move> {
        let mut line = Vec::new();
        while !self.stands(&point, value) {
            let preferred = self.preferred(&point, attacker);
            let Some(m) = preferred
                .into_iter()
                .find(|&m| self.shows(&point, m, value))
            else {
                break;
            };
            line.push(m);
            point = point.after(m, self);
            value = later_by_one_ply(value);
        }
        line
    }
}

/// A promotion to a queen, or no promotion at all.
fn is_queening_or_none(m: Move) -> bool {
    m.promotion().is_none_or(|to| to == Role::Queen)
}

/// The order of UCI text from the mover's side of the board, a queen before other promotions.
pub(crate) fn uci_order(m: Move, mover: Color) -> u32 {
    let seen = |square: Square| {
        let square = match mover {
            Color::White => square,
            Color::Black => square.flip_vertical(),
        };
        square.file() as u32 * 8 + square.rank() as u32
    };
    let promotion = match m.promotion() {
        None | Some(Role::Queen) => 0,
        Some(Role::Bishop) => 1,
        Some(Role::Knight) => 2,
        Some(_) => 3,
    };
    (seen(m.from()) * 64 + seen(m.to())) * 4 + promotion
}

/// One step of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    Pass,
    Move(Move),
}

impl Step {
    /// UCI text; a pass is `0000`.
    #[must_use]
    pub fn uci(self) -> String {
        match self {
            Step::Pass => "0000".to_owned(),
            Step::Move(m) => m.uci(),
        }
    }
}
