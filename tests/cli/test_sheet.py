"""`fastness sheet`: sheets from the shelf, what stands in the folder, and what is refused."""

import random
import re
from pathlib import Path

import pytest
from chess import Board

from fastness.cli import main
from fastness.exercises.exercise import KINDS
from fastness.store import Store, open_store, shelf
from fastness.workflows.shelving import correct, shelve
from tests.exercises.asked import BISHOP, KNIGHT, asked, safe_move
from tests.exercises.proofs import BISHOP_AND_ROOK, BY_TACTICS, exercise

STRANGE = "\U00101234"
"""A private character of the last plane: no type face has it."""


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Store:
    """A store with exercises of all levels, which is the default one."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "store.sqlite"))
    monkeypatch.setenv("LC_ALL", "C")
    opened = open_store(tmp_path / "store.sqlite")
    found = [asked(kind, fen) for fen in (BISHOP, KNIGHT) for kind in KINDS]
    found += [safe_move(), exercise(BISHOP_AND_ROOK, "better way")]
    shelve(opened, [*found, exercise(BY_TACTICS, "which unit")])
    return opened


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["sheet", *words])
    assert isinstance(left.value.code, int)
    return left.value.code


def levels(store: Store) -> dict[int, str]:
    with store.reading() as session:
        return {row.id: row.level for row in shelf.find(session)}


@pytest.mark.usefixtures("store")
def test_a_folder_of_sheets(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended("--count", "2", "--title", "Look twice", "--to", "theme", "--sources") == 0
    told = capsys.readouterr().out
    taken = dict(re.findall(r"^(\w+): exercises ([\d, ]+)", told, re.MULTILINE))
    known = levels(store)
    for level, numbers in taken.items():
        assert {known[int(number)] for number in numbers.split(", ") if number} == {level}
    folder = tmp_path / "theme"
    files = {path.name for path in folder.iterdir()}
    assert files == {
        *(f"{kind}-{level}.pdf" for level in taken for kind in ("sheet", "answers")),
        "exercises.epd",
        "exercises.pgn",
    }
    assert set(re.findall(r"^theme/(\S+)$", told, re.MULTILINE)) == files
    for path in folder.glob("*.pdf"):
        assert path.read_bytes().startswith(b"%PDF-")
    lines = (folder / "exercises.epd").read_text("ascii").splitlines()
    assert all(Board().set_epd(line)["id"] for line in lines)
    games = (folder / "exercises.pgn").read_text("latin-1")
    assert (
        games.count('[Event "Look twice"]')
        == len(lines)
        == sum(len(re.findall(r"\d+", numbers)) for numbers in taken.values())
    )
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert ended("--count", "2", "--title", "Look twice", "--to", "theme", "--sources") == 0
    assert before == {path.name: path.read_bytes() for path in folder.iterdir()}


def test_by_filter_and_by_number(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended("--kind", "every move", "--paper", "us-letter", "--large", "--to", "a") == 0
    told = capsys.readouterr().out
    assert "6 were asked for, and no others fit" in told
    with store.reading() as session:
        fits = {one.id for one in shelf.find(session, shelf.Wanted(kind=["every move"]))}
    first = told.partition("a/")[0]
    listed = re.findall(r"exercises ([\d, ]+)", first)
    assert {int(number) for one in listed for number in re.findall(r"\d+", one)} == fits
    numbers = list(levels(store))
    random.Random(4).shuffle(numbers)
    asked_for = [str(number) for number in numbers[:5]]
    assert ended(*asked_for, "--side-by-side", "--blanks", "1", "--to", "b") == 0
    assert {path.name for path in (tmp_path / "b").glob("*.pdf")} == {"sheet.pdf", "answers.pdf"}
    told = capsys.readouterr().out
    taken = [
        number for one in re.findall(r"exercises ([\d, ]+)", told) for number in one.split(", ")
    ]
    assert sorted(taken) == sorted(asked_for)
    # Within a level they stand in the order given.
    known = levels(store)
    assert taken == sorted(
        asked_for, key=lambda number: ("plain", "club", "stretch").index(known[int(number)])
    )


@pytest.mark.usefixtures("store")
def test_in_german(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked_for = ("--count", "1", "--mechanism", "unguarded", "--mechanism", "fork")
    assert ended(*asked_for, "--to", "de", "--language", "de") == 0
    told = capsys.readouterr().out
    assert re.search(r"^(einfach|Verein|knifflig): Aufgaben \d+$", told, re.MULTILINE)
    assert ended(*asked_for, "--to", "en", "--title", "Ungedeckt, Gabel") == 0
    names = sorted(path.name for path in (tmp_path / "en").iterdir())
    assert names == sorted(path.name for path in (tmp_path / "de").iterdir())
    german, english = (tmp_path / one / "exercises.epd" for one in ("de", "en"))
    assert german.read_bytes() == english.read_bytes()
    games = (tmp_path / "de" / "exercises.pgn").read_text("utf-8")
    assert '[Event "Ungedeckt, Gabel"]' in games
    assert " am Zug. " in games


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--mechanism", "promotion"), "No exercise on the shelf fits"),
        (("--least", "5", "--most", "2"), "at least 5 and at most 2"),
        (("1", "999"), "no exercise 999"),
        (("1", "--level", "club"), "not both"),
        (("2",), "Exercise 2 is struck"),
        (("--count", "21"), "--count"),
        (("--title", "x" * 121), "at most 120"),
        (("--title", STRANGE), "no type face on this machine has the letters"),
        (("--to", "store.sqlite"), "a folder is wanted"),
        (("--to", "store.sqlite/sheets"), "cannot be written"),
        (("--level", "master"), "--level"),
        (("--paper", "a3"), "--paper"),
    ],
)
def test_what_cannot_be_is_told_in_one_message(
    store: Store,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    told: str,
) -> None:
    correct(store, 2, "strike", "too hard for Monday")
    before = sorted(path.name for path in tmp_path.iterdir())
    assert ended(*words) == 2
    said = capsys.readouterr()
    assert told in said.err
    assert said.err.startswith("fastness: ")
    assert "Traceback" not in said.err
    assert not said.out
    assert sorted(path.name for path in tmp_path.iterdir()) == before


def test_an_empty_shelf_says_how_to_fill_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "store.sqlite"))
    assert ended("--to", str(tmp_path / "sheets")) == 2
    assert "The shelf is empty" in capsys.readouterr().err
    assert not (tmp_path / "sheets").exists()
