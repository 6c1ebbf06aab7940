"""Where pairs of twins go: the shelf of the store, a file of JSON lines, or a folder of sheets."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from fastness.errors import FileError
from fastness.exercises.difficulty import estimate, level_of
from fastness.exercises.epd import epd
from fastness.exercises.pairs import Pair, pair_of
from fastness.exercises.pgn import pgn
from fastness.exercises.twin import twin_again
from fastness.language import Language, marked
from fastness.publish.sheet import Layout, SheetExercise, sheets
from fastness.publish.writing import write_files
from fastness.store import Store, shelf
from fastness.survey.position import position_key
from fastness.workflows.mining_to import ExerciseFile
from fastness.workflows.sheet_files import sheet_files
from fastness.workflows.shelving import shelve

TITLE = marked("Change one thing")


class PairShelf:
    """The shelf of a store."""

    def __init__(self, store: Store) -> None:
        """Of this store."""
        self.store = store

    def known(self) -> frozenset[str]:
        """The positions that have a twin on the shelf."""
        with self.store.reading() as session:
            twins = shelf.find(session, shelf.Wanted(made=("twin",), struck=True))
            return frozenset(position_key(one.source["of"]) for one in twins)

    def keep(self, pair: Pair) -> int:
        """Keep the exercises of both positions; how many were new."""
        return shelve(self.store, pair.all_exercises())

    def finish(self) -> list[Path]:
        """Nothing more is written."""
        return []


class PairFile:
    """A file of JSON lines, a proved position on each; its twin follows it."""

    def __init__(self, path: Path) -> None:
        """At this path; it need not be there yet."""
        self.file = ExerciseFile(path)

    def known(self) -> frozenset[str]:
        """The positions that have a twin in the file; raises InputError as `ExerciseFile.read`."""
        return frozenset(
            position_key(one.source.of) for one in self.file.read() if one.source.made == "twin"
        )

    def keep(self, pair: Pair) -> int:
        """Add both positions; how many exercises they admit together."""
        self.file.add(pair.first, pair.twin)
        return len(pair.all_exercises())

    def finish(self) -> list[Path]:
        """Nothing more is written."""
        return [self.file.path] if self.file.path.exists() else []

    def pairs(self) -> Iterator[Pair]:
        """The pairs in the file, in order."""
        every = self.file.read()
        firsts = {one.fen: one for one in every if one.source.made != "twin"}
        for one in every:
            first = firsts.get(one.source.of)
            change = first and twin_again(first.survey, one.survey)
            pair = first and change and pair_of(first, change, one)
            if pair:
                yield pair


class PairFolder(PairFile):
    """A folder: the file of JSON lines, and from it sheets, answers, EPD and PGN."""

    def __init__(self, folder: Path, layout: Layout | None = None) -> None:
        """The folder is made where it is not there. Raises FileError where it cannot be."""
        self.folder, self.layout = folder, layout or Layout()
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise FileError(f"{folder}: {error.strerror}") from error
        super().__init__(folder / "positions.jsonl")

    def finish(self) -> list[Path]:
        """Write the sheets, the answers, EPD and PGN anew, from all pairs in the file."""
        pairs = list(self.pairs())
        try:
            whole = super().finish()
        except OSError as error:
            raise FileError(f"{self.folder}: {error.strerror}") from error
        return [*whole, *(write_files(self.folder, self._files(pairs)) if pairs else ())]

    def _files(self, pairs: list[Pair]) -> dict[str, bytes | str]:
        language = self.layout.language
        chosen = [one for pair in pairs for one in _on_sheet(pair, language)]
        named = [
            (f"{number}{letter}", one)
            for number, pair in enumerate(pairs, 1)
            for letter, one in zip("ab", pair.exercises[0], strict=True)
        ]
        return {
            **dict(sheet_files(sheets(language.say(TITLE), chosen, self.layout))),
            "exercises.epd": epd(named),
            "exercises.pgn": pgn(TITLE, named, language),
        }


def _on_sheet(pair: Pair, language: Language) -> Iterator[SheetExercise]:
    """The best question about both, at the level of the first."""
    first, twin = pair.exercises[0]
    level = level_of(estimate(first.proved.survey, first.kind, first.asked))
    yield SheetExercise(first, level)
    yield SheetExercise(twin, level, told=pair.told(language))
