"""Keeping a score sheet in a PGN file while it is typed."""

from __future__ import annotations

import io
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import chess
import chess.pgn

from fastness.errors import FileError
from fastness.intake.scoresheet import Sheet

ILLEGIBLE = "Illegible from here."
UNFINISHED = "unterminated"
"""The value of the tag Termination while a game is being typed (PGN 1994, 9.8.1)."""
_FIRST_TAG = b'[Event "'


@dataclass(frozen=True, slots=True)
class KeptSheet:
    """The last game of a file, as it was typed: its tags, its moves, and the byte it begins at."""

    tags: dict[str, str]
    sheet: Sheet
    begins: int


class SheetFile:
    """A PGN file to whose end one game is written anew after each entry.

    What the file held before stays as it is, byte for byte. A write goes to a new file that then
    takes the old one's place, so that whoever is stopped loses at most what was being typed.
    """

    def __init__(
        self, path: Path, tags: Mapping[str, str], going_on: KeptSheet | None = None
    ) -> None:
        """Write to `path`: a new game, or `going_on` in its own place.

        Raises FileError where the file cannot be read.
        """
        self.path, self.tags = path, dict(tags)
        self.before = _read(path)
        if going_on is not None:
            self.before = self.before[: going_on.begins]

    def keep(self, sheet: Sheet) -> None:
        """Write the game as far as it goes. Raises FileError where that cannot be done."""
        apart = not self.before or self.before.endswith((b"\n\n", b"\r\n\r\n"))
        gap = b"" if apart else b"\n\n"
        data = self.before + gap + as_pgn(sheet, self.tags).encode("utf-8")
        part = self.path.with_name(self.path.name + ".part")
        try:
            with part.open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            part.replace(self.path)
        except OSError as error:
            raise FileError(f"{self.path}: the game could not be kept: {error.strerror}") from error


def last_sheet(path: Path) -> KeptSheet | None:
    """The last game of the file, if it stands there exactly as `SheetFile` writes one, else None.

    A game with anything more in it, such as a comment or a variation, is none: to write it anew
    would lose that. Raises FileError where the file cannot be read.
    """
    data = _read(path)
    begins = data.rfind(_FIRST_TAG)
    if begins < 0:
        return None
    told = data[begins:].decode("utf-8", errors="replace").replace("\r\n", "\n").strip()
    game = chess.pgn.read_game(io.StringIO(told))
    if game is None:
        return None
    tags = {key: tag for key, tag in game.headers.items() if key not in ("Result", "Termination")}
    end = game.end()
    sheet = Sheet(
        board=end.board(),
        result=game.headers.get("Result", "*"),
        illegible=end.comment == ILLEGIBLE,
        finished=game.headers.get("Termination") != UNFINISHED,
    )
    return KeptSheet(tags, sheet, begins) if as_pgn(sheet, tags).strip() == told else None


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes() if path.exists() else b""
    except OSError as error:
        raise FileError(f"{path}: {error.strerror}") from error


def as_pgn(sheet: Sheet, tags: Mapping[str, str]) -> str:
    """The game typed so far as PGN, with a remark where the sheet could not be read further.

    While it is not finished a tag says so, by which `last_sheet` knows it again.
    """
    game = chess.pgn.Game()
    for key, tag in tags.items():
        game.headers[key] = tag
    game.headers["Result"] = sheet.result
    if not sheet.finished:
        game.headers["Termination"] = UNFINISHED
    node: chess.pgn.GameNode = game
    for move in sheet.board.move_stack:
        node = node.add_main_variation(move)
    if sheet.illegible:
        node.comment = ILLEGIBLE
    return f"{game}\n\n"
