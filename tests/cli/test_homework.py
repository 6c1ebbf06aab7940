"""`fastness homework` as it is used: handed out, marked from codes, files and paper, refused."""

import re
from pathlib import Path

import pytest

from fastness.cli import main
from fastness.practice.choices import as_one_number, in_order
from fastness.practice.code import read_word, write_code
from fastness.store import Store, open_store, students
from fastness.workflows.homework import list_homework, show
from fastness.workflows.homework_told import HomeworkTold
from fastness.workflows.shelving import shelve
from tests.exercises.asked import BISHOP, asked
from tests.store.material import IVY, TOM

EXERCISES = (asked("which unit"), asked("every move", BISHOP), asked("is it safe"))


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Store:
    """A store with two students and three exercises, which is the default one."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "store.sqlite"))
    monkeypatch.setenv("LC_ALL", "C")
    opened = open_store(tmp_path / "store.sqlite")
    shelve(opened, [*EXERCISES])
    with opened.writing() as session:
        group = students.add_group(session, "Evening group")
        for name in (IVY, TOM):
            students.add_student(session, name, group)
    return opened


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["homework", *words])
    assert isinstance(left.value.code, int)
    return left.value.code


def made(store: Store, *words: str) -> HomeworkTold:
    """Homework handed out by the command, of the three exercises."""
    plain = ("make", "1", "2", "3", "--to", "out", "--due", "2099-12-03", "--title", "Pins")
    assert ended(*plain, *(words or ("--group", "Evening group"))) == 0
    return show(store, list_homework(store)[0].number)


def code_of(told: HomeworkTold, at: int) -> str:
    """The code of a student who answers everything right."""
    number, key = read_word(told.students[at].word)
    answers = [in_order(one, one.accepted) for one in EXERCISES]
    return write_code(told.row.number, number, key, as_one_number(EXERCISES, answers))


def test_from_handing_out_to_the_grid(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = made(store)
    number = str(told.row.number)
    printed = capsys.readouterr().out.splitlines()
    assert printed == [
        f"{number}  Pins, Evening group, due on 2099-12-03: came back from 0 of 2",
        *(f"out/{name}" for name in ("homework.html", "slips.pdf", "sheet.pdf", "answers.pdf")),
    ]
    code = code_of(told, 0)
    assert ended("mark", code, "--to", "back") == 0
    assert capsys.readouterr().out.splitlines() == [
        "Flourdust, Ivy: Pins; right 1, 2, 3",
        f"back/result-{number}-Flourdust-Ivy.pdf",
        f"back/grid-{number}.pdf",
    ]
    assert (tmp_path / "back" / f"grid-{number}.pdf").read_bytes().startswith(b"%PDF")
    assert ended("mark", *code.split("-")) == 0
    assert "this was there already; nothing is changed" in capsys.readouterr().out
    assert ended("show") == 0
    assert "came back from 1 of 2" in capsys.readouterr().out
    assert ended("show", number, "--language", "de") == 0
    shown = capsys.readouterr().out
    assert "| Flourdust, Ivy | richtig | richtig | richtig |" in shown
    assert f"Millpondle, Tom: das Wort {told.students[1].word}" in shown


def test_a_file_of_codes_with_a_bad_line_costs_the_others_nothing(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = made(store)
    capsys.readouterr()
    bad = code_of(told, 0)[:-1]
    (tmp_path / "codes.txt").write_text(f"Ivy: {bad}\n\nTom: {code_of(told, 1)}\n", "utf-8")
    assert ended("mark", "codes.txt") == 2
    printed = capsys.readouterr()
    assert printed.out == "Millpondle, Tom: Pins; right 1, 2, 3\n"
    # A missing letter slips past the checksum once in a while, and the seal refuses it then.
    refused = r"has a letter that is not right|is of no student"
    assert re.match(rf"fastness: codes\.txt:1: .*(?:{refused})", printed.err)


def test_sheets_on_paper(store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    number = str(made(store).row.number)
    capsys.readouterr()
    assert ended("mark", "--paper", number, "--student", IVY, "-", "o", "a") == 0
    assert "open 1, 2" in capsys.readouterr().out
    (tmp_path / "sheets.txt").write_text("Millpondle, Tom: a o a\nNobody: a a a\n", "utf-8")
    assert ended("mark", "--paper", number, "sheets.txt", "--to", "back", "--form", "md") == 2
    printed = capsys.readouterr()
    assert "Millpondle, Tom: Pins; " in printed.out
    assert 'sheets.txt:2: there is no student "Nobody"' in printed.err
    assert "You saw this" in (tmp_path / "back" / f"result-{number}-Millpondle-Tom.md").read_text()


def test_a_choice_for_some_students(store: Store, capsys: pytest.CaptureFixture[str]) -> None:
    words = ("--student", "Tom Millpondle", "--to", "out", "--due", "2099-12-03", "--count", "2")
    assert ended("make", *words, "--kind", "which unit", "--kind", "is it safe") == 0
    (row,) = list_homework(store)
    assert (row.title, row.group, row.students) == ("Homework for 2099-12-03", None, 1)
    (asked_for,) = show(store, row.number).exercises
    assert asked_for.kind in ("which unit", "is it safe")
    printed = capsys.readouterr()
    assert "some students" in printed.out
    # Both stand on one position, and a balanced choice takes each position once.
    assert printed.err == "2 exercises were asked for; 1 fit that differ enough\n"


@pytest.mark.usefixtures("store")
@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("make 1 --to out --due 2099-12-03", "no student was named"),
        ("make 1 --to out --due 2001-12-03 --group Evening_group", "before it is handed out"),
        ("make 1 --to out --due tomorrow --group Evening_group", "tomorrow"),
        ("make 1 --count 2 --to out --due 2099-12-03 --group Evening_group", "one of them"),
        ("make 9 --to out --due 2099-12-03 --group Evening_group", "no exercise 9"),
        ("make --mechanism skewer --to out --due 2099-12-03 --group Evening_group", "fits"),
        ("mark --papr 9 a", "Unknown option --papr"),
        ("make --week . --to out --due 2099-12-03 --group Evening_group", "a week wrote"),
        ("make --lesson none.md --to out --due 2099-12-03 --group Evening_group", "none.md"),
        ("mark", "Nothing to mark"),
        ("mark K4HM-7XAC-2222-2222", "has a letter that is not right"),
        ("mark K0HM", 'no code has "0" in it'),
        ("mark K4HM-7XAC --student Ivy", "only with --paper"),
        ("mark --paper 9 --student Ivy a", "no homework 9"),
        ("mark --paper 9 a", "says not whose it is"),
        ("show 9", "no homework 9"),
    ],
)
def test_what_cannot_be_is_told_in_one_message(
    words: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(*(word.replace("_", " ") for word in words.split())) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert told in printed.err
    assert "Traceback" not in printed.err
