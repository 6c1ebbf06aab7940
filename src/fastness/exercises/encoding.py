"""Proved positions as JSON, one to a line: what a file of mined exercises holds."""

from __future__ import annotations

import json
from typing import Any

from fastness.errors import InputError
from fastness.exercises.exercise import Proved, Source

VERSION = 1


def to_json(proved: Proved) -> str:
    """A proved position on one line of JSON."""
    source = proved.source
    return json.dumps(
        {
            "version": VERSION,
            "source": {
                "made": source.made,
                "game": source.game,
                "ply": source.ply,
                "of": source.of,
            },
            "firm_units": proved.firm_units,
            "replies": proved.replies,
            "unsettled_replies": proved.unsettled_replies,
            "firm_better": proved.firm_better,
            "survey": proved.survey,
        }
    )


def from_json(text: str) -> Proved:
    """The proved position of a line that `to_json` wrote.

    Raises InputError where the line is not one.
    """
    try:
        told: dict[str, Any] = json.loads(text)
        if told["version"] != VERSION:
            raise InputError(f"an exercise of version {told['version']} cannot be read here")
        return Proved(
            told["survey"],
            told["firm_units"],
            _tuples(told["replies"]),
            Source(**told["source"]),
            _tuples(told["unsettled_replies"]),
            # Lines written before it was asked have no such answer.
            firm_better=told.get("firm_better", False),
        )
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise InputError(f"this is no line of a file of exercises: {text[:60]}") from error


def _tuples(told: dict[str, list[str]]) -> dict[str, tuple[str, ...]]:
    return {move: tuple(replies) for move, replies in told.items()}
