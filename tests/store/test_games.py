"""Games are kept once, and what is found in them for each student."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.errors import StudentError
from fastness.intake import Game, read_games
from fastness.store.games import identity
from fastness.store.safekeeping import check, count
from fastness.store.students import add_alias, add_student, near, student_named
from fastness.workflows.recording import record_of
from tests.store.material import ADA, IVY, MOVES, TOM, brought_in, pgn, some_games
from tests.store.places import Places


def test_games_are_brought_in_once(places: Places, tmp_path: Path) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(some_games(6), encoding="utf-8")
    first, again = brought_in(store, file), brought_in(store, file)
    assert [one.new for one in first] == [True] * 6
    assert [one.done_before for one in again] == [True] * 6
    held = count(store)
    assert (held["game"], held["seat"], held["student"]) == (6, 12, 3)
    assert held["occasion"] == sum(one.occasions for one in first) > 0
    assert check(store) == []


@pytest.mark.parametrize(
    "other",
    [
        pgn(ADA, IVY, MOVES[1], event="Another event"),
        pgn("Ada Weirwater", "ivy  flourdust", MOVES[1]),
        pgn(ADA, IVY, MOVES[1], date="????.??.??"),
        pgn(ADA, IVY, MOVES[1].replace("e6", "e6 $1 {a remark} (2... c6)")),
    ],
)
def test_the_same_game_with_other_tags_is_one_game(
    places: Places, tmp_path: Path, other: str
) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    for text in (pgn(ADA, IVY, MOVES[1]), other):
        file.write_text(text, encoding="utf-8")
        brought_in(store, file)
    assert count(store)["game"] == 1


@pytest.mark.parametrize(
    "other",
    [
        pgn(ADA, TOM, MOVES[1]),
        pgn(IVY, ADA, MOVES[1]),
        pgn(ADA, IVY, MOVES[2]),
        pgn(ADA, IVY, MOVES[1], date="2026.09.14"),
    ],
)
def test_other_players_moves_or_days_are_other_games(
    places: Places, tmp_path: Path, other: str
) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(pgn(ADA, IVY, MOVES[1]) + other, encoding="utf-8")
    brought_in(store, file)
    assert count(store)["game"] == 2


def test_a_record_is_read_back(places: Places, tmp_path: Path) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(some_games(6), encoding="utf-8")
    brought_in(store, file)
    record = record_of(store, "ivy flourdust")
    assert (record.name, record.group, len(record.games)) == (IVY, "Monday", 4)
    assert record.diagnosis.episodes > 0


def test_a_name_means_one_student(places: Places) -> None:
    store = places.open()
    with store.writing() as session:
        add_student(session, ADA)
        add_student(session, IVY)
        with pytest.raises(StudentError, match="already"):
            add_student(session, "Ada Weirwater")
        add_alias(session, student_named(session, ADA), "A. W.")
        with pytest.raises(StudentError, match="a name of"):
            add_alias(session, student_named(session, IVY), "A. W.")
        with pytest.raises(StudentError, match="Weirwater, Ada"):
            student_named(session, "Ada Weirwatter")


@pytest.mark.parametrize(
    ("name", "alike"),
    [("Weirwater, A.", [ADA]), ("Weirwatter, Ada", [ADA]), ("Flourdust", [IVY]), ("Smith, Jo", [])],
)
def test_names_that_may_be_a_students(name: str, alike: list[str]) -> None:
    assert near(name, [ADA, IVY, TOM]) == alike


@settings(max_examples=50)
@given(st.permutations(["Event", "Site", "Round", "Date"]))
def test_identity_does_not_hang_on_tags(order: list[str]) -> None:
    moves = ("e2e4", "e7e5")
    tags = {"White": ADA, "Black": IVY} | {name: name for name in order}
    start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
    plain = Game("", 1, 1, {"White": ADA, "Black": IVY}, start, moves, (None, None), "*")
    full = Game("x", 7, 9, tags, start, moves, (1.0, 2.0), "1-0")
    assert identity(plain) == identity(full)


def test_games_of_the_history_are_all_different() -> None:
    table = Path(__file__).parents[1] / "data" / "historic.pgn"
    games = [game for game in read_games(table) if isinstance(game, Game)]
    assert len({identity(game) for game in games}) == len(games) == 211
