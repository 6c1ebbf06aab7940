"""Lessons as files of a folder: no name leads out of it, and nothing is written over unseen."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from fastness.errors import FileError, InputError, MissingError, StoreError
from fastness.workflows.lesson_folder import LessonFolder

TEXT = "# Guard it?\r\n\r\nProse.\r\n\r\n```position\r\n8/8/8/3Kp3/4Pk2/8/8/8 w - -\r\n```\r\n"


@pytest.fixture
def folder(tmp_path: Path) -> LessonFolder:
    (tmp_path / "outside.md").write_text("the teacher's own", "utf-8")
    return LessonFolder(tmp_path / "lessons")


def test_a_lesson_comes_back_byte_by_byte(folder: LessonFolder) -> None:
    added = folder.add("guard", "\ufeff" + TEXT)
    assert folder.open("guard") == added
    folder.write("guard", TEXT, added.version)
    assert (folder.place / "guard.md").read_bytes() == ("\ufeff" + TEXT).encode()
    listed = folder.list()[0]
    assert (listed.name, listed.title, listed.positions) == ("guard", "Guard it?", 1)


@pytest.mark.parametrize(
    "name",
    [
        "",
        " ",
        "..",
        "../outside",
        "a/b",
        "a\\b",
        ".hidden",
        "a\0b",
        "a\nb",
        "C:x",
        "ä" * 81,
        "é" * 130,
    ],
)
def test_no_name_leads_out_of_the_folder(folder: LessonFolder, name: str) -> None:
    folder.add("here", TEXT)
    asked: list[Callable[[], object]] = [
        lambda: folder.open(name),
        lambda: folder.add(name, TEXT),
        lambda: folder.remove(name),
        lambda: folder.rename("here", name),
    ]
    for do in asked:
        with pytest.raises(InputError):
            do()
    assert [path.name for path in folder.place.iterdir()] == ["here.md"]
    assert (folder.place.parent / "outside.md").read_text("utf-8") == "the teacher's own"


def test_a_link_to_elsewhere_is_no_lesson(folder: LessonFolder) -> None:
    folder.add("here", TEXT)
    (folder.place / "there.md").symlink_to(folder.place.parent / "outside.md")
    with pytest.raises(MissingError):
        folder.open("there")
    assert [one.name for one in folder.list()] == ["here"]


def test_what_was_changed_elsewhere_is_not_written_over(folder: LessonFolder) -> None:
    before = folder.add("guard", TEXT)
    (folder.place / "guard.md").write_text("changed by an editor", "utf-8")
    with pytest.raises(StoreError, match="changed elsewhere"):
        folder.write("guard", "mine", before.version)
    assert folder.open("guard").text == "changed by an editor"


def test_a_name_is_given_once(folder: LessonFolder) -> None:
    folder.add("one", TEXT)
    folder.add("two", "other")
    with pytest.raises(InputError, match="already"):
        folder.add("one", "third")
    with pytest.raises(InputError, match="already"):
        folder.rename("two", "one")
    assert folder.rename("two", "three").text == "other"
    with pytest.raises(MissingError):
        folder.open("two")


def test_a_removed_lesson_can_be_put_back(folder: LessonFolder) -> None:
    folder.add("one", TEXT)
    gone = folder.remove("one")
    assert folder.list() == []
    assert folder.add(gone.name, gone.text).text == TEXT


def test_a_file_that_is_no_text_is_told_by_its_line(folder: LessonFolder) -> None:
    folder.add("one", TEXT)
    (folder.place / "one.md").write_bytes(b"# Heading\n\xff\n")
    with pytest.raises(FileError, match=r"one\.md:2"):
        folder.open("one")
    assert folder.list() == []


def test_half_a_letter_is_refused(folder: LessonFolder) -> None:
    with pytest.raises(InputError, match="half"):
        folder.add("one", "\ud800")
    assert folder.list() == []
