"""What a class board begins with."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pytest

from fastness.classroom.preparing import begin, given, of_exercises, of_text, of_week, read_move
from fastness.errors import InputError, MissingError, MoveError, PositionError
from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.store import open_store
from fastness.workflows.shelving import shelve
from fastness.workflows.week_desk import PositionTold, TwinTold, WeekTold
from tests.classroom.boards import FEW, GUARDED, PINNED, QUIET, TRADE


def test_a_position_keeps_how_it_came_about() -> None:
    position = given(TRADE, "3...Nc6 4.Bxc6")
    assert (position.start, position.moves) == (TRADE, ("b8c6", "b5c6"))
    assert position.fen.startswith("r1bqkbnr/1ppp1ppp/p1B5/")


def test_nothing_to_begin_with_is_told() -> None:
    with pytest.raises(InputError, match="needs a position"):
        begin(1, "", [])


@pytest.mark.parametrize(
    ("fen", "error"),
    [
        ("8/8/8/8/8/8/8/8 w - - 0 1", PositionError),
        ("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", InputError),
        ("e4 e5", PositionError),
    ],
)
def test_what_cannot_be_tried_in_is_refused(fen: str, error: type[Exception]) -> None:
    with pytest.raises(error):
        given(fen)


def test_a_file_of_positions_has_one_a_line() -> None:
    found = of_text(f'{GUARDED}\n\n{FEW[:-4]} id "No. 2";\n')
    assert [one.fen for one in found] == [GUARDED, FEW]
    with pytest.raises(PositionError, match=r"^Line 2: "):
        of_text(f"{GUARDED}\nnothing\n")


def test_the_file_of_a_week_gives_positions_and_twins_and_no_name() -> None:
    told = {
        "positions": [
            {"fen": GUARDED, "student": "Flourdust, Ivy", "twin": {"fen": PINNED, "text": "..."}},
            {"fen": FEW, "student": "Millpondle, Tom", "twin": None},
        ]
    }
    found = of_text(json.dumps(told))
    assert [(one.fen, one.origin, one.of) for one in found] == [
        (GUARDED, "week", 1),
        (PINNED, "twin", 1),
        (FEW, "week", 2),
    ]
    assert "Ivy" not in repr(found)
    with pytest.raises(InputError, match=r"no week\.json"):
        of_text('{"positions": 3}')


def test_the_file_of_a_lesson_gives_questions_and_notes_of_a_bearable_length() -> None:
    told = {"start": GUARDED, "note": "word " * 2000, "answers": ["Not safe: a."], "asked": {}}
    (found,) = of_text(json.dumps({"kind": "class board", "positions": [told]}))
    assert (found.fen, found.moves, found.asked) == (GUARDED, (), {})
    assert found.note.endswith("word …")
    assert len(found.note) <= 4000
    (short,) = of_text(
        json.dumps({"kind": "class board", "positions": [{**told, "note": "Ask first."}]})
    )
    assert short.note == "Ask first.\n\nNot safe: a."


WRONG_LESSONS: tuple[tuple[dict[str, object], str], ...] = (
    ({"positions": [{"moves": []}]}, r"positions\.0\.start"),
    ({"positions": 3}, "positions"),
    ({}, "positions"),
    ({"positions": [{"start": GUARDED, "asked": {"xx": "?"}}]}, r"asked\.xx"),
    ({"positions": [{"start": GUARDED}] * 201}, "at most 200 positions"),
)


@pytest.mark.parametrize(("told", "says"), WRONG_LESSONS)
def test_a_file_that_no_lesson_wrote_is_refused(told: dict[str, object], says: str) -> None:
    with pytest.raises(InputError, match=says):
        of_text(json.dumps({"kind": "class board", **told}))


def of_the_week(fen: str, twin: str | None, *, taken: bool) -> PositionTold:
    return PositionTold(
        number=1,
        student="Flourdust, Ivy",
        game="Flourdust - Millpondle",
        ply=4,
        at="2...",
        fen=fen,
        ringed=(),
        played="",
        own=False,
        held=True,
        outcome="",
        causes=(),
        line="",
        kinds=(),
        taken=taken,
        twin=TwinTold(twin, "", "", (), taken=True) if twin else None,
    )


def test_a_week_gives_what_was_taken_each_with_its_twin_and_no_name() -> None:
    positions = (
        of_the_week(QUIET, None, taken=False),
        of_the_week(GUARDED, PINNED, taken=True),
        of_the_week(FEW, None, taken=True),
    )
    week = WeekTold("Monday", datetime.date(2026, 9, 7), 3, positions, more=False, files=())
    found = of_week(week)
    assert [(one.fen, one.origin, one.of) for one in found] == [
        (GUARDED, "week", 1),
        (PINNED, "twin", 1),
        (FEW, "week", 2),
    ]
    assert "Ivy" not in repr(found)
    refused = WeekTold("Monday", datetime.date(2026, 9, 7), 3, positions[:1], more=False, files=())
    with pytest.raises(InputError, match="was taken"):
        of_week(refused)


def test_exercises_come_with_their_questions(tmp_path: Path) -> None:
    store = open_store(tmp_path / "store.sqlite")
    fen = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
    shelve(store, list(exercises_of(prove(fen))))
    found = of_exercises(store, [2, 1])
    assert [(one.fen, one.origin, one.of) for one in found] == [
        (fen, "exercise", 2),
        (fen, "exercise", 1),
    ]
    assert found[1].asked["en"].startswith("Black to move.")
    assert found[1].asked["de"].startswith("Schwarz am Zug.")
    with pytest.raises(MissingError):
        of_exercises(store, [99])
    store.close()


@pytest.mark.parametrize("text", ["Nc6", "e5c6", "12...Nc6"])
def test_a_move_is_read_as_players_write_it(text: str) -> None:
    assert read_move(GUARDED, text) == "e5c6"


@pytest.mark.parametrize("text", ["", "Nc6 Qxd8", "Nz9", "Na1"])
def test_what_is_not_one_move_is_refused(text: str) -> None:
    with pytest.raises(MoveError):
        read_move(GUARDED, text)
