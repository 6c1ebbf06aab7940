"""`fastness twin` over files of games or positions, or over the shelf."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from contextlib import closing, nullcontext
from dataclasses import dataclass
from pathlib import Path

from fastness.cli import INTERRUPTED
from fastness.cli.bar import Bar
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.intake import Problem
from fastness.language import Language
from fastness.publish.sheet import Layout
from fastness.sift import counted
from fastness.survey.position import position_key
from fastness.workflows.looked_at import LookedAt
from fastness.workflows.twinning_many import Place, places_in, places_on_shelf, twins_of_many
from fastness.workflows.twinning_to import PairFile, PairFolder, PairShelf
from fastness.workflows.writable import check_writable

Into = PairShelf | PairFile
Places = Iterable[Place | Problem]


@dataclass(frozen=True, slots=True)
class Wishes:
    """How twins of many positions are looked for: `limit` 0 for all, `processes` 0 one a core."""

    count: int
    seconds: float
    values: str
    limit: int
    processes: int


def twin_many(
    files: tuple[str, ...],
    wishes: Wishes,
    language: Language,
    *,
    shelf: bool,
    to: Path | None,
    store: StorePlace,
) -> int:
    """Look for twins in files, or of the shelf; 2 where something in the input was bad.

    Sheets are in the language.
    """
    with opened(store) if shelf or to is None else nullcontext() as place:
        into = _into(to, language) if to is not None else PairShelf(place) if place else None
        if into is None:
            raise InputError("Nowhere to put the twins.")
        if not shelf:
            with Bar(files, shown=sys.stderr.isatty(), doing="Looking for twins") as bar:
                found = places_in(files, values=wishes.values, on_progress=bar.advance)
                return _look(found, wishes, into, bar)
        if place is None:
            raise InputError("No store is open.")
        there = places_on_shelf(place)
        if not there:
            raise InputError("The shelf is empty. Put exercises on it first, with fastness mine.")
        with Bar((), shown=sys.stderr.isatty(), total=len(there), doing="Looking for twins") as bar:
            return _look(_counted(there, bar.advance), wishes, into, bar)


def _into(to: Path, language: Language) -> PairFile:
    lines = to.suffix == ".jsonl"
    check_writable(to, folder=not lines)
    return PairFile(to) if lines else PairFolder(to, Layout(language=language))


def _counted(places: Iterable[Place], tell: Callable[[int], None]) -> Iterable[Place]:
    for number, place in enumerate(places):
        tell(number)
        yield place


def _look(places: Places, wishes: Wishes, into: Into, bar: Bar) -> int:
    asked = {"count": wishes.count, "seconds": wishes.seconds, "values": wishes.values}
    looked_at = LookedAt("twin", asked, known=into.known())
    status = looked = paired = exercises = 0
    found = twins_of_many(
        places,
        count=wishes.count,
        seconds=wishes.seconds,
        values=wishes.values,
        processes=wishes.processes,
        known=looked_at,
    )
    stopped = False
    try:
        with closing(found) as items:
            for item in items:
                if isinstance(item, Problem):
                    bar.say(item.message)
                    status = 2 if item.kind == "error" else status
                    continue
                looked += 1
                if not item.pairs:
                    looked_at.add(position_key(item.place.fen))
                paired += bool(item.pairs)
                exercises += sum(into.keep(pair) for pair in item.pairs)
                if paired == wishes.limit > 0:
                    break
    except KeyboardInterrupt:
        stopped = True
    bar.close()
    written = into.finish()
    print(
        f"{counted(looked, 'position')} looked at, {paired} with a twin,"
        f" {counted(exercises, 'new exercise')}."
    )
    for path in written:
        print(path)
    return INTERRUPTED if stopped else status
