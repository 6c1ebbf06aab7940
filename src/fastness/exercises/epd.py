"""Exercises as EPD, with opcodes of the PGN standard of 1994 (section 16.2) only.

`bm` are the accepted moves and `am` the natural moves that fail, where these are moves of the
side to move; `id` names the exercise; `hmvc` and `fmvn` keep the position's counts, so that a
line reads back as the same position. `c0` is the question, `c1` the right answers, `c2` the proof:
in English, since EPD is ASCII and read by programs.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

import chess

from fastness.exercises.exercise import Exercise
from fastness.exercises.marking_grid import likely_wrong
from fastness.exercises.words import question, right_answers
from fastness.survey.lines import line_in_words


def epd(exercises: Iterable[tuple[str, Exercise]]) -> str:
    """A line for each exercise with its name, ending in a line break."""
    return "".join(f"{epd_line(name, one)}\n" for name, one in exercises)


def epd_line(name: str, exercise: Exercise) -> str:
    """One exercise as a line of EPD."""
    board = chess.Board(exercise.fen)
    operations: dict[str, Any] = {}
    best, avoided = best_moves(exercise), avoided_moves(exercise)
    if best:
        operations["bm"] = [chess.Move.from_uci(one) for one in best]
    if avoided:
        operations["am"] = [chess.Move.from_uci(one) for one in avoided]
    operations["hmvc"], operations["fmvn"] = board.halfmove_clock, board.fullmove_number
    operations["id"] = _plain(name)
    operations["c0"] = _plain(question(exercise))
    operations["c1"] = _plain(right_answers(exercise))
    proof = " / ".join(line_in_words(exercise.fen, line) for line in proof_lines(exercise))
    if proof:
        operations["c2"] = _plain(proof)
    return board.epd(en_passant="fen", **operations)


def best_moves(exercise: Exercise) -> tuple[str, ...]:
    """The accepted moves of the side to move, in UCI notation."""
    return exercise.accepted if exercise.kind in ("every move", "better way") else ()


def avoided_moves(exercise: Exercise) -> tuple[str, ...]:
    """The moves of the side to move that the exercise shows to lose something."""
    if exercise.kind in ("every move", "better way"):
        verdicts = [exercise.proved.verdict(one) for one in likely_wrong(exercise)]
        return tuple(one["uci"] for one in verdicts if one["natural"] and not one["holds"])
    falls = exercise.kind == "why it fails" or exercise.accepted == ("no",)
    return (exercise.asked,) if falls and exercise.asked else ()


def proof_lines(exercise: Exercise) -> list[tuple[str, ...]]:
    """The lines that bear the answer out: of the units that fall, or of the moves."""
    if exercise.kind == "which unit":
        units = exercise.proved.survey["units"]
        lines = [unit["line"] for unit in units if unit["square"] in exercise.accepted]
    elif exercise.asked:
        lines = [exercise.proved.verdict(exercise.asked)["line"]]
    else:
        lines = [exercise.proved.verdict(one)["line"] for one in exercise.accepted]
    return list(dict.fromkeys(tuple(line) for line in lines if line))


def _plain(text: str) -> str:
    """A string of EPD has no way to write a quotation mark, and is ASCII here."""
    straight = re.sub('[“”\u2018\u2019"]', "'", text)
    return " ".join(straight.encode("ascii", "replace").decode().split())
