"""Keeping a score sheet in a PGN file while it is typed."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import chess
import chess.pgn

from fastness.errors import FileError
from fastness.intake.scoresheet import Sheet

ILLEGIBLE = "Illegible from here."


class SheetFile:
    """A PGN file to whose end one game is written anew after each entry.

    What the file held before stays as it is, byte for byte. A write goes to a new file that then
    takes the old one's place, so that whoever is stopped loses at most what was being typed.
    """

    def __init__(self, path: Path, tags: Mapping[str, str]) -> None:
        """Write to `path`. Raises FileError where it cannot be read."""
        self.path, self.tags = path, dict(tags)
        try:
            self.before = path.read_bytes() if path.exists() else b""
        except OSError as error:
            raise FileError(f"{path}: {error.strerror}") from error

    def keep(self, sheet: Sheet) -> None:
        """Write the game as far as it goes. Raises FileError where that cannot be done."""
        gap = b"" if not self.before or self.before.endswith(b"\n\n") else b"\n\n"
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


def as_pgn(sheet: Sheet, tags: Mapping[str, str]) -> str:
    """The game typed so far as PGN, with a remark where the sheet could not be read further."""
    game = chess.pgn.Game()
    for key, tag in tags.items():
        game.headers[key] = tag
    game.headers["Result"] = sheet.result
    node: chess.pgn.GameNode = game
    for move in sheet.board.move_stack:
        node = node.add_main_variation(move)
    if sheet.illegible:
        node.comment = ILLEGIBLE
    return f"{game}\n\n"
