"""`fastness practice`: a student's week out of the store, and what is refused."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from fastness.cli import main
from fastness.exercises.exercise import KINDS
from fastness.store import Store, open_store, shelf
from fastness.store.students import add_group, add_student, student_named
from fastness.workflows.practising import practice_for
from fastness.workflows.shelving import correct, shelve
from tests.exercises.asked import BISHOP, KNIGHT, asked, safe_move
from tests.exercises.proofs import BISHOP_AND_ROOK
from tests.exercises.proofs import exercise as proved

WEEK = datetime.date(2026, 11, 30)


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Store:
    """A store with exercises and two students of a group, which is the default one."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "store.sqlite"))
    monkeypatch.setenv("LC_ALL", "C")
    opened = open_store(tmp_path / "store.sqlite")
    found = [asked(kind, fen) for fen in (BISHOP, KNIGHT) for kind in KINDS]
    shelve(opened, [*found, safe_move(), proved(BISHOP_AND_ROOK, "better way")])
    with opened.writing() as session:
        group = add_group(session, "Beginners")
        for name in ("Ada Fennimore", "Ben Okoro"):
            add_student(session, name, group)
    return opened


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["practice", *words])
    assert isinstance(left.value.code, int)
    return left.value.code


def numbers(store: Store, name: str, minutes: float = 60, week: datetime.date = WEEK) -> list[int]:
    made = practice_for(store, name, minutes, week=week).set
    return [one.item.exercise.number for one in made.asked]


def answered(store: Store, name: str, number: int, verdict: shelf.Verdict, days: int) -> None:
    with store.writing() as session:
        student = student_named(session, name)
        made = WEEK - datetime.timedelta(days=days)
        shelf.record_attempt(
            session, student, shelf.numbered(session, number), [], verdict, made=made
        )


@pytest.mark.usefixtures("store")
def test_pages_for_a_group(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended("--group", "Beginners", "--week", "2026-11-30", "--to", "week") == 0
    told = capsys.readouterr().out
    assert re.search(r"Ada Fennimore: 0 that come back, \d that are new, \d shown first", told)
    names = sorted(one.name for one in (tmp_path / "week").iterdir())
    assert names == sorted(
        f"practice-{name}{end}"
        for name in ("ada-fennimore", "ben-okoro")
        for end in (".pdf", ".html", "-answers.pdf")
    )
    page = "".join(
        one.extract_text() for one in PdfReader(tmp_path / "week/practice-ada-fennimore.pdf").pages
    )
    assert "First look at this" in page
    assert "Ben Okoro" not in page
    assert "%" not in page


def test_what_was_missed_comes_back_and_what_is_known_does_not(store: Store) -> None:
    first = numbers(store, "Ben Okoro")
    missed, known = first[0], first[1]
    answered(store, "Ben Okoro", missed, "wrong", 2)
    for days in (30, 28, 16, 1):
        answered(store, "Ben Okoro", known, "right", days)
    made = practice_for(store, "Ben Okoro", 60, week=WEEK).set
    due = [one.item.exercise.number for one in made.asked if one.why == "due"]
    assert due == [missed]
    assert known not in numbers(store, "Ben Okoro")
    # Nobody else's week changes.
    assert numbers(store, "Ada Fennimore") == first


def test_what_the_teacher_struck_is_given_to_nobody(store: Store) -> None:
    struck = numbers(store, "Ben Okoro")[0]
    answered(store, "Ben Okoro", struck, "wrong", 2)
    correct(store, struck, "strike", "two answers are as good")
    made = practice_for(store, "Ben Okoro", 60, week=WEEK).set
    every = [one.item.exercise.number for one in made.asked]
    every += [one.exercise.number for one in made.shown]
    assert struck not in every


def test_the_same_week_is_the_same(store: Store, tmp_path: Path) -> None:
    for folder in ("one", "two"):
        assert ended("Ada Fennimore", "--week", "2026-11-30", "--to", folder) == 0
    for one in sorted((tmp_path / "one").iterdir()):
        assert one.read_bytes() == (tmp_path / "two" / one.name).read_bytes()
    assert numbers(store, "Ada Fennimore") == numbers(store, "Ada Fennimore")


@pytest.mark.usefixtures("store")
def test_in_german(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended("Ada Fennimore", "--language", "de", "--to", "woche") == 0
    assert "Ada Fennimore: 0 kommen wieder" in capsys.readouterr().out
    assert (tmp_path / "woche/practice-ada-fennimore.pdf").exists()


@pytest.mark.usefixtures("store")
@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "Give students by name, or --group and its name."),
        (["Ada Fennimore", "--group", "Beginners"], "Give students by name, or --group"),
        (["Nobody"], "Nobody"),
        (["--group", "Nobodies"], "Nobodies"),
        (["Ada Fennimore", "--minutes", "0"], "1 to 120 minutes"),
        (["Ada Fennimore", "--week", "monday"], "monday"),
    ],
)
def test_what_cannot_be(
    words: list[str], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(*words) == 2
    said = capsys.readouterr().err
    assert told in said
    assert "Traceback" not in said
    assert not list(tmp_path.glob("practice-*"))


def test_an_empty_shelf(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "empty.sqlite"))
    with open_store(tmp_path / "empty.sqlite").writing() as session:
        add_student(session, "Ada Fennimore")
    assert ended("Ada Fennimore") == 2
    assert "fastness mine" in capsys.readouterr().err
