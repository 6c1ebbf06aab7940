//! Lines played through: what was taken where, by what, and whom that charges.

use shakmaty::{Bitboard, Color, Role, Square};

use crate::line::Step;
use crate::search::{Move, Search, SearchBoard};

/// What a line won and lost on one square, from the attacker's view.
#[derive(Debug, Clone, Copy)]
struct Account {
    square: Square,
    net: i32,
    /// Where the first unit of the defender taken here stood when the line began.
    first_taken: Option<Square>,
}

/// A unit (or the square of a promotion) that a line charges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Charge {
    /// Where the unit stood when the line began; the promotion square if no unit was taken.
    pub square: Square,
    /// Where it was taken.
    pub taken_on: Square,
    /// Centipawns, before it is capped by the value of the line.
    pub loses: i32,
    pub by_mate: bool,
    /// Whether the square is that of a unit taken or mated, not of a promotion.
    pub on_unit: bool,
}

/// Where the unit now on each square stood when a line began.
#[derive(Debug, Clone)]
pub struct Origins([Square; 64]);

impl Default for Origins {
    fn default() -> Origins {
        Origins(Square::ALL)
    }
}

impl Origins {
    /// Where the unit now on a square stood when the line began.
    #[must_use]
    pub fn of(&self, square: Square) -> Square {
        self.0[square as usize]
    }

    /// Follows a move that is about to be made.
    pub fn follow(&mut self, m: Move) {
        self.0[m.to() as usize] = self.of(m.from());
        if m.is_castling() {
            let (from, to) = m.rook_squares();
            self.0[to as usize] = self.of(from);
        }
    }
}

/// A line played through, with each unit followed from where it first stood.
pub struct Replay {
    pub last: SearchBoard,
    origins: Origins,
    accounts: Vec<Account>,
    /// Squares at the start of the attacker's units that took something.
    pub takers: Bitboard,
    /// From and to of each slider's move of the attacker.
    pub slides: Vec<(Square, Square)>,
    /// Squares on which the attacker landed.
    pub landings: Bitboard,
    /// The least valuable unit of the attacker that took each unit, by where that one stood.
    pub taken_by: Vec<(Square, Role)>,
}

impl Replay {
    /// Plays `line` from `board`; gains are seen from `attacker`.
    #[must_use]
    pub fn of(board: &SearchBoard, line: &[Step], attacker: Color, search: &Search) -> Replay {
        let mut replay = Replay {
            last: *board,
            origins: Origins::default(),
            accounts: Vec::new(),
            takers: Bitboard::EMPTY,
            slides: Vec::new(),
            landings: Bitboard::EMPTY,
            taken_by: Vec::new(),
        };
        for step in line {
            match *step {
                Step::Pass => replay.last = replay.last.passed(),
                Step::Move(m) => {
                    replay.account(m, attacker, search);
                    replay.origins.follow(m);
                    replay.last = replay.last.after(m, search.values());
                }
            }
        }
        replay
    }

    /// Where the unit now on a square stood when the line began.
    #[must_use]
    pub fn origin(&self, square: Square) -> Square {
        self.origins.of(square)
    }

    fn account(&mut self, m: Move, attacker: Color, search: &Search) {
        let attacks = self.last.turn() == attacker;
        if attacks {
            self.landings.add(m.to());
            if matches!(m.role(), Role::Bishop | Role::Rook | Role::Queen) {
                self.slides.push((m.from(), m.to()));
            }
        }
        if m.is_quiet() {
            return;
        }
        let taken = m.capture().map(|_| self.origin(m.capture_square()));
        if attacks && let Some(taken) = taken {
            self.takers.add(self.origin(m.from()));
            self.taken_by.push((taken, m.role()));
        }
        let gain = search.gain(m);
        let known = self.accounts.iter().position(|a| a.square == m.to());
        let index = known.unwrap_or_else(|| {
            self.accounts.push(Account {
                square: m.to(),
                net: 0,
                first_taken: None,
            });
            self.accounts.len() - 1
        });
        let account = &mut self.accounts[index];
        account.net += if attacks { gain } else { -gain };
        if attacks {
            account.first_taken = account.first_taken.or(taken);
        }
    }

    /// The units the line charges: the king if it ends in mate; otherwise, square by square,
    /// what the attacker netted there. Where several squares gain, losses elsewhere cancel the
    /// earliest gains first, so that an even trade which removes a guard charges the unit that
    /// it guarded.
    #[must_use]
    pub fn charges(&self, attacker: Color, threshold: i32) -> Vec<Charge> {
        if self.is_mate(attacker) {
            let king = self.origin(self.last.king(!attacker));
            return vec![Charge {
                square: king,
                taken_on: king,
                loses: 0,
                by_mate: true,
                on_unit: true,
            }];
        }
        let gaining = self.accounts.iter().filter(|a| a.net > 0).count();
        let mut to_cancel: i32 = if gaining > 1 {
            self.accounts.iter().map(|a| (-a.net).max(0)).sum()
        } else {
            0
        };
        let mut charges = Vec::new();
        for account in self.accounts.iter().filter(|a| a.net > 0) {
            let cancelled = to_cancel.min(account.net);
            to_cancel -= cancelled;
            let net = account.net - cancelled;
            if net >= threshold {
                charges.push(Charge {
                    square: account.first_taken.unwrap_or(account.square),
                    taken_on: account.square,
                    loses: net,
                    by_mate: false,
                    on_unit: account.first_taken.is_some(),
                });
            }
        }
        charges
    }

    /// Whether the attacker has given mate at the end.
    #[must_use]
    pub fn is_mate(&self, attacker: Color) -> bool {
        self.last.turn() != attacker && self.last.in_check() && self.last.legal_moves().is_empty()
    }
}
