"""The games of the invented club: what the committed file is, and that the script makes it."""

import csv
import itertools
import re
from pathlib import Path

import chess
import pytest

from fastness.intake import Game, read_games
from fastness.survey import page
from fastness.workflows.surveying import survey_position
from scripts import demo_students
from scripts.make_club import members
from scripts.make_demo_games import club_games

ROOT = Path(__file__).parents[1]
COMMITTED = ROOT / "demo" / "millrace.pgn"
with (ROOT / "tests" / "data" / "demo-habits.csv").open(encoding="utf-8", newline="") as file:
    HABITS = list(csv.DictReader(file))


@pytest.fixture(scope="module")
def games() -> list[Game]:
    read = list(read_games(COMMITTED))
    # A problem would say that the file is not legal throughout.
    found = [item for item in read if isinstance(item, Game)]
    assert found == read
    return found


def test_there_are_enough_games_of_a_club_length(games: list[Game]) -> None:
    assert len(games) >= 16
    assert all(20 <= (len(game.moves) + 1) // 2 <= 45 for game in games)


def test_only_the_club_plays(games: list[Game]) -> None:
    students = {student.name for student in demo_students.STUDENTS}
    assert {game.tags[side] for game in games for side in ("White", "Black")} == students
    assert all(game.tags["Event"].startswith("Millrace Chess Club ") for game in games)


def test_each_way_of_ending_occurs(games: list[Game]) -> None:
    assert {game.result for game in games} == {"1-0", "0-1", "1/2-1/2"}
    text = COMMITTED.read_text(encoding="ascii")
    assert all(ending in text for ending in ("Mate.", "resigned.", "Draw agreed."))


def test_about_half_the_games_have_clocks(games: list[Game]) -> None:
    clocked = [game for game in games if None not in game.clocks]
    assert 0.3 < len(clocked) / len(games) < 0.7
    assert all(set(game.clocks) == {None} for game in games if game not in clocked)


def test_there_are_variations_to_pass_over() -> None:
    assert "( " in COMMITTED.read_text(encoding="ascii")


def test_the_same_seed_gives_the_same_games() -> None:
    again = "".join(club_games(count=2))
    assert COMMITTED.read_text(encoding="ascii").startswith(again)


def test_another_seed_gives_other_games() -> None:
    first = next(club_games(seed=1, count=1))
    assert not COMMITTED.read_text(encoding="ascii").startswith(first)


def test_the_page_shown_in_the_readme_is_real() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(r'^\$ fastness survey "(.+?)"\n(.*?)^```$', readme, re.MULTILINE | re.DOTALL)
    assert found
    fen, shown = found.groups()
    answer = survey_position(fen, "", reach=3, firm=True, values="classical", ranks=True)
    assert shown.count("\n") > 20
    assert page(answer, moves_given=False).startswith(shown)


@pytest.mark.parametrize("row", HABITS, ids=lambda row: f"{row['habit']}: {row['reason']}")
def test_habit(row: dict[str, str]) -> None:
    board = chess.Board(row["fen"])
    *before, move = (chess.Move.from_uci(uci) for uci in row["move"].split())
    for earlier in before:
        board.push(earlier)
    after = board.copy()
    after.push(move)
    habit = getattr(demo_students, row["habit"])
    assert habit(board, move, after) == int(row["overlooks"])


def test_every_habit_has_a_row_for_and_against() -> None:
    habits = [student.habit for student in demo_students.STUDENTS]
    habits += [member.student.habit for member in members(1)]
    kinds = {habit.__name__ for habit in habits} - {"has_none"}
    by_habit = itertools.groupby(HABITS, key=lambda row: row["habit"])
    shown = {habit: {row["overlooks"] == "0" for row in rows} for habit, rows in by_habit}
    assert all(shown[kind] == {True, False} for kind in kinds)
