"""Sheets of exercises on a theme with their answers: levels side by side, or a sheet each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

import chess

from fastness.errors import OptionError
from fastness.exercises.exercise import LEVELS, Exercise, Kind, Level
from fastness.exercises.marking_grid import NOTHING, Row, grid_row
from fastness.exercises.overruling import Overruling, overrule
from fastness.exercises.words import (
    ANSWERS,
    CHANGED,
    CHECKED,
    DATE,
    DRAW,
    FOR_THE_TEACHER,
    FROM,
    GRID,
    GRID_HEADER,
    HOW_TO_MARK,
    MADE_FROM,
    NAME,
    SHEET_OF_LEVEL,
    answer_name,
    level_name,
    question,
)
from fastness.language import ENGLISH, Language
from fastness.publish.answers import answer_in_words, ringed
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Diagrams,
    Document,
    Grid,
    Heading,
    Paper,
    Paragraph,
    ToFill,
)
from fastness.survey.words import capital

EMPTY_BOARD = "8/8/8/8/8/8/8/8 w - - 0 1"
_LINES: dict[Kind, int] = {
    "which unit": 1,
    "every move": 2,
    "better way": 1,
    "why it fails": 1,
    "is it safe": 0,
}


@dataclass(frozen=True, slots=True)
class SheetExercise:
    """An exercise, its level, and what the teacher says of it.

    `told` is a sentence more for the answer, such as what a change of one thing does.
    """

    exercise: Exercise
    level: Level
    said: tuple[Overruling, ...] = ()
    told: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """How sheets are laid out.

    `side_by_side`: the three levels in three columns of one sheet; in large print, where only two
    boards fit, each level has a sheet all the same. `across` (1 to 3) is the number of boards in a
    row of a level's own sheet. `blanks` empty boards are added to fill. `own_side_below`: the side
    to move is at the bottom. `sources`: the answers say from which game a position is. `language`
    is that of all texts.
    """

    side_by_side: bool = False
    across: int = 2
    blanks: int = 0
    paper: Paper = "a4"
    large: bool = False
    own_side_below: bool = False
    sources: bool = False
    language: Language = ENGLISH


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of questions, the sheet of its answers, and the rows to enter what was written.

    `level` is None where all levels stand side by side.
    """

    questions: Document
    answers: Document
    rows: tuple[Row, ...]
    level: Level | None = None


@dataclass(frozen=True, slots=True)
class _Numbered:
    """An exercise as the teacher has overruled it, with its number on the sheet."""

    label: str
    one: SheetExercise
    exercise: Exercise


def sheets(theme: str, exercises: Sequence[SheetExercise], layout: Layout) -> list[Sheet]:
    """The sheets on a theme: one with all levels side by side, or one for each level there is.

    Raises OptionError where there is no exercise, or the boards do not fit.
    """
    if not exercises:
        raise OptionError(f'there is no exercise for the sheet "{theme}"; give one or more')
    if layout.across not in (1, 2, 3):
        raise OptionError(f"{layout.across} boards do not fit across a page; 1, 2 or 3 do")
    by_level = {
        level: [one for one in exercises if one.level == level]
        for level in LEVELS
        if any(one.level == level for one in exercises)
    }
    if layout.side_by_side and not layout.large and len(by_level) > 1:
        columns = [
            _numbered(f"{capital(level_name(level, layout.language))} ", ones)
            for level, ones in by_level.items()
        ]
        return [_sheet(theme, None, columns, layout)]
    return [
        _sheet(
            layout.language.say(
                SHEET_OF_LEVEL, title=theme, level=level_name(level, layout.language)
            ),
            level,
            [_numbered("", ones)],
            layout,
        )
        for level, ones in by_level.items()
    ]


def one_sheet(
    title: str, exercises: Sequence[SheetExercise], layout: Layout, before: Sequence[Block] = ()
) -> Sheet:
    """One sheet of exercises in the order given, numbered through, whatever their levels.

    `before` stands between the name line and the exercises. Raises OptionError where there is no
    exercise.
    """
    if not exercises:
        raise OptionError(f'there is no exercise for the sheet "{title}"; give one or more')
    ordered = [replace(one, level=exercises[0].level) for one in exercises]
    made = _sheet(title, None, [_numbered("", ordered)], layout)
    first, *rest = made.questions.blocks
    return replace(made, questions=replace(made.questions, blocks=[first, *before, *rest]))


def _numbered(level: str, exercises: Sequence[SheetExercise]) -> list[_Numbered]:
    return [
        _Numbered(f"{level}{number}", one, overrule(one.exercise, one.said))
        for number, one in enumerate(exercises, 1)
    ]


def _sheet(
    title: str, level: Level | None, columns: list[list[_Numbered]], layout: Layout
) -> Sheet:
    ordered = [one for column in columns for one in column]
    rows = tuple(grid_row(one.label, one.exercise, _struck(one)) for one in ordered)
    return Sheet(
        _document(title, list(_questions(columns, layout)), layout),
        _document(
            layout.language.say(ANSWERS, title=title), list(_answers(ordered, rows, layout)), layout
        ),
        rows,
        level,
    )


def _document(title: str, blocks: list[Block], layout: Layout) -> Document:
    return Document(
        title,
        blocks,
        language=layout.language.code,
        paper=layout.paper,
        large=layout.large,
        black=True,
        footer=title,
    )


def _struck(one: _Numbered) -> list[str]:
    return [said.answer for said in one.one.said if said.answer and said.counts == "wrong"]


def _questions(columns: list[list[_Numbered]], layout: Layout) -> Iterator[Block]:
    say = layout.language.say
    yield ToFill((say(NAME), say(DATE)))
    ordered = [one for column in columns for one in column]
    labels = {(one.one.level, one.exercise.fen): one.label for one in reversed(ordered)}
    if len(columns) > 1:
        placed = [one for row in zip_longest(*columns) for one in row]
        across = len(columns)
    else:
        placed, across = list(ordered), layout.across
    yield Diagrams(tuple(_asked(one, labels, layout) if one else None for one in placed), across)
    if layout.blanks:
        yield Heading(say(DRAW))
        yield Diagrams((Diagram(EMPTY_BOARD, "", lines=2),) * layout.blanks, across)
    yield ToFill((say(FOR_THE_TEACHER),))


def _asked(one: _Numbered, labels: dict[tuple[Level, str], str], layout: Layout) -> Diagram:
    exercise, told = one.exercise, question(one.exercise, layout.language)
    source = exercise.proved.source
    compared = labels.get((one.one.level, source.of)) if source.made == "twin" else None
    if compared:
        told = f"{told} {layout.language.say(CHANGED, label=compared)}"
    return Diagram(
        exercise.fen,
        told,
        flip=_flipped(exercise, layout),
        lines=_LINES[exercise.kind],
        label=f"{one.label}.",
    )


def _flipped(exercise: Exercise, layout: Layout) -> bool:
    return layout.own_side_below and not chess.Board(exercise.fen).turn


def _answers(ordered: Sequence[_Numbered], rows: Sequence[Row], layout: Layout) -> Iterator[Block]:
    say = layout.language.say
    yield from (_answer(one, layout) for one in ordered)
    reach = max(one.exercise.proved.survey["reach"] for one in ordered)
    yield Paragraph(say(CHECKED, reach=reach, deeper=reach + 1), small=True)
    yield Heading(say(GRID))
    yield _grid(ordered, rows, layout.language)
    yield Paragraph(say(HOW_TO_MARK, example=_example(rows)), small=True)


def _answer(one: _Numbered, layout: Layout) -> Beside:
    exercise, language = one.exercise, layout.language
    drawn = Diagram(exercise.fen, "", ringed(exercise), _flipped(exercise, layout))
    asked = f"{one.label}. {question(exercise, language)}"
    told = [asked, *([one.one.told] if one.one.told else [])]
    told += answer_in_words(exercise, one.one.said, language)
    source = exercise.proved.source
    if layout.sources and source.game:
        text = MADE_FROM if source.made == "twin" else FROM
        told.append(language.say(text, game=source.game, move=(source.ply + 1) // 2))
    return Beside(drawn, tuple(told))


def _grid(ordered: Sequence[_Numbered], rows: Sequence[Row], language: Language) -> Grid:
    told = []
    aside = any(box.counts == "not judged" for row in rows for box in row.boxes)
    kinds = ("right", "wrong", "not judged") if aside else ("right", "wrong")
    for one, row in zip(ordered, rows, strict=True):
        boxes = [
            "   ".join(
                f"{box.letter}\u00a0☐\u00a0{answer_name(one.exercise, box.answer, language)}"
                for box in row.boxes
                if box.counts == counts
            )
            for counts in kinds
        ]
        told.append((row.label, *boxes))
    header = tuple(map(language.say, GRID_HEADER[: 1 + len(kinds)]))
    return Grid(header, tuple(told), numbers=len(GRID_HEADER))


def _example(rows: Sequence[Row]) -> str:
    """All right, but nothing written for the last."""
    words = ["".join(box.letter for box in row.boxes if box.counts == "right") for row in rows]
    return " ".join([*words[:-1], NOTHING])
