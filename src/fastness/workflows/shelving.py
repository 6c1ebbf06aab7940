"""What a teacher does with the shelf: look at it, correct it, and fit it to the attempts."""

from __future__ import annotations

import chess

from fastness.core.shapes import Survey
from fastness.errors import InputError
from fastness.exercises.difficulty import is_unsafe, level_of, terms
from fastness.exercises.exercise import Exercise
from fastness.exercises.rasch import Answered, fit
from fastness.exercises.shelving import as_entry, as_exercise
from fastness.exercises.words import question
from fastness.store import Store, shelf
from fastness.store.shelf import Verdict, Wanted
from fastness.store.shelf_tables import ShelvedExercise
from fastness.survey.diagram import RING, diagram

COLUMNS = ("No.", "Level", "Question", "Ahead", "Holding", "Causes", "Position")


def shelve(store: Store, exercises: list[Exercise]) -> int:
    """Put exercises on the shelf; how many were new."""
    with store.writing() as session:
        return sum(shelf.put(session, as_entry(exercise))[1] for exercise in exercises)


def listed(store: Store, wanted: Wanted) -> list[dict[str, object]]:
    """The exercises that fit, a row of plain values each."""
    with store.reading() as session:
        return [_row(one) for one in shelf.find(session, wanted)]


def _row(one: ShelvedExercise) -> dict[str, object]:
    named = {
        name: sorted(trait.value for trait in one.traits if trait.name == name)
        for name in ("unit", "mechanism", "way")
    }
    return {
        "number": one.id,
        "level": one.level,
        "kind": one.kind,
        "reach": one.reach,
        "holding": one.holding,
        "units": named["unit"],
        "mechanisms": named["mechanism"],
        "ways": named["way"],
        "phase": one.phase,
        "made": one.made,
        "difficulty": round(one.difficulty, 2),
        "fen": one.fen,
        "asked": one.asked,
        "struck": any(found.action == "strike" for found in one.corrections),
    }


def as_table(rows: list[dict[str, object]]) -> str:
    """Rows as a table of plain text."""
    cells = [COLUMNS]
    for row in rows:
        causes = row["mechanisms"]
        reach = "-" if row["reach"] is None else str(row["reach"])
        named = ", ".join(causes) if isinstance(causes, list) else ""
        level = f"{row['level']}{' (struck)' if row['struck'] else ''}"
        cells.append(
            (
                str(row["number"]),
                level,
                str(row["kind"]),
                reach,
                str(row["holding"]),
                named or "-",
                str(row["fen"]),
            )
        )
    widths = [max(len(cell[place]) for cell in cells) for place in range(len(COLUMNS))]
    return "\n".join("  ".join(map(str.ljust, cell, widths)).rstrip() for cell in cells)


def shown(store: Store, number: int) -> str:
    """An exercise with its answer, how hard it is held to be, and the teacher's corrections."""
    with store.reading() as session:
        row = shelf.numbered(session, number)
        exercise = as_exercise(row)
        survey = exercise.proved.survey
        parts = [
            f"Exercise {row.id}, {row.level}: {survey['side']} to move",
            row.fen,
            diagram(row.fen, _marks(survey), flip=survey["side"] == "black"),
            question(exercise),
            f"Answer: {_answers(exercise, exercise.accepted) or 'none'}",
        ]
        if exercise.not_judged:
            parts.append(f"Not judged: {_answers(exercise, exercise.not_judged)}")
        if row.source.get("game"):
            parts.append(f"From: {row.source['game']}, ply {row.source['ply']}")
        elif row.source.get("of"):
            parts.append(f"Made from: {row.source['of']}")
        parts.append(_difficulty(row, exercise))
        for one in row.corrections:
            about = f" {one.answer} is {one.verdict}" if one.answer else ""
            parts.append(f"Correction {one.id}, {one.made}: {one.action}{about}: {one.reason}")
    return "\n".join(parts)


def _marks(survey: Survey) -> dict[str, str]:
    return {unit["square"]: RING for unit in survey["units"] if is_unsafe(unit)}


def _san(survey: Survey, uci: str) -> str:
    return next((move["san"] for move in survey["moves"] if move["uci"] == uci), uci)


def _answers(exercise: Exercise, answers: tuple[str, ...]) -> str:
    survey = exercise.proved.survey
    if exercise.kind == "why it fails" and exercise.asked:
        board = chess.Board(exercise.fen)
        board.push_uci(exercise.asked)
        return ", ".join(board.san(chess.Move.from_uci(answer)) for answer in answers)
    return ", ".join(_san(survey, answer) for answer in answers)


def _difficulty(row: ShelvedExercise, exercise: Exercise) -> str:
    if row.error is not None:
        error = f" (standard error {row.error:.2f}, estimated {row.estimate:.2f})"
        return f"Difficulty: {row.difficulty:.2f} logits from attempts{error}"
    summed = terms(exercise.proved.survey, exercise.kind, exercise.asked)
    told = ", ".join(f"{term.name} {term.logits:+.2f}" for term in summed)
    return f"Difficulty: {row.difficulty:.2f} logits, estimated: {told}"


def correct(
    store: Store,
    number: int,
    action: shelf.Action,
    reason: str,
    *,
    answer: str | None = None,
    verdict: Verdict | None = None,
) -> None:
    """Keep a correction of an exercise. Raises InputError where its answer cannot be one."""
    with store.writing() as session:
        row = shelf.numbered(session, number)
        known = None if answer is None else as_answer(as_exercise(row), answer)
        shelf.correct(session, row, action, reason, answer=known, verdict=verdict)


def take_back(store: Store, number: int, correction: int) -> None:
    """Remove a correction of an exercise."""
    with store.writing() as session:
        shelf.take_back(session, shelf.numbered(session, number), correction)


def as_answer(exercise: Exercise, answer: str) -> str:
    """An answer as the shelf keeps it, from a move as a player writes it, a square, yes or no."""
    if exercise.kind == "is it safe":
        if answer in ("yes", "no"):
            return answer
        raise InputError(f'the answer is yes or no, not "{answer}"')
    if exercise.kind == "which unit":
        squares = [unit["square"] for unit in exercise.proved.survey["units"]]
        if answer in squares:
            return answer
        raise InputError(f'"{answer}" is no square of a unit of the side to move')
    board = chess.Board(exercise.fen)
    if exercise.kind == "why it fails" and exercise.asked:
        board.push_uci(exercise.asked)
    for read in (board.parse_san, board.parse_uci):
        try:
            return read(answer).uci()
        except ValueError:
            continue
    raise InputError(f'"{answer}" is no legal move here; write it as Nf3 or g1f3')


def fit_difficulties(store: Store) -> tuple[int, int]:
    """Fit every exercise that was tried; how many, and from how many first answers."""
    with store.writing() as session:
        every = {one.id: one for one in shelf.find(session, Wanted(struck=True))}
        answers = [Answered(*found) for found in shelf.first_judged(session)]
        fitted = fit(answers, {number: one.estimate for number, one in every.items()})
        tried = {answer.exercise for answer in answers}
        for number, one in every.items():
            found = fitted.difficulties[number]
            one.difficulty, one.error = found.logits, found.error if number in tried else None
            one.level = level_of(found.logits)
    return len(tried), len(answers)
