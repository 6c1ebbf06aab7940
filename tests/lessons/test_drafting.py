"""Drafted lessons: every one of them passes the check, and names nobody."""

import json
import os
import re
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

from fastness.errors import FileError, InputError, OptionError
from fastness.exercises.encoding import to_json
from fastness.exercises.exercise import LEVELS
from fastness.exercises.proving import prove
from fastness.language import language
from fastness.lessons.drafting_claims import proved_block
from fastness.lessons.drafting_prose import PHRASES, theme_text, wordings
from fastness.lessons.drafting_shown import SHOWN
from fastness.lessons.found import Answer
from fastness.lessons.lesson import AllThatKeep, Block, Keeps, Loses
from fastness.lessons.reading import read_lesson
from fastness.store import Store, open_store
from fastness.workflows.drafting import draft_lesson, source_of, write_draft
from fastness.workflows.drafting_sources import Source, from_week
from fastness.workflows.lessons import check_lessons

DATA = Path(__file__).parents[1] / "data"
FENS = [line for line in (DATA / "historic-positions.fen").read_text("ascii").split("\n") if line]


@pytest.mark.parametrize("theme", SHOWN)
def test_the_position_that_shows_a_theme_bears_out_its_claims(theme: str) -> None:
    shown = SHOWN[theme]
    assert [one.text for one in proved_block(shown.fen, shown.claims).claims] == list(shown.claims)


@pytest.mark.parametrize("code", ["en", "de"])
def test_every_theme_is_told_in_full(code: str) -> None:
    words = language(code)
    titles = set()
    for theme in SHOWN:
        text = theme_text(theme, words)
        titles.add(text.title)
        for told in (text.what, text.see, text.why, text.far):
            assert 12 <= len(told.split()) <= 70
            assert all(len(one.split()) <= 30 for one in re.split(r"(?<=[.?!]) ", told)), told
            assert "%" not in told
        assert text.ask.endswith("?")
    assert len(titles) == len(SHOWN)


def test_the_phrases_have_the_same_values_in_both_languages() -> None:
    def values(told: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(told) if name}

    for phrase in PHRASES:
        english, german = (wordings(phrase, language(code)) for code in ("en", "de"))
        assert len(english) == len(german) >= 4
        assert list(map(values, english)) == list(map(values, german))
        assert set(english).isdisjoint(german) or phrase == "twin_told"


def _proved(text: str) -> list[str]:
    lesson = read_lesson(text)
    assert not lesson.faults
    found = [one.found for one in check_lessons([("draft.md", lesson)])]
    assert all(isinstance(one, Answer) and one.verdict == "true" for one in found), text
    return [one.claim.text for one in found if isinstance(one, Answer)]


# Thirty-six drafts from the historic positions: every theme once at least, each level, each
# language. A theme that no position shows is told by its own small position all the same. They
# take ten minutes, so that every fifth is tried unless FASTNESS_ALL_DRAFTS is set.
_EVERY = [
    (theme, LEVELS[at % 3], ("en", "de")[at % 2], at)
    for at, theme in enumerate([*SHOWN, *list(SHOWN)[:7]])
]
_JOBS = _EVERY if os.environ.get("FASTNESS_ALL_DRAFTS") else _EVERY[::5]


@pytest.mark.slow
@pytest.mark.parametrize(("theme", "level", "code", "at"), _JOBS)
def test_a_draft_passes_the_check(theme: str, level: str, code: str, at: int) -> None:
    fens = tuple(FENS[(7 * at + step) % len(FENS)] for step in range(40))
    source = Source(theme, fens, own=False, more="")
    drafted = draft_lesson(source, level, language(code), twin_seconds=0)  # type: ignore[arg-type]
    claims = _proved(drafted.text)
    assert len(claims) == drafted.claims >= 12
    blocks = [part for part in read_lesson(drafted.text).parts if isinstance(part, Block)]
    questions = re.findall(r"^\*\*\d+\.\*\* (.*)$", drafted.text, re.MULTILINE)
    assert 4 <= len(questions) == len(blocks) - 2
    for block in blocks:
        kinds = [type(claim) for claim in block.claims]
        held = [at for at, kind in enumerate(kinds) if kind in (Keeps, AllThatKeep)]
        assert not held or Loses not in kinds[held[0] :], "a picture passed over stays silent"
    assert len(set(questions)) == len(questions)
    assert "%" not in drafted.text


@pytest.mark.slow
def test_a_draft_has_a_twin_that_is_proved() -> None:
    source = Source("unguarded", tuple(FENS[:40]), own=True, more="")
    drafted = draft_lesson(source, "club", twin_seconds=10)
    assert drafted.twin
    assert any(text.startswith("twin:") for text in _proved(drafted.text))


@pytest.mark.slow
def test_the_same_positions_give_the_same_draft_and_others_other_words() -> None:
    def text(first: int) -> str:
        source = Source("unguarded", tuple(FENS[first : first + 30]), own=True, more="")
        return draft_lesson(source, "plain", twin_seconds=0).text

    assert text(0) == text(0)
    headings = [re.findall(r"^## .*$", text(first), re.MULTILINE) for first in (0, 60, 120)]
    assert len({tuple(one) for one in headings}) > 1


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(str(tmp_path / "store.db"))
    yield opened
    opened.close()


def test_what_cannot_be_drafted_is_told(store: Store, tmp_path: Path) -> None:
    with pytest.raises(OptionError, match="one of --group"):
        source_of(store)
    with pytest.raises(OptionError, match="no theme"):
        source_of(store, theme="spoon")
    with pytest.raises(FileError, match="no folder of a week"):
        source_of(store, week=tmp_path)
    with pytest.raises(InputError, match="Too few positions"):
        draft_lesson(source_of(store, theme="fork"))
    kept = tmp_path / "mine.md"
    kept.write_text("mine", "utf-8")
    source = Source("unguarded", tuple(FENS[:20]), own=True, more="")
    with pytest.raises(FileError, match="was left as it is"):
        write_draft(draft_lesson(source, "plain", twin_seconds=0), kept)
    assert kept.read_text("utf-8") == "mine"


def test_a_weeks_folder_gives_its_theme_and_its_positions_with_their_twins(tmp_path: Path) -> None:
    proved = [prove(fen, rank_nodes=500) for fen in FENS[:12]]
    (tmp_path / "positions.jsonl").write_text(
        "".join(f"{to_json(one)}\n" for one in proved), "utf-8"
    )
    rows = [{"twin": {"fen": FENS[30], "text": ""}}, {"twin": None}]
    (tmp_path / "week.json").write_text(json.dumps({"positions": rows}), "utf-8")
    source = from_week(tmp_path)
    assert set(source.positions) == {*FENS[:12], FENS[30]}
    first = next(one for one in proved if one.fen == source.positions[0])
    assert any(source.theme in unit["mechanisms"] for unit in first.survey["units"])
    (tmp_path / "week.json").write_text("{", "utf-8")
    with pytest.raises(FileError, match="cannot be read"):
        from_week(tmp_path)
