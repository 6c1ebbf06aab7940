"""`fastness shelf`: what is listed, shown, corrected and fitted."""

import json
from pathlib import Path

import pytest

from fastness.cli import main
from fastness.exercises.shelving import as_candidate, as_exercise
from fastness.store import Store, open_store, shelf, students
from fastness.workflows.shelving import shelve
from tests.exercises.proofs import BISHOP, BISHOP_AND_ROOK, BY_TACTICS, exercise
from tests.workflows.test_report_languages import ENGLISH_WORDS

GAME = "Weirwater, Ada - Flourdust, Ivy, 2026.09.07"


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Store:
    """A store with four exercises, which is the default one."""
    place = tmp_path / "store.sqlite"
    monkeypatch.setenv("FASTNESS_STORE", str(place))
    monkeypatch.setenv("LC_ALL", "C")
    opened = open_store(place)
    found = [
        exercise(BISHOP, "every move", game=GAME),
        exercise(BISHOP_AND_ROOK, "better way"),
        exercise(BY_TACTICS, "which unit"),
        exercise(BISHOP, "why it fails", "b7b5"),
    ]
    assert shelve(opened, found) == 4
    assert shelve(opened, found) == 0
    return opened


def run(*words: str, status: int = 0) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["shelf", *words])
    assert ended.value.code == status


def test_what_comes_back_is_what_was_put_there(store: Store) -> None:
    with store.reading() as session:
        row = shelf.numbered(session, 1)
        assert as_exercise(row) == exercise(BISHOP, "every move", game=GAME)
        assert [as_candidate(one).unsafe for one in shelf.find(session)] == [
            True, True, False, True,
        ]  # fmt: skip


@pytest.mark.usefixtures("store")
def test_list_as_a_table_and_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    run("list", "--mechanism", "fork", "--mechanism", "outnumbered", "--kind", "every move")
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 2
    assert lines[0].split()[:3] == ["No.", "Level", "Question"]
    assert BISHOP in lines[1]
    run("list", "--least", "1", "--json", "--source", "composed")
    rows = json.loads(capsys.readouterr().out)
    assert [row["number"] for row in rows] == [2, 3, 4]
    run("list", "--unit", "queen")
    assert "No exercise on the shelf fits." in capsys.readouterr().out


@pytest.mark.usefixtures("store")
def test_show_an_exercise_with_its_answer(capsys: pytest.CaptureFixture[str]) -> None:
    run("show", "1")
    told = capsys.readouterr().out
    assert "Find every move after which" in told
    assert f"From {GAME}, move 6." in told
    assert "Bd6" in told.split("Right: ")[1].splitlines()[0]
    run("show", "3")
    assert "Right: none." in capsys.readouterr().out
    run("show", "4")
    told = capsys.readouterr().out
    assert "play after" in told
    assert "Right: Bxb5." in told
    run("show", "9", status=2)
    assert "no exercise 9" in capsys.readouterr().err


@pytest.mark.usefixtures("store")
def test_in_german(capsys: pytest.CaptureFixture[str]) -> None:
    run("overrule", "1", "Bd6", "not judged", "Ansichtssache")
    capsys.readouterr()
    run("list", "--language", "de")
    head, *rows = capsys.readouterr().out.splitlines()
    assert head.split() == ["Nr.", "Stufe", "Frage", "Voraus", "Halten", "Ursachen", "Stellung"]
    assert "jeder Zug" in rows[0]
    run("list", "--unit", "queen", "--language", "de")
    assert capsys.readouterr().out == "Keine Aufgabe im Regal passt.\n"
    told = []
    for number in ("1", "2", "3", "4"):
        run("show", number, "--language", "de")
        told.append(capsys.readouterr().out)
    assert "Finde alle Züge, nach denen Schwarz nichts verliert." in told[0]
    assert "Ld6 wird nicht gewertet: Ansichtssache" in told[0]
    assert "Zählt weder für noch gegen dich: Ld6" in told[0]
    assert "Richtig: keine." in told[2]
    assert "Richtig: Lxb5." in told[3]
    for page in told:
        assert not ENGLISH_WORDS.findall(page.replace(GAME, "")), page


def test_strike_comment_overrule_take_back(
    store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    run("strike", "2", "too hard for Monday")
    run("comment", "1", "nice")
    run("overrule", "1", "Bd6", "not judged", "a matter of taste")
    run("overrule", "1", "b5", "right", "it sets a trap")
    with store.reading() as session:
        row = shelf.numbered(session, 1)
        corrected = as_exercise(row)
        assert "e5d6" in row.accepted
        assert "e5d6" not in corrected.accepted
        assert corrected.not_judged == ("e5d6",)
        assert corrected.accepted[-1] == "b7b5"
        assert len(shelf.find(session)) == 3
    capsys.readouterr()
    run("show", "1")
    assert "Bd6 is not judged: a matter of taste" in capsys.readouterr().out
    run("list", "--struck")
    assert "(struck)" in capsys.readouterr().out
    run("take-back", "2", "1")
    with store.reading() as session:
        assert len(shelf.find(session)) == 4
    for words, told in (
        (("overrule", "1", "Kh3", "right", "why"), "no legal move here"),
        (("overrule", "3", "e4", "right", "why"), "no square of a unit"),
        (("strike", "1", " "), "needs its reason"),
    ):
        run(*words, status=2)
        assert told in capsys.readouterr().err


def test_fit_moves_what_was_tried(store: Store, capsys: pytest.CaptureFixture[str]) -> None:
    with store.writing() as session:
        one, two = shelf.numbered(session, 1), shelf.numbered(session, 2)
        before = one.difficulty, two.difficulty
        for number in range(8):
            student = students.add_student(session, f"Student {number}")
            shelf.record_attempt(session, student, one, [], "wrong")
    run("fit")
    assert "Fitted 1 exercises from 8 first answers." in capsys.readouterr().out
    with store.reading() as session:
        one, two = shelf.numbered(session, 1), shelf.numbered(session, 2)
        assert one.difficulty > before[0] + 0.5
        assert one.error is not None
        assert (two.difficulty, two.error) == (before[1], None)
    run("show", "1")
    assert "logits from attempts (standard error" in capsys.readouterr().out
