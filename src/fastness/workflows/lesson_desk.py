"""A lesson as an editor shows it: its parts, the rows of a position, and what is found of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import InputError
from fastness.exercises.proving import REACH
from fastness.language import ENGLISH, Language
from fastness.lessons.checking import RANKED, check_block
from fastness.lessons.drafting_claims import claims_of
from fastness.lessons.found import Answer, Verdict
from fastness.lessons.lesson import Block, Claim, Fault, Place
from fastness.lessons.reading import read_lesson
from fastness.survey.danger import has_danger
from fastness.survey.lines import PASS, move_name
from fastness.survey.reading import Step, told_line

MOST_BETTER = 3
"""Better ways that are offered as claims."""
MOST_CLAIMS = 60
"""Claims of one position that are checked."""


@dataclass(frozen=True, slots=True)
class PlaceTold:
    """A position: `moves` (UCI) from the FEN `start` lead to `fen`."""

    fen: str
    start: str
    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A claim of a block, or what cannot be read there: `fault` says why, from `column` on.

    `line` counts from 1 at the block's first line.
    """

    line: int
    text: str
    fault: str = ""
    column: int = 0


@dataclass(frozen=True, slots=True)
class Part:
    """Prose, or a position block, as it is written; the texts of all parts are the file's."""

    kind: Literal["prose", "position"]
    text: str
    place: PlaceTold | None = None
    rows: tuple[Row, ...] = ()
    faults: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class RowChecked:
    """What a claim was found to be; where it is not true, what is, and the line on a board.

    `fen` is where the line begins; no steps where it is not told move by move.
    """

    text: str
    verdict: Verdict
    told: str
    shown: str
    fen: str
    steps: tuple[Step, ...]


def parts_of(text: str) -> tuple[Part, ...]:
    """The parts of a lesson in their order."""
    lesson = read_lesson(text)
    ends = [*(part.line for part in lesson.parts[1:]), text.count("\n") + 2]
    found = []
    for part, end in zip(lesson.parts, ends, strict=True):
        if isinstance(part, Block):
            own = [fault for fault in lesson.faults if part.line <= fault.line < end]
            found.append(_block(part, own))
        else:
            found.append(Part("prose", part.text))
    return tuple(found)


def _block(block: Block, faults: Sequence[Fault]) -> Part:
    written = block.text.split("\n")
    rows = {claim.line: Row(claim.line - block.line + 1, claim.text) for claim in block.claims}
    others = []
    for fault in faults:
        line = fault.line - block.line
        row = Row(line + 1, written[line].strip("\r"), fault.message, fault.column)
        if block.place is None or line == 0:
            others.append(row)
        else:
            rows[fault.line] = row
    at = block.place
    place = PlaceTold(at.fen, at.start, at.moves) if at else None
    ordered = tuple(rows[line] for line in sorted(rows))
    return Part("position", block.text, place, ordered, tuple(others))


def block_of(text: str) -> Block:
    """The one position block that a text is. Raises InputError where it is not."""
    lesson = read_lesson(text)
    if len(lesson.blocks) != 1 or lesson.blocks[0].place is None:
        told = lesson.faults[0].message if lesson.faults else "one position is wanted"
        raise InputError(told)
    if len(lesson.blocks[0].claims) > MOST_CLAIMS:
        raise InputError(f"A position has at most {MOST_CLAIMS} claims; give it a second time.")
    return lesson.blocks[0]


def claims_by_cost(block: Block) -> tuple[tuple[Claim, ...], tuple[Claim, ...]]:
    """The claims that are checked in a moment, and those that need the moves ranked."""
    ranked = tuple(claim for claim in block.claims if isinstance(claim, RANKED))
    return tuple(claim for claim in block.claims if claim not in ranked), ranked


def checked(
    place: Place, claims: Sequence[Claim], language: Language = ENGLISH
) -> tuple[RowChecked, ...]:
    """What is found of claims about a position, in their order."""
    block = Block(1, "", place, tuple(claims))
    return tuple(_row(place, one, language) for one in check_block(block, language))


def _row(place: Place, answer: Answer, language: Language) -> RowChecked:
    fen, steps = _played(place.fen, answer.line, language)
    text = answer.claim.text
    return RowChecked(text, answer.verdict, answer.told, answer.line, fen, steps)


def _played(fen: str, line: str, language: Language) -> tuple[str, tuple[Step, ...]]:
    """The moves of a line told in words, played from `fen` or after a pass from there."""
    names = [word.rpartition(".")[2] for word in line.rpartition(": ")[2].split()]
    for before in ((), (PASS,)):
        board, moves = chess.Board(fen), list[str]()
        if before and board.is_check():
            break
        for uci in before:
            board.push_uci(uci)
        for name in names:
            named = [
                move.uci()
                for move in board.legal_moves
                if move_name(board, move.uci(), language) == name
            ]
            if not named:
                break
            moves.append(named[0])
            board.push_uci(named[0])
        if names and len(moves) == len(names):
            return fen, told_line(fen, [*before, *moves], language).steps
    return fen, ()


def what_is_true(place: Place, *, better: bool = False) -> list[str]:
    """What may be claimed of a position, each claim proved as `check` proves it.

    With `better` the better ways alone, which takes seconds.
    """
    survey = core.survey(
        place.start,
        moves=place.moves,
        reach=REACH,
        firm=not better,
        rank_nodes=core.RANK_NODES if better else 0,
    )
    offered = _better(survey) if better else _offered(survey)
    text = "\n".join(["```position", place.start, *_moves(place), *offered, "```"])
    answers = check_block(block_of(text))
    return list(dict.fromkeys(one.claim.text for one in answers if one.verdict == "true"))


def _better(survey: Survey) -> list[str]:
    names = [one["san"].rstrip("+#") for one in survey["moves"] if one["advised"]]
    return [f"better ways: {name}" for name in names[:MOST_BETTER]] if has_danger(survey) else []


def _offered(survey: Survey) -> list[str]:
    offered = claims_of(survey)
    if not survey["in_check"] and survey["moves"] and not has_danger(survey):
        offered.append("danger: none")
    tactics = [one["square"] for one in survey["units"] if one["status"] == "safe by tactics"]
    takings = [one["square"] for one in survey["takings"] if one["unit"] != "king"]
    return [
        *offered,
        *(f"safe: {square}" for square in tactics),
        *(f"unsafe: {square}" for square in takings),
    ][:MOST_CLAIMS]


def _moves(place: Place) -> list[str]:
    board, names = chess.Board(place.start), []
    for uci in place.moves:
        names.append(board.san(chess.Move.from_uci(uci)))
        board.push_uci(uci)
    return [f"moves: {' '.join(names)}"] if names else []
