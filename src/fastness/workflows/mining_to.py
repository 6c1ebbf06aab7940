"""Where mined exercises go: the shelf of the store, or a file of JSON lines."""

from __future__ import annotations

from pathlib import Path

from fastness.errors import FileError, InputError
from fastness.exercises.encoding import from_json, to_json
from fastness.exercises.exercise import Proved
from fastness.store import Store, shelf
from fastness.survey.position import position_key
from fastness.workflows.mining import Mined
from fastness.workflows.shelving import shelve


class Shelf:
    """The shelf of a store."""

    def __init__(self, store: Store) -> None:
        """Of this store."""
        self.store = store

    def known(self) -> frozenset[str]:
        """The positions that are on the shelf."""
        with self.store.reading() as session:
            return frozenset(position_key(one.fen) for one in shelf.find(session))

    def keep(self, mined: Mined) -> int:
        """Keep the exercises of a position; how many were new."""
        return shelve(self.store, list(mined.exercises))


class ExerciseFile:
    """A file with a proved position on each line, which is added to."""

    def __init__(self, path: Path) -> None:
        """At this path; it need not be there yet."""
        self.path = path

    def known(self) -> frozenset[str]:
        """The positions in the file; raises InputError with the line that is not one."""
        return frozenset(position_key(one.fen) for one in self.read())

    def read(self) -> list[Proved]:
        """The proved positions in the file, none where it is not there yet.

        A last line that was cut short, as when the machine went off, is taken away. Raises
        InputError with the line that is not one, FileError where the file cannot be read.
        """
        if not self.path.exists():
            return []
        found = []
        try:
            text = self.path.read_text("utf-8")
            whole, cut, _ = text.rpartition("\n")
            if whole + cut != text:
                self.path.write_text(whole + cut, "utf-8")
        except OSError as error:
            raise FileError(f"{self.path}: {error.strerror}") from error
        for number, line in enumerate(whole.split("\n") if whole else [], 1):
            try:
                found.append(from_json(line))
            except InputError as error:
                raise InputError(f"{self.path}, line {number}: {error}") from error
        return found

    def keep(self, mined: Mined) -> int:
        """Add a position; how many exercises it admits."""
        self.add(mined.proved)
        return len(mined.exercises)

    def add(self, *proved: Proved) -> None:
        """Add positions. Raises FileError where the file cannot be written."""
        try:
            with self.path.open("a", encoding="utf-8") as file:
                file.write("".join(f"{to_json(one)}\n" for one in proved))
        except OSError as error:
            raise FileError(f"{self.path}: {error.strerror}") from error
