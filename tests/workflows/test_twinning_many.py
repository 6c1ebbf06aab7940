"""Twins of many positions: what is read, what is found, and where it goes."""

from __future__ import annotations

import gzip
from functools import cache
from pathlib import Path

import chess
import pytest
from pypdf import PdfReader

from fastness.errors import FileError, InputError
from fastness.exercises.exercise import Source
from fastness.exercises.pairs import Pair
from fastness.intake import Problem
from fastness.language import language
from fastness.publish import text
from fastness.publish.document import Beside
from fastness.publish.sheet import Layout
from fastness.store import open_store, shelf
from fastness.survey.position import position_key
from fastness.workflows.sheet_making import make_sheets
from fastness.workflows.twinning_many import (
    Looked,
    Place,
    is_file,
    paired,
    places_in,
    places_on_shelf,
    twins_of_many,
)
from fastness.workflows.twinning_to import PairFile, PairFolder, PairShelf
from tests.exercises.test_twins import PINNED_KNIGHT, QUIET

DEMO = Path(__file__).parents[2] / "demo" / "millrace.pgn"
LONG = 600.0
"""Seconds that are never used up."""
SOURCE = Source("game", "Millrace Chess Club, game 4", 12)


@cache
def looked() -> Looked:
    return paired(Place(PINNED_KNIGHT, SOURCE), count=1, seconds=LONG, values="classical")


def pair() -> Pair:
    (found,) = looked().pairs
    return found


def test_a_pair_asks_the_same_of_both_and_has_two_answers() -> None:
    found = pair()
    assert found.told().startswith("With the pawn on a3 instead of on a2")
    assert (found.twin.source.of, found.twin.source.game) == (PINNED_KNIGHT, SOURCE.game)
    assert found.first.source == SOURCE
    assert found.exercises
    for one, other in found.exercises:
        assert (one.kind, one.asked) == (other.kind, other.asked)
        assert one.accepted != other.accepted
    (safe,) = (both for both in found.exercises if both[0].kind == "is it safe")
    assert [one.accepted for one in safe] == [("yes",), ("no",)]
    assert safe[0].asked == "c5b4"


def test_nothing_comes_of_a_quiet_position() -> None:
    place = Place(QUIET, Source("composed"))
    assert paired(place, count=1, seconds=LONG, values="classical") == Looked(place, ())


def test_a_proof_that_is_there_is_not_made_again() -> None:
    place = Place(PINNED_KNIGHT, SOURCE, pair().first)
    (found,) = paired(place, count=1, seconds=LONG, values="classical").pairs
    assert found.first is place.proved
    assert found.twin == pair().twin


@pytest.mark.parametrize(
    ("word", "names"),
    [("a.pgn", True), ("b.EPD.gz", True), ("c.fen.zst", True), ("d.txt", False), ("8/8/8", False)],
)
def test_files_are_known_by_their_end(word: str, names: bool) -> None:
    assert is_file(word) == names


def test_a_bad_line_is_told_by_number_and_the_rest_is_read(tmp_path: Path) -> None:
    path = tmp_path / "positions.epd.gz"
    epd = " ".join(PINNED_KNIGHT.split()[:4])
    lines = ["# twins", f"{epd} hmvc 0; fmvn 6;", "", "8/8 w", "8/8/8/8/8/8/8/8 w - -", QUIET]
    with gzip.open(path, "wt", encoding="utf-8") as file:
        file.write("\n".join(lines))
    found = list(places_in([path, tmp_path / "no.epd"]))
    assert [one.fen for one in found if isinstance(one, Place)] == [PINNED_KNIGHT, QUIET]
    problems = [one for one in found if isinstance(one, Problem)]
    assert [one.line for one in problems] == [4, 5, 0]
    assert "line 4" in problems[0].message
    assert "no.epd: cannot be opened" in problems[2].message


def test_of_games_those_positions_come_where_something_is_in_danger() -> None:
    found = [one for one in places_in([DEMO]) if isinstance(one, Place)]
    assert len(found) > 50
    assert all("millrace.pgn, game " in one.source.game for one in found)
    assert not any(chess.Board(one.fen).is_check() for one in found)


def test_in_processes_in_order_and_what_is_known_is_passed_over() -> None:
    problem = Problem("a.epd", None, 3, "a.epd: line 3: nonsense", "error")
    quiet = Place(QUIET, Source("composed"))
    places: list[Place | Problem] = [problem, quiet, Place(PINNED_KNIGHT, SOURCE), quiet]
    known = {position_key(PINNED_KNIGHT)}
    found = list(twins_of_many(places, seconds=LONG, processes=1, known=known))
    assert found == [problem, Looked(quiet, ())]


def test_the_shelf_knows_what_has_a_twin(tmp_path: Path) -> None:
    into = PairShelf(open_store(tmp_path / "store.sqlite"))
    try:
        assert into.keep(pair()) == len(pair().all_exercises())
        assert into.keep(pair()) == 0
        assert into.known() == {position_key(PINNED_KNIGHT)}
        with into.store.reading() as session:
            made = [row.made for row in shelf.find(session)]
        assert set(made) == {"game", "twin"}
        (place,) = places_on_shelf(into.store)
        assert place.fen == PINNED_KNIGHT
        assert place.proved is not None
    finally:
        into.store.close()


def test_a_file_gives_back_the_pairs_and_a_cut_line_costs_one_line(tmp_path: Path) -> None:
    into = PairFile(tmp_path / "twins.jsonl")
    assert into.known() == frozenset()
    into.keep(pair())
    with into.file.path.open("a") as cut:
        cut.write('{"version": 1, "sur')
    again = PairFile(tmp_path / "twins.jsonl")
    assert again.known() == {position_key(PINNED_KNIGHT)}
    assert list(again.pairs()) == [pair()]


def test_another_line_in_the_file_is_refused_by_number(tmp_path: Path) -> None:
    (tmp_path / "twins.jsonl").write_text("nonsense\n")
    with pytest.raises(InputError, match="line 1"):
        PairFile(tmp_path / "twins.jsonl").known()


def test_a_folder_has_sheets_answers_epd_and_pgn(tmp_path: Path) -> None:
    into = PairFolder(tmp_path / "twins")
    assert into.finish() == []
    into.keep(pair())
    names = [path.name for path in into.finish()]
    assert names[0] == "positions.jsonl"
    assert names[3:] == ["exercises.epd", "exercises.pgn"]
    sheet, answers = (text_of(tmp_path / "twins" / name) for name in names[1:3])
    assert "One thing is different from 1." in sheet
    assert "instead" not in sheet
    assert pair().told() in answers
    first, second = (tmp_path / "twins" / "exercises.epd").read_text("utf-8").splitlines()
    for line, fen, name in ((first, PINNED_KNIGHT, "1a"), (second, pair().twin.fen, "1b")):
        board = chess.Board()
        assert board.set_epd(line)["id"] == name
        assert board.fen(en_passant="fen") == fen


def test_a_sheet_from_the_shelf_tells_what_the_change_of_a_twin_does(tmp_path: Path) -> None:
    store = open_store(tmp_path / "store.sqlite")
    PairShelf(store).keep(pair())
    with store.reading() as session:
        rows = [(row.level, row.made, row.id) for row in shelf.find(session)]
    levels = [{level for level, made, _ in rows if made == one} for one in ("game", "twin")]
    level = min(set.intersection(*levels))
    first, twin = (
        next(number for where, made, number in rows if (where, made) == (level, one))
        for one in ("game", "twin")
    )
    german = language("de")
    (both,) = make_sheets(store, "Twins", [first, twin], Layout(language=german))
    told = [block.texts for block in both.answers.blocks if isinstance(block, Beside)]
    assert told[1][1] == pair().told(german)
    assert pair().told(german) not in told[0]
    assert "Eine Einzelheit ist anders als bei 1." in text(both.questions)
    (alone,) = make_sheets(store, "Twins", [twin], Layout(language=german))
    assert pair().told(german) not in text(alone.answers)


def text_of(path: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(FileError, match="file"):
        PairFolder(tmp_path / "file" / "twins")
