"""The teacher's lessons as Markdown files of one folder, which any editor may change too."""

from __future__ import annotations

import datetime
import hashlib
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from fastness.errors import FileError, InputError, MissingError, StoreError
from fastness.language import ENGLISH, Language
from fastness.lessons.example import EXAMPLES
from fastness.lessons.lesson import Lesson
from fastness.lessons.reading import read_lesson
from fastness.workflows.lessons import count_claims

LESSONS = "lessons"
"""The name of the folder beside a store."""
ENDING = ".md"
LONGEST_NAME = 80
MOST = 500_000
"""Bytes of a lesson."""
BOM = "\ufeff"
_REFUSED = re.compile(r'[/\\:*?"<>|\x00-\x1f\x7f]')
_TITLE = re.compile(r"^#\s+(.+?)\s*#*\s*$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class LessonListed:
    """A lesson in the list: its file's name without the ending, its heading, what is in it."""

    name: str
    title: str
    changed: datetime.datetime
    positions: int
    claims: int


@dataclass(frozen=True, slots=True)
class LessonText:
    """A lesson as its file has it. `version` is another one whenever the text is another."""

    name: str
    version: str
    text: str


class LessonFolder:
    """The files of a folder that need not be there yet. No name leads out of it."""

    def __init__(self, place: Path) -> None:
        """At `place`."""
        self.place = place

    def list(self) -> list[LessonListed]:
        """All lessons, the one changed last first. A file that cannot be read is left out."""
        found = []
        for path in self.place.glob(f"*{ENDING}"):
            try:
                told = self.open(path.name.removesuffix(ENDING))
                changed = datetime.datetime.fromtimestamp(path.stat().st_mtime, datetime.UTC)
            except (InputError, OSError):
                continue
            lesson = read_lesson(told.text)
            listed = LessonListed(
                told.name,
                title_of(told.text),
                changed,
                len(lesson.blocks),
                count_claims([lesson]),
            )
            found.append(listed)
        return sorted(found, key=lambda one: (one.changed, one.name), reverse=True)

    def open(self, name: str) -> LessonText:
        """A lesson. Raises MissingError where there is none, FileError where it is not UTF-8."""
        path = self._path(name)
        if path.is_symlink() or not path.is_file():
            raise MissingError(f'There is no lesson "{name}".')
        try:
            data = path.read_bytes()
            return LessonText(name, _version(data), data.decode("utf-8"))
        except UnicodeDecodeError as error:
            line = error.object[: error.start].count(b"\n") + 1
            raise FileError(
                f"{path.name}:{line}: a byte here is not UTF-8; save the file as text in UTF-8"
            ) from None
        except OSError as error:
            raise FileError(f"{path.name} cannot be opened: {error.strerror}") from None

    def file(self, name: str) -> Path:
        """The file of a lesson. Raises as `open` does."""
        self.open(name)
        return self._path(name)

    def lesson(self, name: str) -> Lesson:
        """A lesson, read. Raises as `open` does."""
        return read_lesson(self.open(name).text.removeprefix(BOM))

    def add(self, name: str, text: str = "", language: Language = ENGLISH) -> LessonText:
        """A new lesson: the small true one to begin with, where no text is given.

        Raises InputError where there is one of that name.
        """
        data = _bytes(text or EXAMPLES[language.code])
        path = self._path(name)
        try:
            self.place.mkdir(parents=True, exist_ok=True, mode=0o700)
            with path.open("xb") as file:
                file.write(data)
        except FileExistsError:
            raise InputError(
                f'There is a lesson "{name}" already; give this one another name.'
            ) from None
        except OSError as error:
            raise StoreError(f"{path.name} cannot be written: {error.strerror}") from None
        return self.open(name)

    def free(self, name: str) -> None:
        """Raise InputError where a new lesson cannot have this name."""
        if self._path(name).exists():
            raise InputError(f'There is a lesson "{name}" already; give this one another name.')

    def write(self, name: str, text: str, version: str) -> LessonText:
        """Write a lesson anew, where its file still is what it was at `version`.

        Raises StoreError where it was changed meanwhile; then it stays as it is.
        """
        before = self.open(name)
        if before.version != version:
            raise StoreError(f'The file of "{name}" was changed elsewhere meanwhile.')
        mark = BOM if before.text.startswith(BOM) else ""
        self._put(self._path(name), _bytes(mark + text.removeprefix(BOM)))
        return self.open(name)

    def rename(self, name: str, other: str) -> LessonText:
        """Give a lesson another name. Raises InputError where there is one of that name."""
        self.open(name)
        path, wanted = self._path(name), self._path(other)
        if wanted.exists() and not wanted.samefile(path):
            raise InputError(f'There is a lesson "{other}" already; choose another name.')
        try:
            path.rename(wanted)
        except OSError as error:
            raise StoreError(f"{path.name} cannot be renamed: {error.strerror}") from None
        return self.open(other)

    def remove(self, name: str) -> LessonText:
        """Remove a lesson; what it was is told, so that it can be put back."""
        told = self.open(name)
        try:
            self._path(name).unlink()
        except OSError as error:
            raise StoreError(f'"{name}" cannot be removed: {error.strerror}') from None
        return told

    def _put(self, path: Path, data: bytes) -> None:
        """Write beside the file first, so that it is never half written."""
        part = path.with_name(f".{path.name}.part")
        try:
            part.write_bytes(data)
            part.replace(path)
        except OSError as error:
            raise StoreError(f"{path.name} cannot be written: {error.strerror}") from None

    def _path(self, name: str) -> Path:
        """Where the lesson of a name is. Raises InputError where it can be no file's name."""
        plain = unicodedata.normalize("NFC", name)
        if not plain.isprintable() or _REFUSED.search(plain) or len(plain) > LONGEST_NAME:
            raise InputError(
                f'"{name}" cannot name a file; take up to {LONGEST_NAME} letters, digits, blanks'
                " and hyphens."
            )
        if not plain.strip() or plain != plain.strip() or plain.startswith("."):
            raise InputError("A lesson needs a name that begins and ends with a letter or digit.")
        if len(f".{plain}{ENDING}.part".encode()) > 255:
            raise InputError("This name is too long for a file.")
        return self.place / f"{plain}{ENDING}"


def title_of(text: str) -> str:
    """The first heading of a lesson; empty where there is none."""
    found = _TITLE.search(text.removeprefix(BOM))
    return found[1] if found else ""


def _bytes(text: str) -> bytes:
    try:
        data = text.encode()
    except UnicodeEncodeError:
        raise InputError("A letter of this text is only half there; type it anew.") from None
    if len(data) > MOST:
        raise InputError(f"A lesson has at most {MOST:,} bytes; begin another one.")
    return data


def _version(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:24]
