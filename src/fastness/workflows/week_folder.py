"""What a week's material is: the sheets at three levels, the answers, and the data for later."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path

from fastness.exercises.encoding import to_json
from fastness.exercises.epd import epd
from fastness.exercises.exercise import Exercise, Kind, Level
from fastness.exercises.pgn import pgn
from fastness.language import ENGLISH, Language
from fastness.publish.sheet import Layout, SheetExercise, sheets
from fastness.publish.writing import write_files
from fastness.store import Store
from fastness.workflows.sheet_files import sheet_files
from fastness.workflows.shelving import shelve
from fastness.workflows.week import Proposal, TwinProposal

ASKED: dict[Level, tuple[Kind, ...]] = {
    "plain": ("which unit", "is it safe"),
    "club": ("every move", "better way"),
    "stretch": ("better way", "why it fails", "every move"),
}
"""Which question a level asks of a position, the first that it admits."""


def write_week(
    folder: Path,
    title: str,
    proposals: Sequence[Proposal],
    twins: Sequence[TwinProposal],
    layout: Layout,
    store: Store,
) -> list[Path]:
    """Write the week's folder, put its exercises on the shelf, and give the files written.

    Sheets and answers as PDF, one pair a level; `exercises.epd` and `exercises.pgn` for use
    elsewhere; `week.json` with what was chosen and why, and `positions.jsonl` with the proofs.
    Texts are in the language of the layout; names and codes are the same in any.

    Raises FileError where the folder cannot be written.
    """
    chosen = list(sheet_exercises(proposals, twins, layout.language))
    written = list(write_files(folder, _files(title, proposals, twins, chosen, layout)))
    shelve(store, [*_all(proposals), *_all(twins)])
    return written


def sheet_exercises(
    proposals: Sequence[Proposal], twins: Sequence[TwinProposal], language: Language = ENGLISH
) -> Iterator[SheetExercise]:
    """For each level each position with its question; at club level and above its twin follows."""
    by_position = {twin.of.proved.fen: twin for twin in twins}
    for level, kinds in ASKED.items():
        for proposal in proposals:
            exercise = _first(proposal.exercises, kinds)
            if exercise is None:
                continue
            yield SheetExercise(exercise, level)
            twin = by_position.get(proposal.proved.fen)
            same = _first(twin.exercises, (exercise.kind,)) if twin else None
            if twin and same is not None and level != "plain":
                yield SheetExercise(same, level, told=twin.told(language))


def _first(exercises: Sequence[Exercise], kinds: Sequence[Kind]) -> Exercise | None:
    for kind in kinds:
        for exercise in exercises:
            if exercise.kind == kind:
                return exercise
    return None


def _all(found: Sequence[Proposal] | Sequence[TwinProposal]) -> list[Exercise]:
    return [exercise for one in found for exercise in one.exercises]


def _files(
    title: str,
    proposals: Sequence[Proposal],
    twins: Sequence[TwinProposal],
    chosen: Sequence[SheetExercise],
    layout: Layout,
) -> dict[str, bytes | str]:
    named = [(f"{one.level} {at}", one.exercise) for at, one in enumerate(chosen, 1)]
    told = _told(title, proposals, twins, layout.language)
    return {
        **dict(sheet_files(sheets(title, chosen, layout))),
        "exercises.epd": epd(named),
        "exercises.pgn": pgn(title, named, layout.language),
        "positions.jsonl": "".join(f"{to_json(one.proved)}\n" for one in proposals),
        "week.json": json.dumps(told, ensure_ascii=False, indent=1),
    }


def _told(
    title: str,
    proposals: Sequence[Proposal],
    twins: Sequence[TwinProposal],
    language: Language,
) -> dict[str, object]:
    changed = {twin.of.proved.fen: twin for twin in twins}
    return {
        "version": 1,
        "title": title,
        "positions": [
            {
                "fen": one.proved.fen,
                "game": one.place.game,
                "ply": one.place.ply,
                "student": one.place.student,
                "played": one.place.played,
                "outcome": one.place.outcome,
                "twin": _twin(changed.get(one.proved.fen), language),
            }
            for one in proposals
        ],
    }


def _twin(twin: TwinProposal | None, language: Language) -> dict[str, str] | None:
    return {"fen": twin.twin.fen, "text": twin.told(language)} if twin else None
