//! A proof line laid out for naming: every move with the boards around it, and each unit followed
//! from where it first stood.

use shakmaty::{Bitboard, Color, Role, Square};

use super::boards::bears;
use crate::line::Step;
use crate::replay::Origins;
use crate::search::{Move, SearchBoard};
use crate::threat::Attack;
use crate::values::Values;

/// One move of a line; passes are no moves.
#[derive(Debug, Clone, Copy)]
pub struct Played {
    pub by: Move,
    pub before: SearchBoard,
    pub after: SearchBoard,
    /// Where the unit that moves stood when the line began.
    pub origin: Square,
    /// Where the unit that is taken stood when the line began.
    pub taken: Option<Square>,
    /// Whether the move answers a move of the line, and not a pass.
    answers: bool,
}

impl Played {
    /// Whether the move captures on a square.
    #[must_use]
    pub fn takes_on(&self, square: Square) -> bool {
        self.by.capture().is_some() && self.by.to() == square
    }

    /// Whether the move attacks a unit of the other side anew.
    fn attacks_anew(&self, unit: Square) -> bool {
        let mover = self.before.turn();
        let new = |board: &SearchBoard| board.attackers(unit, mover, board.occupied());
        (new(&self.after) & !new(&self.before)).any()
            || bears(&self.after, self.by.to()).contains(unit)
    }
}

/// The line of one unit's fall.
pub struct Scene<'a> {
    pub start: SearchBoard,
    pub attacker: Color,
    pub owner: Color,
    /// Where the unit that falls stands at the start.
    pub unit: Square,
    pub role: Role,
    pub line: Vec<Played>,
    /// Which move of the line takes the unit; its length where none does.
    pub capture: usize,
    pub values: &'a Values,
}

impl<'a> Scene<'a> {
    /// The scene of the fall of the unit on `unit` by a line, if a unit stands there.
    #[must_use]
    pub fn new(
        attack: &Attack,
        steps: &[Step],
        unit: Square,
        values: &'a Values,
    ) -> Option<Scene<'a>> {
        let start = attack.start();
        let role = start.role_at(unit)?;
        let mut origins = Origins::default();
        let mut board = start;
        let mut line = Vec::with_capacity(steps.len());
        let mut answers = false;
        for step in steps {
            let Step::Move(by) = *step else {
                board = board.passed();
                answers = false;
                continue;
            };
            let after = board.after(by, values);
            line.push(Played {
                by,
                before: board,
                after,
                origin: origins.of(by.from()),
                taken: by.capture().map(|_| origins.of(by.capture_square())),
                answers,
            });
            origins.follow(by);
            board = after;
            answers = true;
        }
        let attacker = attack.attacker();
        let capture = line
            .iter()
            .position(|played| played.before.turn() == attacker && played.taken == Some(unit))
            .unwrap_or(line.len());
        Some(Scene {
            start,
            attacker,
            owner: !attacker,
            unit,
            role,
            line,
            capture,
            values,
        })
    }

    /// The move that takes the unit.
    #[must_use]
    pub fn taking(&self) -> Option<&Played> {
        self.line.get(self.capture)
    }

    /// The owner's move after a move of the line.
    #[must_use]
    pub fn reply(&self, index: usize) -> Option<&Played> {
        self.line.get(index + 1).filter(|next| next.answers)
    }

    /// The attacker's moves with their numbers in the line.
    pub fn attacks(&self) -> impl Iterator<Item = (usize, &Played)> {
        self.line
            .iter()
            .enumerate()
            .filter(|(_, played)| played.before.turn() == self.attacker)
    }

    /// The attacker's moves before the one that takes the unit.
    pub fn approach(&self) -> impl Iterator<Item = (usize, &Played)> {
        self.attacks()
            .take_while(|&(index, _)| index < self.capture)
    }

    /// The survey's position, and the one after the attacker's first move if that does not take
    /// the unit.
    pub fn early_boards(&self) -> impl Iterator<Item = &SearchBoard> {
        let first = self.approach().next().map(|(_, played)| &played.after);
        std::iter::once(&self.start).chain(first)
    }

    /// The owner's moves before the unit is taken.
    pub fn replies(&self) -> impl Iterator<Item = (usize, &Played)> {
        self.line[..self.capture]
            .iter()
            .enumerate()
            .filter(|(_, played)| played.before.turn() == self.owner)
    }

    /// Where the unit that began on `origin` stands before a move of the line; nothing once it
    /// is taken.
    #[must_use]
    pub fn stands(&self, origin: Square, index: usize) -> Option<Square> {
        let mut square = origin;
        for played in &self.line[..index] {
            if played.taken == Some(origin) {
                return None;
            }
            if played.origin == origin {
                square = played.by.to();
            } else if played.by.is_castling() && played.by.rook_squares().0 == square {
                square = played.by.rook_squares().1;
            }
        }
        Some(square)
    }

    /// Whether the unit is taken on the square where it stood all the time.
    #[must_use]
    pub fn is_taken_at_home(&self) -> bool {
        self.taking().is_some() && self.stands(self.unit, self.capture) == Some(self.unit)
    }

    /// Whether the taker of the unit is retaken at once.
    #[must_use]
    pub fn is_retaken(&self) -> bool {
        self.taking().is_some_and(|taking| {
            self.reply(self.capture)
                .is_some_and(|reply| reply.takes_on(taking.by.to()))
        })
    }

    /// Whether a move of the attacker attacks the unit that began on `origin` and that unit then
    /// moves, or that unit then takes the one that moved.
    #[must_use]
    pub fn sends_off(&self, index: usize, origin: Square) -> bool {
        let played = &self.line[index];
        self.reply(index).is_some_and(|reply| {
            reply.origin == origin
                && (reply.takes_on(played.by.to()) || played.attacks_anew(reply.by.from()))
        })
    }

    #[must_use]
    pub fn worth(&self, role: Role) -> i32 {
        self.values.of(role)
    }

    /// What a unit on a board is worth, in centipawns.
    #[must_use]
    pub fn worth_on(&self, board: &SearchBoard, square: Square) -> i32 {
        board.role_at(square).map_or(0, |role| self.worth(role))
    }
}

/// These squares.
#[must_use]
pub fn squares<const N: usize>(all: [Square; N]) -> Bitboard {
    all.into_iter().collect()
}
