import copy
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import chess
import pytest
from jsonschema import Draft202012Validator

from fastness import core
from fastness.survey import page
from fastness.survey.lines import WIDTH
from tests.survey.samples import CENTRE, START, centre, pinned_down

ROOT = Path(__file__).parents[2]
SCHEMAS = ROOT / "docs" / "schema"
POSITIONS = (ROOT / "tests" / "data" / "historic-positions.fen").read_text("ascii").split("\n")


def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8")))


@pytest.mark.parametrize("name", ["survey", "occasion"])
def test_a_schema_is_one_and_describes_every_key(name: str) -> None:
    schema = validator(name).schema
    Draft202012Validator.check_schema(schema)
    assert isinstance(schema, dict)
    shapes: list[Any] = [schema, *schema["$defs"].values()]
    for shape in shapes:
        properties = shape.get("properties", {})
        assert set(shape.get("required", properties)) == set(properties)
        assert all(told.get("description") for told in properties.values())


def test_surveys_made_by_hand_fit() -> None:
    for survey in (centre(), pinned_down()):
        validator("survey").validate(survey)


@pytest.mark.parametrize(
    ("place", "wrong"),
    [
        (("version",), 2),
        (("side",), "w"),
        (("danger", 0), "mates"),
        (("units", 0, "status"), "hanging"),
        (("units", 0, "square"), "e9"),
        (("units", 0, "line", 0), "pass"),
        (("moves", 0, "net"), "lost"),
        (("moves", 0, "ways"), ["run"]),
    ],
)
def test_what_does_not_fit_is_refused(place: tuple[str | int, ...], wrong: object) -> None:
    survey: Any = copy.deepcopy(centre())
    at = survey
    for key in place[:-1]:
        at = at[key]
    at[place[-1]] = wrong
    assert not validator("survey").is_valid(survey)


def test_keys_may_be_added() -> None:
    survey: Any = copy.deepcopy(centre())
    survey["new"] = survey["units"][0]["new"] = survey["moves"][0]["new"] = 1
    assert validator("survey").is_valid(survey)


@pytest.mark.parametrize(("fen", "moves"), [(START, ["e2e4", "d7d5"]), (CENTRE, [])])
def test_the_core_answers_in_this_shape(fen: str, moves: list[str]) -> None:
    survey = core.survey(fen, moves=moves, firm=True, reach=2)
    validator("survey").validate(survey)
    assert survey["fen"].split(" ")[0] == CENTRE.split(" ")[0]


# Reach, firm, table of values: every 12th position, so 100 surveys of each kind.
OPTIONS = [(3, False, "classical"), (2, True, "kaufman"), (1, False, "turing")]


@pytest.mark.parametrize(("reach", "firm", "values"), OPTIONS)
def test_real_positions_fit_and_give_pages(reach: int, firm: bool, values: str) -> None:
    checks = validator("survey")
    rows = [(fen, ()) for fen in POSITIONS if fen][reach::12]
    for answer in core.survey_many(rows, reach=reach, firm=firm, values=values):
        assert isinstance(answer, dict), answer
        checks.validate(answer)
        assert answer["values"] == values
        assert len(answer["danger"] or [0] * reach) == reach
        assert {move["firm"] is None for move in answer["moves"]} <= {not firm}
        text = page(answer)  # replays every line it tells
        assert max(map(len, text.splitlines())) <= WIDTH


def test_real_trades_in_progress_fit_and_give_pages() -> None:
    checks = validator("survey")
    rows = trades([fen for fen in POSITIONS if fen][5::25])
    answers = core.survey_many(rows, values="berliner")
    for answer in answers:
        assert isinstance(answer, dict), answer
        checks.validate(answer)
        page(answer, moves_given=True)
    assert sum(answer["owed"] > 0 for answer in answers if isinstance(answer, dict)) >= 30


def trades(fens: Sequence[str]) -> list[tuple[str, list[str]]]:
    """Each position with a capture played from it, where there is one."""
    rows = []
    for fen in fens:
        board = chess.Board(fen)
        captures = sorted(move.uci() for move in board.generate_legal_captures())
        rows += [(fen, [captures[0]])] if captures else []
    return rows
