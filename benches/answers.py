"""What the core answered when benches/answers.csv was recorded, so that speed never buys errors."""

from __future__ import annotations

import csv
import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from fastness.core.shapes import Look, Survey

TABLE = Path(__file__).with_name("answers.csv")
COLUMNS = ("what", "where", "answer")

Key = tuple[str, str]
"""What was asked ("survey", "sift", "screen") and where (a FEN, or a game's number and colour)."""


def survey_answer(survey: Survey) -> str:
    """The danger by reach, the moves that hold, and a digest of every unit and every net."""
    moves = sorted((move["uci"], str(move["net"]), move["holds"]) for move in survey["moves"])
    units = sorted(
        (unit["square"], unit["status"], unit["reach"], str(unit["loses"]))
        for unit in [*survey["units"], *survey["takings"]]
    )
    danger = survey["danger"]
    shown = "in check" if danger is None else " ".join(str(value) for value in danger)
    holding = sum(holds for _, _, holds in moves)
    return f"danger {shown}; {holding} of {len(moves)} hold; {_digest([moves, units])}"


def sift_answer(looks: Sequence[Look]) -> str:
    """The moves looked at, those that hold, and a digest of the danger at each."""
    rows = [(look["ply"], str(look["danger"]), look["played"]["holds"]) for look in looks]
    held = sum(holds for _, _, holds in rows)
    return f"{held} of {len(rows)} hold; {_digest(rows)}"


def screen_answer(reaches: Sequence[int]) -> str:
    """The positions by the reach at which something shows, and a digest of all in order."""
    nothing, near, far = (reaches.count(reach) for reach in (0, 1, 2))
    return f"{nothing} show nothing, {near} at reach 1, {far} at reach 2; {_digest(list(reaches))}"


def differences(answers: Mapping[Key, str], recorded: Mapping[Key, str]) -> list[str]:
    """A sentence for each answer that is not the recorded one, or that none is recorded for."""
    return [
        f"{what} of {where}: {answer}, but recorded is {recorded.get((what, where), 'nothing')}."
        for (what, where), answer in answers.items()
        if recorded.get((what, where)) != answer
    ]


def read_recorded(table: Path = TABLE) -> dict[Key, str]:
    """The recorded answers."""
    with table.open(encoding="utf-8", newline="") as file:
        return {(row["what"], row["where"]): row["answer"] for row in csv.DictReader(file)}


def record(answers: Iterable[tuple[Key, str]], table: Path = TABLE) -> None:
    """Write the answers anew."""
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows((*key, answer) for key, answer in answers)


def _digest(rows: object) -> str:
    return hashlib.sha256(json.dumps(rows).encode()).hexdigest()[:16]
