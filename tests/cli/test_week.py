"""What goes wrong with the week and with mining; that they work the README's commands show."""

from pathlib import Path

import pytest

from fastness.cli import week
from fastness.language import LANGUAGES, language
from fastness.workflows.week import Place, Proposal, own_position
from tests.cli.test_record import bring, run
from tests.store.material import some_games


def test_a_week_without_anybody_to_ask_needs_a_yes(tmp_path: Path) -> None:
    (tmp_path / "games.pgn").write_text(some_games(1), encoding="utf-8")
    done = run(tmp_path, "week", str(tmp_path / "games.pgn"), "--group", "Monday")
    assert done.returncode == 2
    assert "Say --yes" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_week_of_nobodys_games_is_refused(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add", "--group", "Monday")
    (tmp_path / "other.pgn").write_text(
        '[White "Stranger, Joe"]\n[Black "Foreigner, Jim"]\n[Result "*"]\n\n1. e4 *\n', "utf-8"
    )
    done = run(tmp_path, "week", str(tmp_path / "other.pgn"), "--group", "Monday", "--yes")
    assert done.returncode == 2
    assert "no game of the group" in done.stderr
    assert not list(tmp_path.glob("week-*"))


def test_a_week_of_another_group_takes_nothing(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add", "--group", "Monday")
    done = run(tmp_path, "week", str(tmp_path / "games.pgn"), "--group", "Tuesday", "--yes")
    assert done.returncode == 2
    assert "Tuesday" in done.stderr


@pytest.mark.parametrize("words", [("mine",), ("week", "--group", "Monday")])
def test_without_a_file_both_say_what_to_give(tmp_path: Path, words: tuple[str, ...]) -> None:
    done = run(tmp_path, *words)
    assert done.returncode == 2
    assert "Give one PGN file or more" in done.stderr


def test_mining_tells_a_file_that_is_not_there(tmp_path: Path) -> None:
    done = run(tmp_path, "mine", str(tmp_path / "no.pgn"))
    assert done.returncode == 2
    assert "no.pgn" in done.stderr
    assert "0 positions with 0 new exercises." in done.stdout


FORK = "3rk2r/2pb1p2/p1pb3q/2P1p2p/BP2P1p1/P2R2Q1/4NPPP/3R3K b k - 0 22"


def proposal(outcome: str) -> Proposal:
    own = own_position(FORK)
    place = Place("Weirwater, Ada", "A - B", 44, FORK, "Qh4", outcome, ("fork", "pin"), 0)
    return Proposal(place, own.proved, own.exercises)


def test_a_proposal_is_told_in_the_language() -> None:
    held, fell = proposal("held"), proposal("let fall")
    english, german = language("en"), language("de")
    assert week._proposal_in_words(held, 1, english) == (
        f"\n1. Weirwater, Ada (A - B), move 22...\n   held by Qh4; fork, pin\n   {FORK}"
    )
    assert week._proposal_in_words(fell, 2, english).splitlines()[2] == (
        "   let fall: Qh4; fork, pin"
    )
    assert week._proposal_in_words(held, 1, german) == (
        f"\n1. Weirwater, Ada (A - B), Zug 22...\n   gehalten mit Dh4; Gabel, Fesselung\n   {FORK}"
    )
    assert week._proposal_in_words(fell, 2, german).splitlines()[2] == (
        "   fallen gelassen: Dh4; Gabel, Fesselung"
    )


@pytest.mark.parametrize("code", LANGUAGES)
def test_each_answer_has_a_letter_of_its_own(code: str) -> None:
    letters = week.answer_letters(language(code).say(week.ANSWERS))
    assert len(set(letters)) == len(letters) == 5


def test_answers_are_read_in_the_language(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    said, asked = iter(["y", "z", "Nein", "j", "genug"]), []

    def told(prompt: str) -> str:
        asked.append(prompt)
        return next(said)

    monkeypatch.setattr("builtins.input", told)
    german, one = language("de"), proposal("held")
    # "y" is no answer in German, and "z" shows the page first.
    assert week._taken(one, german) == ("n", None)
    assert "Schwarz am Zug" in capsys.readouterr().out
    assert week._taken(one, german) == ("y", one)
    assert week._taken(one, german) == ("e", None)
    assert asked[0].startswith("[j]a, [n]ein")
