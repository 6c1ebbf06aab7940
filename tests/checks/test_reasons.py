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
    told = {each["reason"]: " ".join(each["squares"]) for each in verdict["reasons"]}
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
    assert len(names) == 11
    assert all(count[name] >= 4 for name in names), count
    assert {f"not {name}" for name in names - {"allows mate"}} <= set(count)


def falling(surveys: list[Survey]) -> Iterator[tuple[Survey, MoveVerdict, Reason]]:
    for survey in surveys:
        for verdict in survey["moves"]:
            for reason in verdict["reasons"]:
                yield survey, verdict, reason


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
        safe = {unit["square"] for unit in survey["units"] if unit["status"] == "safe"}
        for verdict in survey["moves"]:
            assert verdict["holds"] == (not verdict["reasons"]), (survey["fen"], verdict)
            assert verdict["reason"] == next((r["reason"] for r in verdict["reasons"]), None)
            names = [reason["reason"] for reason in verdict["reasons"]]
            assert len(names) == len(set(names))
            main.update(names[:1])
            if names == ["does not address it"]:
                before = pressing(survey)
                unnamed += (not before and set(verdict["drops"]) <= safe) or (
                    before and verdict["natural"]
                )
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


def played(survey: Survey, verdict: MoveVerdict) -> list[chess.Board]:
    """The board before each move of the line, and the last."""
    board = chess.Board(survey["fen"])
    boards = [board.copy(stack=False)]
    for uci in verdict["line"] or ():
        board.push_uci(uci)
        boards.append(board.copy(stack=False))
    return boards


def bearing(board: chess.Board, square: int, side: chess.Color) -> set[int]:
    """Units of a side that bear on a square when all lines before them have been opened."""
    board = board.copy(stack=False)
    found: set[int] = set()
    while units := set(board.attackers(side, square)) | set(board.attackers(not side, square)):
        fresh = {unit for unit in units if board.piece_type_at(unit) != chess.KING}
        found |= {unit for unit in units if board.color_at(unit) == side}
        if not fresh:
            break
        for unit in fresh:
            board.remove_piece_at(unit)
    return found


def fault(survey: Survey, verdict: MoveVerdict, reason: Reason) -> str | None:
    """What is wrong with a reason by the rules library, if anything."""
    boards = played(survey, verdict)
    before, us = boards[0], boards[0].turn
    line = [chess.Move.from_uci(uci) for uci in verdict["line"] or ()]
    squares = [chess.parse_square(name) for name in reason["squares"]]
    after = boards[1]
    if not squares:
        return "no squares"
    match reason["reason"]:
        case "allows mate":
            if not boards[-1].is_checkmate() or squares[-1] != boards[-1].king(us):
                return "no mate"
            if set(squares[:-1]) != set(boards[-1].checkers()):
                return "others give it"
        case "walks into a capture":
            taken = [m for m in line[1::2] if m.to_square == line[0].to_square]
            if not taken or squares[1] != line[0].to_square:
                return "not taken there"
        case "the blocker falls":
            between = chess.SquareSet.between(squares[0], squares[2])
            if squares[1] not in between or squares[1] != line[0].to_square:
                return "not between"
        case "less valuable attacker":
            taker, unit = (after.piece_type_at(square) for square in squares)
            if taker is None or unit is None or not taker < unit:
                return "worth no less"
        case "outnumbered still":
            attackers = {s for s in squares[1:] if after.color_at(s) != us}
            guards = set(squares[1:]) - attackers
            if len(attackers) <= len(guards):
                return "not outnumbered"
            if not attackers <= bearing(after, squares[0], not us):
                return "an attacker that does not attack"
            if not guards <= bearing(after, squares[0], us):
                return "a guard that does not guard"
        case "guard pinned":
            slider, guard, behind, _ = squares
            if guard not in chess.SquareSet.between(slider, behind):
                return "not pinned"
        case "uncovers another unit":
            return uncovering_fault(boards, line, squares)
        case "two units attacked":
            if len(squares) < 2 or any(before.color_at(s) != us and s not in reached(line) for s in squares):
                return "fewer than two units"
        case "answered with a bigger threat" if squares[0] != line[1].to_square:
            return "not the reply"
        case "threat too small" if squares[0] != line[0].to_square:
            return "not the move"
    return None


def reached(line: list[chess.Move]) -> set[int]:
    return {m.to_square for m in line}


def uncovering_fault(
    boards: list[chess.Board], line: list[chess.Move], squares: list[int]
) -> str | None:
    """A guard that is gone, or a line opened by the square that was left."""
    before, us, left = boards[0], boards[0].turn, line[0].from_square
    rest = squares[1:]
    for square in {squares[0], rest[0]}:
        was = {line[0].to_square if s == left else s for s in bearing(before, square, us)}
        gone = was - bearing(boards[1], square, us)
        opened = any(
            left in chess.SquareSet.between(slider, square)
            for board in boards[1:3]
            for slider in board.attackers(not us, square)
        )
        if gone & set(rest) or opened or any(s in gone for s in rest):
            return None
    return "neither guard gone nor line opened"


@pytest.mark.slow
def test_reasons_agree_with_the_rules_library(surveys: list[Survey]) -> None:
    faults = [
        (survey["fen"], verdict["san"], reason, found)
        for survey, verdict, reason in falling(surveys)
        if (found := fault(survey, verdict, reason))
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
