//! What a remedy has ready for the threat that it answers, if the threat is carried out after all.

use crate::line::{Left, Point, Step};
use crate::search::{Move, Search, later_by_one_ply};
use crate::threat::{Threat, Verdict};
use crate::verdict::Question;

impl Question<'_> {
    /// The first move of a threat after a remedy, where it still takes what it was to take.
    fn carried_out(&self, point: &Point, threat: &Threat) -> Option<Move> {
        let taken = threat.first.capture();
        self.still_legal(point, threat)
            .filter(|reply| reply.capture() == taken)
    }
}

impl Search {
    /// What a remedy has ready for the dearest threat that it answers; where that cannot be
    /// carried out any more, for the first real threat that can.
    pub(crate) fn answer(
        &mut self,
        question: &Question,
        point: &Point,
        m: Move,
        dearest: Option<&Threat>,
    ) -> Option<Vec<Step>> {
        let threat = dearest.and_then(|threat| question.carried_out(point, threat));
        let threat = threat.or_else(|| {
            let mut real = (question.threats.iter()).filter(|t| t.verdict == Verdict::Real);
            real.find_map(|threat| question.carried_out(point, threat))
        })?;
        self.answer_to(point, m, threat)
    }

    /// The move, the threat's first move after it, and the defender's answer, played on until what
    /// it is worth at the full reach stands on the board. `None` where there is no answer to give:
    /// the threat ends the game, or leaves nothing to play.
    fn answer_to(&mut self, point: &Point, m: Move, threat: Move) -> Option<Vec<Step>> {
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
