"""Games, occasions, exercises and problems as rows of the tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import chess

from fastness.core.shapes import Look, Side
from fastness.exercises.difficulty import estimate, level_of
from fastness.exercises.encoding import to_json
from fastness.exercises.exercise import Exercise
from fastness.exercises.patterns import pattern_key
from fastness.intake import Game, Problem
from fastness.sift import Occasion
from fastness.sift.squares import unsafe_units
from fastness.sweep.bands import band, rating
from fastness.sweep.batches import Batch

SIDES: tuple[Side, Side] = ("white", "black")


def game_row(batch: Batch, game: Game, looks: Sequence[Look]) -> dict[str, Any]:
    """A game, with what the looks at both sides' moves say of their units.

    A side's `moves` are its own moves outside check, where units are judged; `units` its units,
    the king among them, counted anew before each of these moves; `_unsafe` those of them before
    which something could be won, and that could be won, alone or together with others.
    """
    tags = game.tags
    row: dict[str, Any] = {
        **_key(batch, game.number),
        "line": game.line,
        "event": tags.get("Event"),
        "site": tags.get("Site"),
        "date": tags.get("Date"),
        "white": tags.get("White"),
        "black": tags.get("Black"),
        "result": game.result,
        "plies": len(game.moves),
        "start_fen": None if game.start_fen == chess.STARTING_FEN else game.start_fen,
    }
    for side in SIDES:
        judged = [look for look in looks if look["side"] == side and not look["in_check"]]
        unsafe = [len(unsafe_units(look["survey"])) for look in judged if look["survey"]]
        row |= {f"{side}_{name}": value for name, value in _rated(game, side).items()}
        row[f"{side}_moves"] = len(judged)
        row[f"{side}_moves_unsafe"] = sum(number > 0 for number in unsafe)
        row[f"{side}_units"] = sum(_own_units(look["fen"], side) for look in judged)
        row[f"{side}_units_unsafe"] = sum(unsafe)
    return row


def occasion_row(batch: Batch, game: Game, occasion: Occasion) -> dict[str, Any]:
    """An occasion; a danger or a net that is a mate stands in a column of its own."""
    row: dict[str, Any] = dict(occasion)
    row |= {**_key(batch, game.number), **_rated(game, occasion["colour"])}
    for name in ("danger", "net", "best_net"):
        row |= _number(name, row[name])
    played = occasion["played"]
    return row | {
        "played": played["uci"],
        "played_san": played["san"],
        "proof": occasion["line"],
    }


def exercise_row(batch: Batch, game: Game, exercise: Exercise) -> dict[str, Any]:
    """An exercise; its `proof` is a line as `fastness mine --to` writes it."""
    survey = exercise.proved.survey
    logits = estimate(survey, exercise.kind, exercise.asked)
    return {
        **_key(batch, game.number),
        "ply": exercise.proved.source.ply,
        "fen": exercise.fen,
        "kind": exercise.kind,
        "asked": exercise.asked,
        "accepted": list(exercise.accepted),
        "not_judged": list(exercise.not_judged),
        "pattern": pattern_key(exercise),
        "estimate": logits,
        "level": level_of(logits),
        "proof": to_json(exercise.proved),
    }


def problem_row(batch: Batch, problem: Problem) -> dict[str, Any]:
    """What is wrong with an archive (no game then), or with one of its games."""
    return {
        **_key(batch, problem.game),
        "line": problem.line,
        "kind": problem.kind,
        "message": problem.message,
    }


def _key(batch: Batch, game: int | None) -> dict[str, int | None]:
    return {"archive": batch.archive, "batch": batch.number, "game": game}


def _rated(game: Game, side: Side) -> dict[str, Any]:
    text = game.tags.get(f"{side.title()}Elo", "")
    return {"rating": rating(text), "band": band(text)}


def _own_units(fen: str, side: Side) -> int:
    board = fen.partition(" ")[0]
    return sum(sign.isupper() == (side == "white") for sign in board if sign.isalpha())


def _number(name: str, value: int | str | None) -> dict[str, int | str | None]:
    if isinstance(value, str):
        return {name: None, f"{name}_mate": value}
    return {name: value, f"{name}_mate": None}
