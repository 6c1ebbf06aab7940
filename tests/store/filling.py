"""Rows for every table of any version of the store, by statements and not by the program."""

from __future__ import annotations

import json
from typing import Any

import sqlalchemy as sa

from fastness.store import Store

START = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
GAME_LABEL = {
    "number": 1,
    "event": "?",
    "date": "?",
    "white": "Flourdust, Ivy",
    "black": "?",
    "result": "*",
}
TOLD = json.dumps(
    {
        "kind": "danger",
        "game": GAME_LABEL,
        "ply": 1,
        "colour": "white",
        "fen": START,
        "clock": None,
    }
)
# In an order in which each finds what it belongs to. What later versions add to a table has a
# default, and is left to it.
ROWS: dict[str, dict[str, Any]] = {
    "student_group": {"id": 1, "club": "Millrace", "name": "Monday"},
    "student": {"id": 1, "name": "Flourdust, Ivy", "group_id": 1},
    "alias": {"id": 1, "student_id": 1, "name": "Flourdust, Ivy", "form": "ivy flourdust"},
    "game": {
        "id": 1,
        "identity": "x",
        "date": "",
        "white": "Flourdust, Ivy",
        "black": "?",
        "result": "*",
        "start_fen": START,
        "moves": "e2e4",
        "clocks": "[null]",
        "tags": '{"White": "Flourdust, Ivy"}',
    },
    "seat": {"id": 1, "game_id": 1, "colour": "white", "student_id": 1, "settings": "reach 3"},
    "occasion": {
        "id": 1,
        "seat_id": 1,
        "place": 0,
        "ply": 1,
        "kind": "danger",
        "outcome": "held",
        "told": TOLD,
    },
    "correction": {
        "id": 1,
        "game_id": 1,
        "ply": 1,
        "kind": "danger",
        "action": "comment",
        "outcome": None,
        "reason": "well seen",
        "made": "2026-09-07",
    },
    "lesson": {"id": 1, "group_id": 1, "held": "2026-09-07", "theme": "pins"},
    "attendance": {"id": 1, "lesson_id": 1, "student_id": 1},
    "exercise": {
        "id": 1,
        "identity": "x",
        "kind": "which unit",
        "fen": START,
        "accepted": "[]",
        "not_judged": "[]",
        "survey": json.dumps({"fen": START}),
        "firm_units": True,
        "replies": "{}",
        "made": "game",
        "source": '{"game": ""}',
        "pattern": "x",
        "estimate": 0.5,
        "difficulty": 0.5,
        "level": "plain",
        "phase": "opening",
        "holding": 1,
    },
    "exercise_trait": {"id": 1, "exercise_id": 1, "name": "way", "value": "move"},
    "exercise_correction": {
        "id": 1,
        "exercise_id": 1,
        "action": "comment",
        "reason": "well made",
        "made": "2026-09-07",
    },
    "attempt": {
        "id": 1,
        "student_id": 1,
        "exercise_id": 1,
        "made": "2026-09-07",
        "answer": "[]",
        "verdict": "right",
    },
    "homework": {
        "id": 1,
        "number": 9,
        "title": "pins",
        "made": "2026-09-07",
        "due": "2026-09-14",
        "language": "en",
        "salt": "00" * 16,
        "group_id": 1,
    },
    "homework_exercise": {"id": 1, "homework_id": 1, "exercise_id": 1, "place": 0},
    "homework_student": {"id": 1, "homework_id": 1, "student_id": 1, "number": 3, "key": "ACD"},
    "hand_in": {
        "id": 1,
        "homework_student_id": 1,
        "made": "2026-09-08",
        "way": "code",
        "answers": "[[]]",
    },
    "taught": {"id": 1, "number": 70, "lesson": "pins", "held": "2026-09-07"},
    "taught_position": {
        "id": 1,
        "taught_id": 1,
        "place": 0,
        "start_fen": START,
        "moves": "",
        "tries": "[]",
    },
    "erased": {"id": 1, "number": 7, "salt": "00" * 16, "mark": "ff" * 32},
}


def fill(store: Store) -> dict[str, list[dict[str, Any]]]:
    """A row in every table that the store has; what `rows` then gives."""
    there = set(sa.inspect(store.engine).get_table_names()) - {"alembic_version"}
    # A table that is not here would come to a new version empty, and prove nothing.
    assert there <= set(ROWS), there - set(ROWS)
    with store.engine.execution_options(writes=True).begin() as connection:
        for table, row in ROWS.items():
            if table in there:
                names, values = ", ".join(row), ", ".join(f":{name}" for name in row)
                insert = sa.text(f"INSERT INTO {table} ({names}) VALUES ({values})")
                connection.execute(insert, row)
    return rows(store)


def rows(store: Store) -> dict[str, list[dict[str, Any]]]:
    """Every row of every table that `fill` filled, as far as it filled it."""
    there = sa.inspect(store.engine).get_table_names()
    with store.engine.connect() as connection:
        return {
            table: [
                {name: str(value) for name, value in found._mapping.items()}
                for found in connection.execute(
                    sa.text(f"SELECT {', '.join(row)} FROM {table} ORDER BY id")
                )
            ]
            for table, row in ROWS.items()
            if table in there
        }
