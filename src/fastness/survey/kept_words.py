"""That a move loses nothing, told to a student by the way it works."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.language import marked
from fastness.survey.claim import Line, Squares


@dataclass(frozen=True, slots=True)
class Works:
    """How a move works: a key of `KEEPS`, and what its sentence names.

    `squares` are those of the units taken, guarded or attacked, `guard` that of what comes to
    guard them, `against` the line up to the threat that lands on a guarded `square`.
    """

    way: str
    squares: Squares = ()
    square: str = ""
    guard: str = ""
    against: Line = ()


KEEPS = {
    "capture": (
        marked("{moves} loses nothing: it takes {units}."),
        marked("{moves} lose nothing: they take {units}."),
    ),
    "move": (
        marked("{moves} loses nothing: it moves to safety."),
        marked("{moves} lose nothing: they move to safety."),
    ),
    "move guarded": (
        marked("{moves} loses nothing: it moves to where it is guarded."),
        marked("{moves} lose nothing: they move to where they are guarded."),
    ),
    "move and guard": (
        marked("{moves} loses nothing: it moves away and guards {units}."),
        marked("{moves} lose nothing: they move away and guard {units}."),
    ),
    "block": (
        marked("{moves} loses nothing: it steps in between."),
        marked("{moves} lose nothing: they step in between."),
    ),
    "block line": (
        marked("{moves} loses nothing: it steps in front of {units}."),
        marked("{moves} lose nothing: they step in front of {units}."),
    ),
    "move away": (
        marked("{moves} loses nothing: it moves away."),
        marked("{moves} lose nothing: they move away."),
    ),
    "ready": (
        marked("{moves} loses nothing: it is ready for the threat."),
        marked("{moves} lose nothing: they are ready for the threat."),
    ),
    "leaves": (
        marked("{moves} loses nothing: it leaves {square}, so that {threat} takes nothing."),
        marked("{moves} lose nothing: they leave {square}, so that {threat} takes nothing."),
    ),
    "no check": (
        marked("{moves} loses nothing: {threat} is no check then."),
        marked("{moves} lose nothing: {threat} is no check then."),
    ),
    "guard from": (
        marked("{moves} loses nothing: it can go on to {square} and guard {units}."),
        marked("{moves} lose nothing: they can go on to {square} and guard {units}."),
    ),
    "between": (
        marked("{moves} loses nothing: it can step in between on {square} next."),
        marked("{moves} lose nothing: they can step in between on {square} next."),
    ),
    "promotes": (
        marked("{moves} loses nothing: your pawn promotes on {square} next."),
        marked("{moves} lose nothing: your pawn promotes on {square} next."),
    ),
    "en passant": (
        marked("{moves} loses nothing: it takes {units} en passant."),
        marked("{moves} lose nothing: they take {units} en passant."),
    ),
    "guard": (
        marked("{moves} loses nothing: it adds a guard."),
        marked("{moves} lose nothing: they add a guard."),
    ),
    "guard of": (
        marked("{moves} loses nothing: it guards {units}."),
        marked("{moves} lose nothing: they guard {units}."),
    ),
    "guard opened": (
        marked("{moves} loses nothing: then {guard} guards {units}."),
        marked("{moves} lose nothing: then {guard} guards {units}."),
    ),
    "guard through": (
        marked("{moves} loses nothing: then you can take back on {square}."),
        marked("{moves} lose nothing: then you can take back on {square}."),
    ),
    "guard against": (
        marked("{moves} loses nothing: it guards {square} against {threat}."),
        marked("{moves} lose nothing: they guard {square} against {threat}."),
    ),
    "guard opened against": (
        marked("{moves} loses nothing: it opens a line that guards {square} against {threat}."),
        marked("{moves} lose nothing: they open a line that guards {square} against {threat}."),
    ),
    "guard square": (
        marked("{moves} loses nothing: it guards {square}, which the threat needs."),
        marked("{moves} lose nothing: they guard {square}, which the threat needs."),
    ),
    "mate threat": (
        marked("{moves} loses nothing: it threatens mate."),
        marked("{moves} lose nothing: they threaten mate."),
    ),
    "pin": (
        marked("{moves} loses nothing: it pins the piece that wanted to take."),
        marked("{moves} lose nothing: they pin the piece that wanted to take."),
    ),
    "counterattack": (
        marked("{moves} loses nothing: it attacks {units}."),
        marked("{moves} lose nothing: they attack {units}."),
    ),
    "attack opened": (
        marked("{moves} loses nothing: then {guard} attacks {units}."),
        marked("{moves} lose nothing: then {guard} attacks {units}."),
    ),
    "check": (
        marked("{moves} loses nothing: it gives check first."),
        marked("{moves} lose nothing: they give check first."),
    ),
    "wins back": (
        marked("{moves} loses nothing: you win as much back."),
        marked("{moves} lose nothing: you win as much back."),
    ),
    "gets back": (
        marked("{moves} loses nothing: it gets back what was lost."),
        marked("{moves} lose nothing: they get back what was lost."),
    ),
    "other": (
        marked("{moves} loses nothing."),
        marked("{moves} lose nothing."),
    ),
}
