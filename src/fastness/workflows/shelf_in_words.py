"""The shelf in plain text: a table of exercises, and one with its answer."""

from __future__ import annotations

from typing import cast

from fastness.core.shapes import Survey
from fastness.exercises.difficulty import is_unsafe, terms
from fastness.exercises.exercise import Exercise, Kind, Level
from fastness.exercises.shelving import as_exercise
from fastness.exercises.words import (
    FROM,
    NOT_COUNTED,
    RIGHT_ANSWERS,
    answer_name,
    answer_names,
    kind_name,
    level_name,
    question,
    right_answers,
)
from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.store import Store, shelf
from fastness.store.shelf_tables import ExerciseCorrection, ShelvedExercise
from fastness.survey.diagram import RING, diagram
from fastness.workflows.shelving import ShelvedRow

COLUMNS = (
    marked("No."),
    marked("Level"),
    marked("Question"),
    marked("Ahead"),
    marked("Holding"),
    marked("Causes"),
    marked("Position"),
)
_ACTIONS = {
    "strike": marked_as("a correction", "strike"),
    "comment": marked_as("a correction", "comment"),
    "overrule": marked_as("a correction", "overrule"),
}
_VERDICTS = {
    "right": marked("{answer} is right"),
    "wrong": marked("{answer} is wrong"),
    "not judged": marked("{answer} is not judged"),
}
_TERMS = {
    "start": marked("start"),
    "question": marked("question"),
    "nothing is unsafe": marked("nothing is unsafe"),
    "seems to hang": marked("seems to hang"),
    "units on the board": marked("units on the board"),
    "moves ahead": marked("moves ahead"),
    "length of the line": marked("length of the line"),
    "backward first move": marked("backward first move"),
    "quiet first move": marked("quiet first move"),
    "pinned guard": marked("pinned guard"),
    "moves to find": marked("moves to find"),
    "few moves hold": marked("few moves hold"),
    "only captures and checks hold": marked("only captures and checks hold"),
    "only quiet moves of other units hold": marked("only quiet moves of other units hold"),
}


def as_table(rows: list[ShelvedRow], language: Language = ENGLISH) -> str:
    """Rows as a table of plain text."""
    cells = [tuple(map(language.say, COLUMNS)), *(_cells(row, language) for row in rows)]
    widths = [max(len(cell[place]) for cell in cells) for place in range(len(COLUMNS))]
    return "\n".join("  ".join(map(str.ljust, cell, widths)).rstrip() for cell in cells)


def _cells(row: ShelvedRow, language: Language) -> tuple[str, ...]:
    level = level_name(row["level"], language)
    return (
        str(row["number"]),
        language.say("{level} (struck)", level=level) if row["struck"] else level,
        kind_name(row["kind"], language),
        "-" if row["reach"] is None else str(row["reach"]),
        str(row["holding"]),
        ", ".join(map(language.say, row["mechanisms"])) or "-",
        row["fen"],
    )


def shown(store: Store, number: int, language: Language = ENGLISH) -> str:
    """An exercise with its answer, how hard it is held to be, and the teacher's corrections."""
    say = language.say
    with store.reading() as session:
        row = shelf.numbered(session, number)
        exercise = as_exercise(row)
        survey, source = exercise.proved.survey, exercise.proved.source
        level = level_name(_level(row), language)
        parts = [
            say("Exercise {number}, {level}", number=row.id, level=level),
            row.fen,
            diagram(row.fen, _marks(survey), flip=survey["side"] == "black", language=language),
            question(exercise, language),
            say(RIGHT_ANSWERS, answers=right_answers(exercise, language)),
        ]
        if exercise.not_judged:
            names = answer_names(exercise, exercise.not_judged, language)
            parts.append(say(NOT_COUNTED, answers=names))
        if source.of:
            parts.append(say("Made from: {fen}", fen=source.of))
        if source.game:
            parts.append(say(FROM, game=source.game, move=(source.ply + 1) // 2))
        parts.append(_difficulty(row, exercise, language))
        parts += [_correction(exercise, one, language) for one in row.corrections]
    return "\n".join(parts)


def _level(row: ShelvedExercise) -> Level:
    return cast("Level", row.level)


def _marks(survey: Survey) -> dict[str, str]:
    return {unit["square"]: RING for unit in survey["units"] if is_unsafe(unit)}


def _difficulty(row: ShelvedExercise, exercise: Exercise, language: Language) -> str:
    say = language.say
    logits = _number(row.difficulty, language)
    if row.error is not None:
        return say(
            "Difficulty: {logits} logits from attempts (standard error {error}, estimated"
            " {estimate})",
            logits=logits,
            error=_number(row.error, language),
            estimate=_number(row.estimate, language),
        )
    summed = terms(exercise.proved.survey, exercise.kind, exercise.asked)
    told = [f"{_term(one.name, language)} {_number(one.logits, language, '+')}" for one in summed]
    return say(
        "Difficulty: {logits} logits, estimated: {terms}", logits=logits, terms=", ".join(told)
    )


def _term(name: str, language: Language) -> str:
    """A term by its name; that of the question names the question as well."""
    term, _, kind = name.partition(": ")
    told = language.say(_TERMS[term])
    return f"{told}: {kind_name(cast('Kind', kind), language)}" if kind else told


def _number(value: float, language: Language, sign: str = "-") -> str:
    return f"{value:{sign}.2f}".replace(".", language.say_as("decimal point", "."))


def _correction(exercise: Exercise, one: ExerciseCorrection, language: Language) -> str:
    say, told = language.say, language.say_as(*_ACTIONS[one.action])
    if one.answer and one.verdict:
        answer = answer_name(exercise, one.answer, language)
        told = f"{told} {say(_VERDICTS[one.verdict], answer=answer)}"
    return say(
        "Correction {number}, {day}: {told}: {reason}",
        number=one.id,
        day=one.made,
        told=told,
        reason=one.reason,
    )
