"""Why a move fails, in words: its main reason, with the units that take part.

The squares of a reason are told on the boards of the refutation, so that no sentence names a unit
that does not stand there; where the units are not found, the reason is told without them.
"""

from __future__ import annotations

from collections.abc import Callable

import chess

from fastness.language import marked
from fastness.survey.claim import Falls, Owed
from fastness.survey.findings import Findings
from fastness.survey.lines import numbered_move, taken_at
from fastness.survey.nouns import Noun, all_of, on_square
from fastness.survey.scene import Step, pinned_among, play

_PLAIN = {
    "allows mate": marked("it allows mate"),
    "the blocker falls": marked("what is put in between is lost itself"),
    "guard pinned": marked("a guard is pinned"),
    "less valuable attacker": marked("guarding does not help, since what takes is worth less"),
    "outnumbered still": marked("it is still attacked more often than guarded"),
    "two units attacked": marked("two are attacked at once, and one is lost"),
    "walks into a capture": marked("it walks into a capture"),
    "uncovers another unit": marked("it uncovers something else"),
    "answered with a bigger threat": marked("the answer is a bigger threat"),
    "threat too small": marked("its own threat is too small"),
    "does not address it": marked("it does nothing about the danger"),
    "lost further on": marked("something is lost further on"),
}

REST = 2
"""Units named beside the one that is lost, where several are attacked at once."""

Parts = tuple[str, dict[str, Noun | str]]


class _Teller:
    """Tells one fall's reason with the units that take part, on the boards of its line.

    `you`: the side spoken to, whose units are "your".
    """

    def __init__(self, found: Findings, falls: Falls, you: bool | None) -> None:
        self.found = found
        self.falls = falls
        self.you = you
        self.steps: tuple[Step, ...] = play(found.position.fen, falls.line)
        self.squares = [chess.parse_square(name) for name in falls.squares]
        self.own = found.board.turn

    def name(self, board: chess.Board, square: int) -> Noun:
        name = chess.square_name(square)
        return on_square(board, name, self.found.language, you=self.you)

    def names(self, board: chess.Board, squares: list[int]) -> Noun:
        return all_of([self.name(board, square) for square in squares], self.found.language)

    def some(self, board: chess.Board, squares: list[int]) -> Noun:
        """The dearest of the units on `squares`."""
        dearest = sorted(squares, key=lambda at: -(board.piece_type_at(at) or 0))
        return self.names(board, dearest[:REST])

    def after(self) -> chess.Board:
        return self.steps[0].after


def _blocker(tell: _Teller) -> Parts | None:
    square = chess.parse_square(tell.falls.move[2:4])
    return marked("{unit}, put in between, is lost itself"), {
        "unit": tell.name(tell.after(), square)
    }


def _guard_pinned(tell: _Teller) -> Parts | None:
    for step in tell.steps[1:]:
        found = pinned_among(step.after, tell.squares, tell.own)
        if found:
            slider, guard, to = (tell.name(step.after, square) for square in found)
            text = marked("the guard, {guard}, is pinned to {to} by {slider}")
            return text, {"guard": guard, "to": to, "slider": slider}
    return None


def _less_valuable(tell: _Teller) -> Parts | None:
    after = tell.after()
    taker = [square for square in tell.squares if after.color_at(square) == (not tell.own)]
    unit = [square for square in tell.squares if after.color_at(square) == tell.own]
    if len(taker) != 1 or len(unit) != 1:
        return None
    text = marked("guarding does not help, since {taker} is worth less than {unit}")
    return text, {"taker": tell.name(after, taker[0]), "unit": tell.name(after, unit[0])}


def _outnumbered(tell: _Teller) -> Parts | None:
    after = tell.after()
    if not tell.squares or after.color_at(tell.squares[0]) != tell.own:
        return None
    text = marked("{unit} is still attacked more often than guarded")
    return text, {"unit": tell.name(after, tell.squares[0])}


def _two_attacked(tell: _Teller) -> Parts | None:
    """A fork, or the like, in the line; or what was attacked before, of which one is saved."""
    lost, *rest = tell.squares or [chess.A1]
    if not rest:
        return None
    for step in tell.steps[1::2]:
        if all(_attacked(step.after, square, tell.own) for square in tell.squares):
            text = marked("{lost} is attacked at the same time as {rest}, and falls")
            return text, {"lost": tell.name(step.after, lost), "rest": tell.some(step.after, rest)}
    after = tell.after()
    if all(after.color_at(square) == tell.own for square in tell.squares):
        text = marked("it saves {rest}, but {lost} falls")
        return text, {"lost": tell.name(after, lost), "rest": tell.some(after, rest)}
    return None


def _attacked(board: chess.Board, square: int, own: chess.Color) -> bool:
    return board.color_at(square) == own and bool(board.attackers(not own, square))


def _walks_into(tell: _Teller) -> Parts | None:
    moved = chess.parse_square(tell.falls.move[2:4])
    for index, step in enumerate(tell.steps[1:], 1):
        if step.takes and step.move.to_square == moved and index % 2:
            taker = step.move.from_square
            text = marked("{taker} takes {unit}")
            return text, {
                "taker": tell.name(step.before, taker),
                "unit": tell.name(step.before, moved),
            }
    return None


def _uncovers(tell: _Teller) -> Parts | None:
    after = tell.after()
    if not tell.squares or after.color_at(tell.squares[0]) != tell.own:
        return None
    return marked("it uncovers {unit}"), {"unit": tell.name(after, tell.squares[0])}


def _bigger_threat(tell: _Teller) -> Parts | None:
    if len(tell.steps) < 2:
        return None
    after = tell.steps[1].after
    attacked = [square for square in tell.squares if after.color_at(square) == tell.own]
    if not attacked:
        return None
    if tell.you is not None:
        text = marked("that is a bigger threat, against {units}")
        return text, {"units": tell.names(after, attacked)}
    reply = numbered_move(tell.after(), tell.falls.line[1], tell.found.language)
    text = marked("{move} is a bigger threat, against {units}")
    return text, {"move": reply, "units": tell.names(after, attacked)}


def _unaddressed(tell: _Teller) -> Parts | None:
    after = tell.after()
    own = [square for square in tell.squares if after.color_at(square) == tell.own]
    if tell.squares and not own and tell.found.one(Owed) is not None:
        square = chess.square_name(tell.squares[0])
        return marked("it does not take back on {square}"), {"square": square}
    if not own or len(own) != len(tell.squares):
        return None
    units = tell.names(after, own)
    if len(own) == 1:
        return marked("{units} is in danger as before"), {"units": units}
    return marked("{units} are in danger as before"), {"units": units}


def _later(tell: _Teller) -> Parts | None:
    after, rest = tell.after(), tell.falls.line[1:]
    own = [
        square
        for square in tell.squares
        if after.color_at(square) == tell.own
        and taken_at(after.fen(), rest, chess.square_name(square)) is not None
    ]
    if not own:
        return None
    units = tell.names(after, own)
    if len(own) == 1:
        return marked("{units} is lost further on"), {"units": units}
    return marked("{units} are lost further on"), {"units": units}


_TELLERS: dict[str, Callable[[_Teller], Parts | None]] = {
    "the blocker falls": _blocker,
    "guard pinned": _guard_pinned,
    "less valuable attacker": _less_valuable,
    "outnumbered still": _outnumbered,
    "two units attacked": _two_attacked,
    "walks into a capture": _walks_into,
    "uncovers another unit": _uncovers,
    "answered with a bigger threat": _bigger_threat,
    "does not address it": _unaddressed,
    "lost further on": _later,
}


def reason_in_words(found: Findings, falls: Falls, you: bool | None = None) -> str:
    """Why a move fails, as a clause without a full stop; empty where no reason is given.

    `you`: the side spoken to, whose units are "your". A name that is not known stays as it is.
    """
    if falls.reason is None:
        return ""
    teller = _TELLERS.get(falls.reason)
    told = teller(_Teller(found, falls, you)) if teller and falls.line else None
    if told:
        text, values = told
        return found.language.say(text, **values)
    return found.language.say(_PLAIN[falls.reason]) if falls.reason in _PLAIN else falls.reason
