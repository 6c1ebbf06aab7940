"""Why moves fall: the table of reasons, and what every reason must be on any position.

A row's `reason` is the main one; after ``also`` it is a further one, after ``not`` it is a near
miss, which does not apply. The squares are in the order of `docs/reasons.md`.
"""

import csv
from collections import Counter
from collections.abc import Iterator

import chess
import pytest

from fastness import core
from fastness.core.shapes import MoveVerdict, Reason, Survey
from tests.checks.positions import historic, sample
from tests.checks.questions import DATA, Row, move, survey_of
from tests.checks.refutations import TRUE, refuted
from tests.checks.test_flips import upside_down


def rows() -> list[Row]:
    with (DATA / "reasons.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def label(row: Row) -> str:
    return f"{row['fen'] or row['moves']} {row['move']} {row['reason']}"


@pytest.mark.parametrize("row", rows(), ids=label)
def test_reasons_of_the_table(row: Row) -> None:
    survey = survey_of(row["fen"] or row["moves"], 3, "classical")
    verdict = move(survey, row["move"])
    told: dict[str, str] = {
        each["reason"]: " ".join(each["squares"]) for each in verdict["reasons"]
    }
    kind, _, name = row["reason"].partition(" ")
    assert not verdict["holds"], row["why"]
    if kind == "not" and name:
        assert name not in told, row["why"]
    elif kind == "also":
        assert told.get(name) == row["squares"], row["why"]
        assert verdict["reason"] != name
    else:
        assert verdict["reason"] == row["reason"], (told, row["why"])
        assert told[row["reason"]] == row["squares"], (told, row["why"])


def test_the_table_has_four_rows_and_a_near_miss_for_each_reason() -> None:
    count = Counter(row["reason"].removeprefix("also ") for row in rows())
    names = {name for name in count if not name.startswith("not ")}
    assert len(names) == 12
    assert all(count[name] >= 4 for name in names), count
    assert {f"not {name}" for name in names - {"allows mate"}} <= set(count)


def falling(surveys: list[Survey]) -> Iterator[tuple[Survey, MoveVerdict, Reason]]:
    for survey in surveys:
        for verdict in survey["moves"]:
            yield from ((survey, verdict, reason) for reason in verdict["reasons"])


@pytest.fixture(scope="module")
def surveys() -> list[Survey]:
    answers = core.survey_many([(fen, ()) for fen in sample(historic(), 300, seed=61)])
    return [answer for answer in answers if isinstance(answer, dict)]


def pressing(survey: Survey) -> bool:
    """Whether there is danger or check."""
    last = (survey["danger"] or ["mate"])[-1]
    return last == "mate" or (isinstance(last, int) and last >= 50)


@pytest.mark.slow
def test_moves_that_fall_have_a_reason_and_no_others(surveys: list[Survey]) -> None:
    main: Counter[str] = Counter()
    unnamed = 0
    for survey in surveys:
        for verdict in survey["moves"]:
            assert verdict["holds"] == (not verdict["reasons"]), (survey["fen"], verdict)
            assert verdict["reason"] == next((r["reason"] for r in verdict["reasons"]), None)
            names = [reason["reason"] for reason in verdict["reasons"]]
            assert len(names) == len(set(names))
            main.update(names[:1])
            unnamed += names == ["lost further on"]
    fall = main.total()
    print(f"{fall} falls, main reasons {dict(main.most_common())}")
    print(f"{unnamed} ({unnamed / fall:.1%}) fall without a nearer name, see docs/reasons.md")
    assert unnamed < 0.03 * fall


@pytest.mark.slow
def test_natural_tries_that_fail_are_a_short_list(surveys: list[Survey]) -> None:
    failing = [
        sum(verdict["natural"] and not verdict["holds"] for verdict in survey["moves"])
        for survey in surveys
        if pressing(survey)
    ]
    mean = sum(failing) / len(failing)
    print(f"natural tries that fail: {mean:.1f} a position, on {len(failing)} with danger or check")
    assert 2 <= mean <= 6
    calm = [survey for survey in surveys if not pressing(survey)]
    assert not any(verdict["natural"] for survey in calm for verdict in survey["moves"])


@pytest.mark.slow
def test_reasons_agree_with_the_rules_library(surveys: list[Survey]) -> None:
    faults = [
        (survey["fen"], verdict["san"], reason)
        for survey, verdict, reason in falling(surveys)
        if not TRUE[reason["reason"]](refuted(survey, verdict, reason))
    ]
    assert not faults, (len(faults), faults[:8])


@pytest.mark.slow
def test_a_colour_flip_flips_the_reasons(surveys: list[Survey]) -> None:
    fens = [survey["fen"] for survey in surveys[:100]]
    turned = core.survey_many([(chess.Board(fen).mirror().fen(), ()) for fen in fens])
    for one, two in zip(surveys, turned, strict=False):
        assert isinstance(two, dict)
        mirrored = {verdict["uci"]: verdict for verdict in two["moves"]}
        for verdict in one["moves"]:
            other = mirrored[upside_down(verdict["uci"])]
            reasons = [
                (reason["reason"], [upside_down(name) for name in reason["squares"]])
                for reason in verdict["reasons"]
            ]
            assert reasons == [(r["reason"], r["squares"]) for r in other["reasons"]], one["fen"]
            assert verdict["natural"] == other["natural"], one["fen"]
