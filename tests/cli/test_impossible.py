"""What cannot be done is told in one message, before any work is lost: exit status 2."""

from pathlib import Path

import pytest

from fastness.cli import main
from tests.store.material import some_games

DEMO = str(Path(__file__).parents[2] / "demo" / "millrace.pgn")
NO_FACE = "\U00101234"
"""A private character of the last plane: no type face has it."""


@pytest.fixture(autouse=True)
def alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of one's own, with a store and a file that is in the way."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FASTNESS_STORE", str(tmp_path / "store.sqlite"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    (tmp_path / "games.pgn").write_text(some_games(1), encoding="utf-8")
    (tmp_path / "strange.pgn").write_text(
        some_games(1).replace("Weirwater, Ada", f"Weirwater, Ada{NO_FACE}"), encoding="utf-8"
    )


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as stop:
        main(words)
    assert isinstance(stop.value.code, int)
    return stop.value.code


IMPOSSIBLE = [
    # More moves at least than at most; none at all; further ahead than anything is searched.
    (("mine", DEMO, "--least", "5", "--most", "2"), "at least 5 and at most 2"),
    (("mine", DEMO, "--least", "0"), "the least must be 1 or more"),
    (("mine", DEMO, "--ahead", "9"), "look 1 to 3 moves ahead"),
    (("mine", DEMO, "--limit", "-3"), "Must be >= 0"),
    (("mine", DEMO, "--kind", "which move"), "which move"),
    (("mine", DEMO, "--mechanism", "bad luck"), "bad luck"),
    (("shelf", "list", "--least", "5", "--most", "2"), "at least 5 and at most 2"),
    (("shelf", "list", "--unit", "archbishop"), "archbishop"),
    (("shelf", "list", "--mechanism", "bad luck"), "bad luck"),
    # An empty shelf.
    (("shelf", "show", "1"), "no exercise 1 on the shelf"),
    (("shelf", "strike", "1", "too hard"), "no exercise 1 on the shelf"),
    (("twin", "--shelf"), "The shelf is empty"),
    # Places that cannot be written.
    (("mine", DEMO, "--to", "file/mined.jsonl"), "file is no folder"),
    (("mine", DEMO, "--to", "nowhere/mined.jsonl"), "nowhere does not exist"),
    (("mine", DEMO, "--to", "folder"), "a file is wanted"),
    (("mine", DEMO, "--store", "file/store.sqlite"), "file"),
    (("twin", DEMO, "--to", "file"), "a folder is wanted"),
    (("twin", DEMO, "--to", "file/twins"), "file is no folder"),
    (("twin", DEMO, "--to", "nowhere/twins.jsonl"), "nowhere does not exist"),
    (("week", "games.pgn", "--group", "Monday", "--yes", "--to", "file"), "a folder is wanted"),
    (("week", "games.pgn", "--group", "Monday", "--yes", "--to", "file/a/b"), "file is no folder"),
]


@pytest.mark.parametrize(
    ("words", "told"),
    IMPOSSIBLE,
    ids=lambda one: " ".join(one[:1]) if isinstance(one, tuple) else one,
)
def test_the_impossible_is_told(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(*words) == 2
    said = capsys.readouterr()
    assert told in said.err
    assert said.err.startswith("fastness: ")
    assert "Traceback" not in said.err
    assert not said.out


def test_without_the_right_to_write_it_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    # Whoever is root may write everywhere, so the right is taken away by hand.
    monkeypatch.setattr("os.access", lambda *_: False)
    for words in (("twin", DEMO, "--to", "folder"), ("mine", DEMO, "--to", "mined.jsonl")):
        assert ended(*words) == 2
        assert "you have no right to" in capsys.readouterr().err


def test_an_empty_shelf_lists_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended("shelf", "list") == 0
    assert capsys.readouterr().out == "No exercise on the shelf fits.\n"
    assert ended("shelf", "fit") == 0
    assert capsys.readouterr().out == "Fitted 0 exercises from 0 first answers.\n"


def test_a_letter_that_no_face_has_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bring = ("import", "strange.pgn", "--reach", "1", "--no-offers", "--add", "--group", "Monday")
    assert ended(*bring) == 0
    capsys.readouterr()
    assert ended("report", f"Weirwater, Ada{NO_FACE}", "--to", "ada.pdf") == 2
    said = capsys.readouterr().err
    assert said.startswith("fastness: no type face on this machine has the letters ")
    assert "Traceback" not in said
    assert not (tmp_path / "ada.pdf").exists()
    assert ended("report", f"Weirwater, Ada{NO_FACE}", "--to", "ada.html") == 0
