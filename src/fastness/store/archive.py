"""Reading an export, and telling what in it is missing or cannot be."""

from __future__ import annotations

import datetime
import json
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import chess

from fastness.errors import StoreError

FORMAT = 5
"""From 2 on a correction may name a move, from 3 on there is homework, from 4 on a lesson may say
who was there, from 5 on there is what classes tried."""

Shape = Mapping[str, "type | tuple[type, ...]"]

_MAYBE = (str, type(None))
_RECORD: Shape = {"groups": list, "students": list, "lessons": list, "games": list}
_GROUP: Shape = {"club": str, "name": str}
_STUDENT: Shape = {"name": str, "group": _MAYBE, "club": _MAYBE, "aliases": list}
_LESSON: Shape = {"group": str, "club": str, "held": str, "theme": str}
_GAME: Shape = {
    "tags": dict,
    "start_fen": str,
    "moves": str,
    "clocks": list,
    "result": str,
    "seats": list,
    "corrections": list,
}
_SEAT: Shape = {"colour": str, "student": str, "settings": _MAYBE, "occasions": list}
_OCCASION: Shape = {"ply": int, "kind": str, "outcome": str, "colour": str, "game": dict}
_CORRECTION: Shape = {
    "ply": int,
    "kind": str,
    "action": str,
    "outcome": _MAYBE,
    "reason": str,
    "made": str,
}
_HOMEWORK: Shape = {
    "number": int,
    "title": str,
    "made": str,
    "due": str,
    "language": str,
    "salt": str,
    "group": _MAYBE,
    "club": _MAYBE,
    "exercises": list,
    "students": list,
}
_GIVEN: Shape = {"student": str, "number": int, "key": str, "hand_ins": list}
_HAND_IN: Shape = {"made": str, "way": str, "answers": list}
_TAUGHT: Shape = {"number": int, "lesson": str, "held": str, "positions": list}
_SHOWN: Shape = {"start_fen": str, "moves": str, "tries": list}
_TRY: Shape = {"move": str, "hands": int, "holds": bool, "firm": bool}
_ERASED: Shape = {"number": int, "salt": str, "mark": str}


def read_archive(archive: Path) -> dict[str, Any]:
    """What an export holds.

    Raises StoreError, which names the file and the field, where it is no export, is incomplete
    or garbled, or was made by a later version.
    """
    try:
        with zipfile.ZipFile(archive) as opened:
            record = json.loads(opened.read("record.json"))
    except KeyError as error:
        raise StoreError(f"{archive} is no export of a store: record.json is missing") from error
    except (OSError, EOFError, ValueError, RuntimeError, zipfile.BadZipFile, zlib.error) as error:
        raise StoreError(f"{archive} is no export of a store: {error}") from error
    if isinstance(record, dict) and record.get("format", FORMAT) not in range(1, FORMAT + 1):
        raise StoreError(f"{archive} was made by a later version of fastness; upgrade the program")
    try:
        _check(record)
    except _FieldError as fault:
        raise StoreError(f"{archive}: {fault}; nothing was brought back") from fault
    return dict(record)


class _FieldError(Exception):
    """What is missing or wrong in a record, without the name of its file."""


def _check(record: Any) -> None:
    _shaped(record, {"format": int} | dict(_RECORD), "the record")
    for key, shape in (("groups", _GROUP), ("students", _STUDENT)):
        for number, one in enumerate(record[key], 1):
            _shaped(one, shape, f"number {number} of the {key}")
    for number, student in enumerate(record["students"], 1):
        for alias in student["aliases"]:
            _wanted(isinstance(alias, str), f'number {number} of the students: "aliases"')
    for number, lesson in enumerate(record["lessons"], 1):
        _shaped(lesson, _LESSON, f"number {number} of the lessons")
        _day(lesson["held"], f'number {number} of the lessons: "held"')
        there = lesson.get("present", [])
        named = isinstance(there, list) and all(isinstance(one, str) for one in there)
        _wanted(named, f'number {number} of the lessons: "present"')
    for number, game in enumerate(record["games"], 1):
        _game(game, f"number {number} of the games")
    for number, one in enumerate(record.get("erased", []), 1):
        _shaped(one, _ERASED, f"number {number} of the erased")
    for number, one in enumerate(record.get("homework", []), 1):
        _homework(one, f"number {number} of the homework")
    for number, one in enumerate(record.get("taught", []), 1):
        _taught(one, f"number {number} of the class boards")


def _taught(taught: Any, where: str) -> None:
    _shaped(taught, _TAUGHT, where)
    _day(taught["held"], f'{where}: "held"')
    for shown in taught["positions"]:
        _shaped(shown, _SHOWN, f"{where}, a position")
        moves = shown["moves"].split()
        for tried in shown["tries"]:
            _shaped(tried, _TRY, f"{where}, a try")
            _replayed(shown["start_fen"], [*moves, tried["move"]], f"{where}, a try")


def _homework(homework: Any, where: str) -> None:
    _shaped(homework, _HOMEWORK, where)
    for key in ("made", "due"):
        _day(homework[key], f'{where}: "{key}"')
    _wanted(all(isinstance(one, str) for one in homework["exercises"]), f'{where}: "exercises"')
    for given in homework["students"]:
        _shaped(given, _GIVEN, f"{where}, a student")
        for kept in given["hand_ins"]:
            _shaped(kept, _HAND_IN, f"{where}, what was handed in")
            _day(kept["made"], f'{where}, what was handed in: "made"')
            fits = len(kept["answers"]) == len(homework["exercises"])
            _wanted(fits, f'{where}, what was handed in: "answers"')


def _game(game: Any, where: str) -> None:
    _shaped(game, _GAME, where)
    _wanted(all(isinstance(tag, str) for tag in game["tags"].values()), f'{where}: "tags"')
    moves = game["moves"].split()
    _replayed(game["start_fen"], moves, where)
    for key, count in (("clocks", len(moves)), ("spent", len(moves)), ("beside", len(moves) + 1)):
        kept = game.get(key, [])
        kind = (str,) if key == "beside" else (int, float, type(None))
        fits = isinstance(kept, list) and all(isinstance(one, kind) for one in kept)
        _wanted(fits and len(kept) in (0, count), f'{where}: "{key}"')
    for seat in game["seats"]:
        _shaped(seat, _SEAT, f"{where}, a seat")
        _wanted(seat["colour"] in ("white", "black"), f'{where}, a seat: "colour"')
        for occasion in seat["occasions"]:
            _shaped(occasion, _OCCASION, f"{where}, an occasion")
            _wanted(1 <= occasion["ply"] <= len(moves), f'{where}, an occasion: "ply"')
    for correction in game["corrections"]:
        _shaped(correction, _CORRECTION, f"{where}, a correction")
        _day(correction["made"], f'{where}, a correction: "made"')


def _replayed(start: str, moves: list[str], where: str) -> None:
    try:
        board = chess.Board(start)
    except ValueError as error:
        raise _FieldError(f'{where}: "start_fen" is no position: {error}') from error
    for ply, uci in enumerate(moves, 1):
        try:
            board.push(board.parse_uci(uci))
        except ValueError as error:
            raise _FieldError(f'{where}: "moves" has no legal move at ply {ply}: {uci}') from error


def _shaped(told: Any, shape: Shape, where: str) -> None:
    if not isinstance(told, dict):
        raise _FieldError(f"{where} is not a set of fields")
    for key, kind in shape.items():
        if key not in told:
            raise _FieldError(f'{where}: the field "{key}" is missing')
        _wanted(isinstance(told[key], kind), f'{where}: "{key}"')


def _wanted(fits: bool, where: str) -> None:
    if not fits:
        raise _FieldError(f"{where} does not hold what it should")


def _day(text: str, where: str) -> None:
    try:
        datetime.date.fromisoformat(text)
    except ValueError as error:
        raise _FieldError(f"{where} is no day of the form 2026-09-07") from error
