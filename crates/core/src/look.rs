//! A look at every own move of a game: quick where there is nothing to see.

use shakmaty::Color;

use crate::judged::Judged;
use crate::search::{Move, Search};
use crate::survey::Survey;
use crate::threat::THRESHOLD;
use crate::trade::Standpoint;

/// One own move of a game.
#[derive(Debug, Clone)]
pub struct Look {
    /// Plies from the start of the game, from 1.
    pub ply: usize,
    pub played: Move,
    pub before: Standpoint,
    /// The move played falls and the opponent's actual next move keeps at least the threshold.
    pub reply_wins: bool,
    /// What the opponent wins after a pass at the full reach; `None` in check.
    pub danger: Option<i32>,
    /// Whether the move played falls and is an offer; `None` if it holds, or if not asked.
    pub offered: Option<bool>,
    /// The survey of the position before the move, if there is something to see; of its moves
    /// those that hold and the one played, and every one where none holds.
    pub survey: Option<Survey>,
}

impl Search {
    /// Looks at the moves of one side, or of both, in a game of legal moves from `start`.
    pub fn look(
        &mut self,
        start: &Standpoint,
        moves: &[Move],
        side: Option<Color>,
        reach: u32,
    ) -> Vec<Look> {
        let mut looks = Vec::new();
        let mut standpoint = *start;
        for (index, &played) in moves.iter().enumerate() {
            let next = standpoint.after(played, self.values());
            if side.is_none_or(|side| side == standpoint.board.turn()) {
                let reply = moves.get(index + 1).copied();
                looks.push(self.look_at(&standpoint, played, reply, reach, index + 1));
            }
            standpoint = next;
        }
        looks
    }

    fn look_at(
        &mut self,
        before: &Standpoint,
        played: Move,
        reply: Option<Move>,
        reach: u32,
        ply: usize,
    ) -> Look {
        self.begin(before.base(), reach);
        let in_check = before.board.in_check();
        let plies = 2 * reach - 1;
        let danger = (!in_check).then(|| self.value(&before.board.passed(), plies, 0));
        let after = before.board.after(played, self.values());
        let holds = !self.reaches(&after, plies, THRESHOLD);
        let reply_wins = !holds
            && reply.is_some_and(|reply| {
                let then = after.after(reply, self.values());
                !self.reaches(&then, plies - 1, 1 - THRESHOLD)
            });
        let worth_a_survey = !holds
            || danger.is_some_and(|danger| danger >= THRESHOLD)
            || (in_check && self.some_move_falls(before, plies))
            || self.something_to_take(before, plies);
        Look {
            ply,
            played,
            before: *before,
            reply_wins,
            danger,
            offered: None,
            survey: worth_a_survey
                .then(|| self.survey_on(before, reach, false, Judged::HoldingAnd(played))),
        }
    }

    fn some_move_falls(&mut self, before: &Standpoint, plies: u32) -> bool {
        before.board.legal_moves().into_iter().any(|m| {
            let after = before.board.after(m, self.values());
            self.reaches(&after, plies, THRESHOLD)
        })
    }

    /// Whether some move nets at least the threshold more than what is owed.
    fn something_to_take(&mut self, before: &Standpoint, plies: u32) -> bool {
        let needed = before.owed() + THRESHOLD;
        before.board.legal_moves().into_iter().any(|m| {
            let after = before.board.after(m, self.values());
            !self.reaches(&after, plies, 1 - needed)
        })
    }
}
