"""PGN files to games, by the import format of the PGN standard of 1994."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from fastness.errors import FileError
from fastness.intake.draft import Draft
from fastness.intake.game import Game, Kind, Problem
from fastness.intake.movetext import Movetext
from fastness.intake.source import read_lines

# Between games a tag may be misspelled and still be meant as one; in movetext it must be plain.
_TAG_START = re.compile(r"\[\s*[A-Za-z0-9_]+\s+\"")
_TAG_LIKE = re.compile(r"\[\s*[A-Za-z0-9_]+(?:\s|$)")
_TAG = re.compile(r"\s*\[\s*([A-Za-z0-9_]+)\s+\"((?:[^\"\\]|\\.)*)\"\s*\]")
# Quotation marks that stand in a value without their backslash.
_LAX_TAG = re.compile(r"\s*\[\s*([A-Za-z0-9_]+)\s+\"(.*)\"\s*\]\s*")
_EVENT = re.compile(r"\[Event \".*\"\]\s*")
_PASSED_OVER = " \t\v\f\x1a"


def read_games(
    path: str | Path, on_progress: Callable[[int], None] | None = None
) -> Iterator[Game | Problem]:
    """The games of a PGN file (plain, gzip or Zstandard) in order, and what is wrong with it.

    A game with a problem gives the problem first and then the game as far as it goes; only a
    game whose start cannot be set up gives its problem alone. Nothing is raised for bad input.
    Memory does not grow with the file. `on_progress` is told the bytes taken from the disk so
    far, out of `measure(path)`.
    """
    return _Reader(Stretch(str(path))).read(read_lines(path, on_progress))


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a PGN file, which begins where a game does, as it is handed to another process.

    `text` has its lines without their ends. `games` and `before` are how many games and lines
    stand before it in the file. `more`: the file goes on after it. `cut` says why the file could
    not be read any further.
    """

    file: str
    text: tuple[bytes, ...] = ()
    games: int = 0
    before: int = 0
    more: bool = False
    cut: str | None = None


def read_stretch(stretch: Stretch) -> Iterator[Game | Problem]:
    """The games of part of a file and what is wrong with them, as `read_games` would give them.

    Only the notice that the text is not UTF-8 comes once for each part.
    """
    return _Reader(stretch).read(_numbered(stretch))


def _numbered(stretch: Stretch) -> Iterator[tuple[int, bytes]]:
    yield from enumerate(stretch.text, stretch.before + 1)
    if stretch.cut is not None:
        raise FileError(stretch.cut)


class _Reader:
    """What is known between two lines of a file."""

    def __init__(self, stretch: Stretch) -> None:
        self.file = stretch.file
        self.games = stretch.games
        self.line = stretch.before
        self.more = stretch.more
        self.draft: Draft | None = None
        self.movetext = Movetext()
        self.comment_line = 0
        self.latin = False
        self.strange = False

    def read(self, lines: Iterable[tuple[int, bytes]]) -> Iterator[Game | Problem]:
        cut: FileError | None = None
        found = False
        try:
            for self.line, raw in lines:
                for item in self._line(raw):
                    found = True
                    yield item
        except FileError as error:
            cut = error
        why = None if cut is None else "the file cannot be read on"
        for item in self._close(why, last=not self.more):
            found = True
            yield item
        if cut is not None:
            yield self._problem(self.line or None, f"the file {cut}.")
        elif not found and not self.more and not self.games:
            what = "holds no game" if self.line else "is empty"
            yield self._problem(None, f"the file {what}.")

    def _line(self, raw: bytes) -> Iterator[Game | Problem]:
        try:
            text = raw.decode("utf-8")
        except UnicodeDecodeError:
            text = raw.decode("latin-1")
            if not self.latin:
                self.latin = True
                sentence = "the text is not UTF-8; lines like this one are read as Latin-1."
                yield self._problem(self.line, sentence, "notice")
        text = text.lstrip("\ufeff")
        if self.movetext.comment is not None:
            if not _EVENT.fullmatch(text):
                yield from self._movetext(text)
                return
            yield from self._unclosed()
        text = text.strip(_PASSED_OVER)
        if not text or text[0] == "%":
            return
        if text[0] == "[" and self._opens_tags(text):
            yield from self._tags(text)
        else:
            yield from self._movetext(text)

    def _opens_tags(self, text: str) -> bool:
        if self.draft is None or self.draft.over is not None:
            return _TAG_LIKE.match(text) is not None
        return not self.draft.begun or _TAG_START.match(text) is not None

    def _tags(self, text: str) -> Iterator[Game | Problem]:
        if self.draft is not None and self.draft.begun:
            yield from self._close(None)
        draft = self._current()
        self.strange = False
        if (lax := _LAX_TAG.fullmatch(text)) and not _TAG.match(text):
            draft.tag(self.line, lax[1], lax[2])
            return
        at = 0
        while found := _TAG.match(text, at):
            draft.tag(self.line, found[1], re.sub(r"\\(.)", r"\1", found[2]))
            at = found.end()
        rest = text[at:].strip()
        if rest.startswith("["):
            draft.spoilt_tag(self.line, rest)
        elif rest:
            yield from self._movetext(rest)

    def _movetext(self, text: str) -> Iterator[Game | Problem]:
        for kind, piece in self.movetext.tokens(text):
            draft = self.draft
            if draft is not None and draft.over is not None and kind in ("move", "number"):
                yield from self._close(None)
                draft = None
            if draft is None:
                if not self._may_begin(kind, piece):
                    continue
                draft = self._current()
            draft.piece(self.line, kind, piece)
            if draft.problems and draft.barren:
                yield from self._no_game(piece)
        if self.movetext.comment is not None and len(self.movetext.comment) == 1:
            self.comment_line = self.line

    def _may_begin(self, kind: str, piece: str) -> bool:
        """Whether a game without tags may begin with this; after strange text only with "1."."""
        if kind in ("comment", "nag", "nested"):
            return False
        return not self.strange or (kind == "number" and piece.rstrip(". ") == "1")

    def _current(self) -> Draft:
        if self.draft is None:
            self.games += 1
            self.draft = Draft(self.file, self.games, self.line)
        return self.draft

    def _no_game(self, piece: str) -> Iterator[Problem]:
        """Pass over text that is no game; one word of it is enough for a whole stretch."""
        self.draft = None
        self.games -= 1
        if not self.strange:
            self.strange = True
            sentence = f"'{piece}' is neither a tag nor a move; the text is passed over."
            yield self._problem(self.line, sentence)

    def _unclosed(self) -> Iterator[Game | Problem]:
        self.movetext.comment = None
        yield from self._close(f"the comment opened on line {self.comment_line} is never closed")

    def _close(self, cut: str | None, *, last: bool = False) -> Iterator[Game | Problem]:
        draft, self.draft = self.draft, None
        if self.movetext.comment is not None:
            self.movetext.comment = None
            cut = f"the comment opened on line {self.comment_line} is never closed"
        if draft is None:
            return
        if draft.barren and not draft.problems:
            self.games -= 1
            return
        if draft.over is not None:
            cut = None
        game = draft.finish(cut, last=last)
        yield from draft.problems
        if game is not None:
            yield game

    def _problem(self, line: int | None, sentence: str, kind: Kind = "error") -> Problem:
        where = self.file if line is None else f"{self.file}, line {line}"
        return Problem(self.file, None, line, f"{where}: {sentence}", kind)
