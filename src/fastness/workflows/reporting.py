"""Reports for the student, the parents, the teacher and the group, as documents to be printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

import chess

from fastness.publish.document import (
    Block,
    Diagram,
    Diagrams,
    Document,
    Grid,
    Heading,
    NewPage,
    Paper,
    Paragraph,
    Points,
    ToFill,
)
from fastness.publish.plots import held_by_period
from fastness.record import (
    Episode,
    Finding,
    all_episodes,
    months_plan,
    rates_by,
    trend,
)
from fastness.record.groups import By
from fastness.sift import counted
from fastness.survey.lines import numbered_move
from fastness.workflows.advice import task_for_parents, task_for_student
from fastness.workflows.record_page import in_words, numbers, place
from fastness.workflows.recording import StudentRecord

Reader = Literal["student", "parents", "teacher"]
ANSWERS_SHOWN = 4
"""Holding moves named in an answer."""
_SPLITS: tuple[tuple[By, str], ...] = (
    ("mechanism", "By cause"),
    ("danger", "By what hides it"),
    ("reach", "By how far one has to look"),
    ("unit", "By what was in danger"),
    ("phase", "By phase"),
    ("hurried", "By the clock"),
)


def report(
    record: StudentRecord, reader: Reader, *, paper: Paper = "a4", large: bool = False
) -> Document:
    """The report on one student's games for one reader."""
    make = {"student": _for_student, "parents": _for_parents, "teacher": _for_teacher}[reader]
    title = {
        "student": f"{_given(record.name)}: what your games show",
        "parents": f"{_given(record.name)}'s chess",
        "teacher": f"{record.name}: the record",
    }[reader]
    return Document(title, tuple(make(record)), paper=paper, large=large, footer=_footer(record))


def _given(name: str) -> str:
    """The given name: "Flourdust, Ivy" is Ivy, "Ivy Flourdust" too."""
    family, comma, given = name.partition(",")
    return given.strip() if comma else family.split()[0]


def _footer(record: StudentRecord) -> str:
    dates = sorted(one.game.date for one in record.games if "?" not in one.game.date)
    if not dates:
        return counted(len(record.games), "game")
    first, last = dates[0].replace(".", "-"), dates[-1].replace(".", "-")
    return f"{counted(len(record.games), 'game')}, {first} to {last}"


def _for_student(record: StudentRecord) -> Iterator[Block]:
    found = record.diagnosis
    if not record.games:
        yield Paragraph("There are no games yet.")
        return
    held = found.held_examples[:1]
    if held:
        yield Heading("You held this")
        yield Paragraph("Something of yours was in danger here. You found a move that keeps it.")
        yield Diagrams(tuple(_kept(one) for one in held), across=1)
    chosen = _one_thing(record)
    if chosen is None:
        yield Heading("What comes next")
        yield Paragraph("Play on as you do. With more games there will be more to say.")
        return
    yield Heading("One thing to work on")
    yield Paragraph(task_for_student(chosen.name))
    yield Paragraph("Here are positions from your own games. What keeps everything?")
    asked = chosen.examples
    questions = [_question(one, number) for number, one in enumerate(asked, 1)]
    yield Diagrams(tuple(questions), across=max(2, min(3, len(questions))))
    yield NewPage()
    yield Heading("Answers")
    yield Points(tuple(_answer(one, number) for number, one in enumerate(asked, 1)))


def _one_thing(record: StudentRecord) -> Finding | None:
    """What to work on: what stands out, else what cost most in these games."""
    told = record.diagnosis.told
    if told:
        return told[0]
    with_examples = [one for one in record.diagnosis.causes if one.examples]
    return max(with_examples, key=lambda one: (one.lost_per_game, one.name), default=None)


def _for_parents(record: StudentRecord) -> Iterator[Block]:
    name = _given(record.name)
    if not record.games:
        yield Paragraph("There are no games yet.")
        return
    yield Paragraph(
        f"We have gone through {name}'s games. In chess a piece is lost most often because one"
        " does not notice that it can be taken. This page shows one place where it was noticed,"
        " and what comes next."
    )
    held = record.diagnosis.held_examples[:1]
    if held:
        yield Heading(f"{name} saw this")
        yield Paragraph("The piece in the broken ring was in danger, and the move played kept it.")
        yield Diagrams(tuple(_kept(one, "") for one in held), across=1)
    chosen = _one_thing(record)
    if chosen is None:
        return
    yield Heading("What comes next")
    yield Paragraph(f"We are practising {task_for_parents(chosen.name)}.")
    shown = chosen.examples[:1]
    if shown:
        yield Paragraph("For instance here. You can look at it together: what is in danger?")
        yield Diagrams(tuple(_position(one, _answer(one)) for one in shown), across=1)


def _for_teacher(record: StudentRecord) -> Iterator[Block]:
    found = record.diagnosis
    dangers, games = counted(found.episodes, "danger"), counted(found.games, "game")
    yield Paragraph(f"{dangers} in {games}; of those that could be met, {in_words(found.held)}.")
    if not found.compared:
        yield Paragraph("There is no group to compare with, so nothing can stand out.")
    yield Heading("What stands out")
    if not found.told:
        yield Paragraph("Nothing stands out.")
    for finding in found.told:
        yield Heading(finding.name, 2)
        yield Paragraph(numbers(finding))
        drawn = [_position(one, place(record, one)) for one in finding.examples]
        yield Diagrams(tuple(drawn), across=3)
    if found.held_examples:
        yield Heading("Held")
        drawn = [_position(one, place(record, one)) for one in found.held_examples]
        yield Diagrams(tuple(drawn), across=3)
    yield from _tables(record)
    remarks = [
        f"Game {game.game.game}, ply {one.ply}: {one.action}"
        f"{f' to {one.outcome}' if one.outcome else ''}: {one.reason}"
        for game in record.games
        for one in game.remarks
    ]
    if remarks:
        yield Heading("Your corrections")
        yield Points(tuple(remarks))


def _tables(record: StudentRecord) -> Iterator[Block]:
    episodes = all_episodes(one.game for one in record.games)
    if not episodes:
        return
    yield Heading("Over time")
    periods = [one for one in trend(episodes) if one.rate.of]
    if len(periods) > 1:
        yield held_by_period(
            [(one.first.replace(".", "-"), one.rate.held, one.rate.of) for one in periods]
        )
    else:
        yield Paragraph("All games are from one day, or without a date.")
    yield Heading("Rates")
    for by, title in _SPLITS:
        split = rates_by(by, episodes)
        if split:
            rows = [(name, in_words(rate)) for name, rate in split.items()]
            yield Heading(title, 2)
            yield Grid(("", "held, and the 95 % interval"), tuple(rows), numbers=2)
    yield Heading("What it cost")
    rows_ = [
        (
            one.name,
            str(one.fell),
            f"{one.lost_per_game / 100:.2f}",
            "-" if one.group_per_game is None else f"{one.group_per_game / 100:.2f}",
        )
        for one in record.diagnosis.causes
    ]
    yield Grid(("cause", "fell", "pawns a game", "the others'"), tuple(rows_))


def group_report(
    records: Sequence[StudentRecord], group: str, *, paper: Paper = "a4", large: bool = False
) -> Document:
    """Positions of a group without names, by the themes of the coming weeks."""
    diagnoses = {one.name: one.diagnosis for one in records}
    blocks: list[Block] = []
    answers: list[str] = []
    for theme in months_plan(diagnoses):
        blocks += [
            Heading(f"Week {theme.week}: {theme.cause}"),
            Paragraph(task_for_student(theme.cause)),
        ]
        first = len(answers) + 1
        asked = [_question(one, first + at) for at, one in enumerate(theme.examples)]
        answers += [_answer(one, first + at) for at, one in enumerate(theme.examples)]
        blocks.append(Diagrams(tuple(asked), across=3))
    if not blocks:
        blocks.append(Paragraph("Nothing stands out in these games yet."))
    else:
        blocks += [NewPage(), Heading("Answers"), Points(tuple(answers))]
    blocks.insert(0, ToFill(("Name", "Date")))
    games = {game.game.game for record in records for game in record.games}
    return Document(
        f"{group}: what to look at next",
        tuple(blocks),
        paper=paper,
        large=large,
        footer=counted(len(games), "game"),
    )


def _ringed(one: Episode) -> tuple[str, ...]:
    board = chess.Board(one.occasion["fen"])
    return tuple(
        square for square in one.occasion["units"] if board.piece_at(chess.parse_square(square))
    )


def _position(one: Episode, caption: str) -> Diagram:
    flip = one.occasion["colour"] == "black"
    return Diagram(one.occasion["fen"], caption, _ringed(one), flip)


def _kept(one: Episode, you: str = "You played ") -> Diagram:
    board = chess.Board(one.occasion["fen"])
    move = numbered_move(board, one.occasion["played"]["uci"])
    return _position(one, f"{you}{move}.")


def _question(one: Episode, number: int) -> Diagram:
    occasion = one.occasion
    side = "White" if occasion["colour"] == "white" else "Black"
    flip = occasion["colour"] == "black"
    return Diagram(occasion["fen"], f"{number}. {side} to move.", (), flip, lines=1)


def _answer(one: Episode, number: int | None = None) -> str:
    occasion = one.occasion
    board = chess.Board(occasion["fen"])
    units = [
        f"the {chess.piece_name(board.piece_type_at(chess.parse_square(square)) or 1)} on {square}"
        for square in _ringed(one)[:2]
    ]
    keeping = occasion["holding"][:ANSWERS_SHOWN]
    more = " and others" if len(occasion["holding"]) > ANSWERS_SHOWN else ""
    danger = f"In danger: {' and '.join(units)}. " if units else ""
    lead = f"{number}. " if number is not None else ""
    return f"{lead}{danger}These keep everything: {', '.join(keeping)}{more}."
