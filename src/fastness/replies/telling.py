"""A question answered in plain words to the student, from what the survey claims."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import chess

from fastness.core.shapes import MoveVerdict, Survey
from fastness.language import marked
from fastness.replies.answer import Answer, ShownLine
from fastness.replies.asking import Kind
from fastness.replies.kept import kept_unit
from fastness.survey.claim import (
    Better,
    Falls,
    Holds,
    InCheck,
    LeastLost,
    Mated,
    NoUnit,
    Stalemated,
    Taking,
    TakingMove,
    Unsafe,
)
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name
from fastness.survey.nouns import listed, listed_or, on_square
from fastness.survey.prices import prices
from fastness.survey.reasons import is_of_the_answer, reason_in_words
from fastness.survey.scene import play
from fastness.survey.student import student_text, unsafe_told, what_is_in_danger
from fastness.survey.student_gains import to_win
from fastness.survey.student_ready import ready_for
from fastness.survey.student_remedies import NAMED, keeps, kept_by, kept_moves
from fastness.survey.tries import is_quiet
from fastness.survey.words import THRESHOLD, ahead, capital, worth

AT_ONCE = 2
"""Half-moves of a line whose answer is mate."""
SHOWS = 3
"""Half-moves from which a line shows how a move that holds works."""
AS_MUCH = 50
"""Centipawns more by which another move wins from which it is told: half a pawn."""


_AFTER = marked("After {move}, {other} answers {reply}.")
_FAILS = marked("{move} does not work.")
# How a move that falls is told by the kind of question: where its reason is about the answer to
# it, and where it is about the move itself.
_OPENS: dict[Kind, tuple[str, str]] = {
    "why not": (
        marked("You can play {move}, but {other} answers {reply}."),
        marked("You can play {move}, but it does not work."),
    ),
    "was it good": (
        marked("Not quite: after {move}, {other} answers {reply}."),
        marked("Not quite: {move} does not work."),
    ),
}
_CONCEDES: dict[Kind, str] = {
    "why not": marked("You can play it."),
    "what is wrong": marked("Nothing is wrong with it, {seen}."),
    "is it safe": marked("It is safe, {seen}."),
    "was it good": marked("It keeps everything, {seen}."),
}


class Answerer:
    """Answers questions about one position from its firm survey.

    `firm_units`: the same units are in danger one move deeper. `ready`: for a move (UCI) that
    holds, what is tempting to take after it and why that fails, as a line that begins with it.
    """

    def __init__(
        self,
        survey: Survey,
        found: Findings,
        *,
        firm_units: bool,
        ready: Mapping[str, Sequence[str]] | None = None,
    ) -> None:
        self.ready = ready or {}
        self.survey = survey
        self.found = found
        self.firm_units = firm_units
        self.say = found.language.say

    def verdict(self, uci: str) -> MoveVerdict:
        """What the survey says of a legal move."""
        return next(move for move in self.survey["moves"] if move["uci"] == uci)

    def on_move(self, kind: Kind, uci: str) -> Answer:
        """Whether a legal move keeps the material, and why it does or does not."""
        falls = next((one for one in self.found.of(Falls) if one.move == uci), None)
        told = self._falls(kind, falls) if falls else self._holds(kind, self._held(uci))
        if self.verdict(uci)["firm"] is False:
            name = self.found.move(uci)
            told = Answer(told.told, (self._turns([name]),), told.lines)
        return told

    def _held(self, uci: str) -> Holds:
        return next(one for one in self.found.of(Holds) if one.move == uci)

    def _turns(self, names: Sequence[str]) -> str:
        return self.say(
            "Not settled: {moves}. Looking one move further, the answer changes.",
            moves=listed(names, self.found.language),
        )

    def _falls(self, kind: Kind, falls: Falls) -> Answer:
        found, say = self.found, self.say
        move, line = found.move(falls.move), falls.line
        told: list[str] = []
        you = found.board.turn
        mates = falls.loses == "mate" and falls.reason == "allows mate"
        reason = "" if mates else reason_in_words(found, falls, you=you)
        reason = capital(f"{reason}.") if reason else ""
        if len(line) > 1:
            after = play(found.position.fen, line[:1])[0].after
            values = {
                "move": move,
                "other": found.other,
                "reply": move_name(after, line[1], found.language),
            }
            of_the_answer, of_the_move = _OPENS.get(kind, (_AFTER, _FAILS))
            if reason and not is_of_the_answer(found, falls, you=you):
                told += [
                    say(of_the_move, **values),
                    reason,
                    say("{other} answers {reply}.", **values),
                ]
            else:
                told += [say(of_the_answer, **values), *filter(None, [reason])]
        if falls.loses == "mate":
            at_once = len(line) == AT_ONCE
            told.append(say("That is mate.") if at_once else say("In the end you are mated."))
        else:
            told.append(say("That costs you {worth}.", worth=worth(falls.loses, found.language)))
        return Answer(tuple(told), (), (ShownLine(line, self._lost(falls)),))

    def _lost(self, falls: Falls) -> tuple[str, ...]:
        """The squares after the move of what it loses."""
        moved = {falls.move[:2]: falls.move[2:4]}
        return tuple(moved.get(square, square) for square in falls.drops)

    def _holds(self, kind: Kind, holds: Holds) -> Answer:
        found, say = self.found, self.say
        opening = _CONCEDES.get(kind)
        told = [say(opening, seen=ahead(found.position.reach, found.language))] if opening else []
        line: Sequence[str] = holds.answer or holds.line or ()
        told += self._keeps(holds)
        if len(line) < SHOWS and (line := self.ready.get(holds.move, ())):
            told += [one for one in ready_for(found, line) if one not in told]
        told += self._besides(holds)
        lines = (ShownLine(tuple(line)),) if len(line) >= SHOWS else ()
        return Answer(tuple(told), (), lines)

    def _keeps(self, holds: Holds) -> list[str]:
        """That it loses nothing and how, or what it wins."""
        net, plain = holds.net, holds.ways[:1] in ((), ("other",))
        if not plain or net == "mates" or net < THRESHOLD:
            return keeps(self.found, holds)
        amount = worth(net, self.found.language)
        return [self.say("{move} wins {worth}.", move=self.found.move(holds.move), worth=amount)]

    def _besides(self, holds: Holds) -> list[str]:
        """What speaks for other moves: more to be won, or the better ways and the price of this."""
        found, say = self.found, self.say
        taking = found.of(TakingMove)
        wins = [(_number(one.net), not is_quiet(found.board, one.move), one) for one in taking]
        best = max(wins, key=lambda one: one[:2])[2] if wins else None
        if best and _number(best.net) >= _number(holds.net) + AS_MUCH:
            values = {"move": found.move(best.move), "other": found.move(holds.move)}
            if best.net == "mates":
                return [say("But {move} forces mate.", **values)]
            return [say("But {move} wins more than {other}.", **values)]
        better = found.one(Better)
        if not better or not better.moves or not found.needs_remedy():
            return []
        if holds.move in better.moves:
            if better.ranks[better.moves.index(holds.move)] == 1:
                return [say("{move} is one of the best ways here.", move=found.move(holds.move))]
            return [say("{move} is one of the better ways here.", move=found.move(holds.move))]
        costs = prices(found, holds.move, "cost")
        names = listed_or(found.moves(better.moves[:NAMED]), found.language)
        told = [say("But it {costs}.", costs=listed(costs, found.language))] if costs else []
        return [*told, say("A better way is {moves}.", moves=names)]

    def instead(self, asked: Iterable[str]) -> Answer:
        """What is in danger and what keeps it, where one of the moves asked about does not."""
        found = self.found
        if not any(one.move in asked for one in found.of(Falls)):
            return Answer()
        if not found.needs_remedy():
            nothing = self.say("Before that nothing of yours was in danger.")
            wins = to_win(found) if found.of(TakingMove) else []
            return Answer((nothing, *wins))
        return self._danger().and_then(self._kept())

    def _kept(self) -> Answer:
        found, language = self.found, self.found.language
        if found.of(Holds):
            turned = [found.move(uci) for uci in kept_moves(found) if not self.verdict(uci)["firm"]]
            unsettled = (self._turns(turned),) if turned else ()
            return Answer(tuple(kept_by(found)), unsettled)
        least = found.one(LeastLost)
        if least is None or least.loses == "mate":
            return Answer((self.say("There is no way to stop mate here."),))
        moves = listed_or(found.moves(found.losing_least()[:NAMED]), language)
        told = (
            self.say("You cannot keep everything here, and that happens to everyone."),
            self.say("You lose least with {moves}.", moves=moves),
        )
        return Answer(told)

    def _danger(self) -> Answer:
        """What is in danger, with the line that shows it."""
        found = self.found
        told = tuple(what_is_in_danger(found))
        unsafe = found.of(Unsafe)
        lines: tuple[ShownLine, ...] = ()
        if unsafe:
            lines = (ShownLine(unsafe[0].line, tuple(found.endangered())),)
        elif (none := found.one(NoUnit)) and none.line:
            lines = (ShownLine(none.line),)
        return Answer(told, self._units_turn(), lines)

    def _units_turn(self) -> tuple[str, ...]:
        if self.firm_units:
            return ()
        told = self.say(
            "Not settled: what is in danger. Looking one move further, the answer changes."
        )
        return (told,)

    def on_threats(self) -> Answer:
        """What the other side threatens."""
        return self._over() or self._danger()

    def on_what_to_play(self) -> Answer:
        """What is in danger, and what keeps it or wins something."""
        if over := self._over():
            return over
        found = self.found
        shown = self._danger()
        told = student_text(found)
        kept = self._kept() if found.needs_remedy() else Answer()
        return Answer((told,), (*shown.unsettled, *kept.unsettled), shown.lines)

    def _over(self) -> Answer | None:
        if self.found.one(Mated) or self.found.one(Stalemated):
            return Answer((student_text(self.found),))
        return None

    def on_unit(self, square: str) -> Answer:
        """Whether what stands on a square is safe, with the line that shows it."""
        if over := self._over():
            return over
        found, say = self.found, self.say
        own = found.board.color_at(chess.parse_square(square)) == found.board.turn
        unit = on_square(found.board, square, found.language, you=found.board.turn)
        if own and found.of(InCheck):
            only = say("While you are in check, only the moves out of it can be judged.")
            return Answer((*what_is_in_danger(found), only))
        for one in found.of(Unsafe):
            if one.unit.square == square:
                told = unsafe_told(found, [one])
                line = ShownLine(one.line, (square,))
                return Answer(tuple(told), self._units_turn(), (line,)).and_then(self._kept())
        for taking in found.of(Taking):
            if taking.unit.square == square:
                move = found.move(taking.line[0])
                won = say("You can win {unit:whom}. Begin with {move}.", unit=unit, move=move)
                return Answer((won,), (), (ShownLine(taking.line, (square,)),))
        told_kept, lines = kept_unit(found, square)
        return Answer(told_kept, self._units_turn(), lines)


def _number(net: int | str) -> float:
    return net if isinstance(net, int) else float("inf")
