//! What a remedy has ready for the threat that it answers, if the threat is carried out after all.

use crate::line::{Left, Point, Step};
use crate::search::{Move, Search, later_by_one_ply};

impl Search {
    /// The move, the threat's first move after it, and the defender's answer, played on until what
    /// it is worth at the full reach stands on the board. `None` where there is no answer to give:
    /// the threat ends the game, or leaves nothing to play.
    pub(crate) fn answer_to(&mut self, point: &Point, m: Move, threat: Move) -> Option<Vec<Step>> {
        let attacker = point.board.turn();
        let next = point.after(threat, self);
        let Left::Plies(plies) = next.left else {
            return None;
        };
        let value = self.value(&next.board, plies, 0);
        let preferred = self.preferred(&next, attacker);
        let reply = preferred
            .into_iter()
            .find(|&reply| self.shows(&next, reply, value))?;
        let rest = next.after(reply, self);
        let rest = self.play_out(rest, later_by_one_ply(value), attacker);
        let mut line = vec![Step::Move(m), Step::Move(threat), Step::Move(reply)];
        line.extend(rest.into_iter().map(Step::Move));
        Some(line)
    }
}
