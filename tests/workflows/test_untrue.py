"""A lesson that is not true is told in plain words before it is used."""

from pathlib import Path

import pytest

from fastness.errors import UntrueError
from fastness.language import language
from fastness.store import open_store
from fastness.workflows.homework_sources import of_lesson
from tests.exercises.asked import BISHOP


def test_a_lesson_that_is_not_true_is_told_and_handed_out_only_anyway(
    tmp_path: Path,
) -> None:
    store = open_store(tmp_path / "store.sqlite")
    lesson = tmp_path / "lesson.md"
    claims = "unsafe: d8\nsafe: d8\nholds: Nc6"
    lesson.write_text(f"```position\n{BISHOP}\n{claims}\n```\n", encoding="utf-8")
    with pytest.raises(UntrueError) as raised:
        of_lesson(store, lesson, language("de"))
    first, second = raised.value.faults
    assert first.startswith("Stellung 1: „Sicher: die Dame auf d8“ stimmt nicht. Es stimmt: ")
    assert "Sc6 verliert" in second
    assert not any(word in str(raised.value) for word in (str(tmp_path), ".md", "fastness"))
    assert of_lesson(store, lesson, anyway=True).numbers
    lesson.write_text("```position\nnothing\n```\n", encoding="utf-8")
    with pytest.raises(UntrueError, match=r"Position 1, row 2") as unread:
        of_lesson(store, lesson, anyway=True)
    assert not unread.value.readable
