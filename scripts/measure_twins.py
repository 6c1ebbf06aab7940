"""How often positions from games have a twin, and how long one takes.

Usage: python -m scripts.measure_twins [--number N] [--seed S] [--count N] [--seconds S]
       [--fens FILE] [--print N] [--sheet FILE.pdf]

Takes N positions with a danger and a firm remedy in a shuffled order from FILE (one FEN a line;
those of the historic games by default), looks for twins of each, and proves every twin again by
the plain reference, which shares no code with the core, at the full reach and one reach deeper:
that the move that was best still holds in the one and falls, or holds, in the other, and that the
better ways hold. With --print so many of
the twins, drawn by the seed, are told in words, and with --sheet printed beside their positions.
Stopped with Ctrl-C, it reports what it has.
"""

from __future__ import annotations

import argparse
import contextlib
import random
import statistics
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import TwinError
from fastness.exercises.change_words import twin_in_words
from fastness.exercises.remedy import remedy_of, wants_answer
from fastness.exercises.twin import Twin
from fastness.exercises.twins import REACH, Search, find_twins
from fastness.publish.document import Block, Diagram, Diagrams, Document
from fastness.publish.pdf import pdf
from fastness.survey.words import side_name
from fastness.workflows.twinning import best_in_words, changed
from tests.judge.on_exercises import Bench
from tests.judge.plain import Plain, running

FENS = Path(__file__).parents[1] / "tests" / "data" / "historic-positions.fen"


def occasions(fens: Sequence[str], number: int) -> Iterator[Survey]:
    """The first positions with a remedy to turn, each with its firm and ranked survey."""
    found = 0
    for fen in fens:
        if found == number:
            return
        if not wants_answer(core.survey(fen, reach=REACH)):
            continue
        survey = core.survey(fen, reach=REACH, firm=True, rank_nodes=core.RANK_NODES)
        try:
            remedy_of(survey)
        except TwinError:
            continue
        found += 1
        yield survey


def wrong_in(twin: Twin, plain: Plain) -> list[str]:
    """What of a twin does not stand up to the plain reference; nothing if all does."""
    wrong = [] if chess.Board(twin.fen).is_valid() else ["not legal"]
    first, other = Bench(twin.of, plain), Bench(twin.fen, plain)
    for reach in (REACH, REACH + 1):
        if not first.holds(twin.lead, reach):
            wrong.append(f"{twin.lead} in the first at reach {reach}")
        if other.holds(twin.lead, reach) == twin.falls:
            wrong.append(f"{twin.lead} at reach {reach}")
        wrong += [f"{uci} at reach {reach}" for uci in twin.better if not other.holds(uci, reach)]
    return wrong


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--number", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=1, help="twins looked for in each position")
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--fens", type=Path, default=FENS)
    parser.add_argument("--print", type=int, default=0, dest="shown", help="twins shown in words")
    parser.add_argument("--sheet", type=Path, help="those twins as a PDF")
    options = parser.parse_args()

    fens = options.fens.read_text(encoding="utf-8").splitlines()
    random.Random(options.seed).shuffle(fens)
    taken = _Measured()
    with contextlib.suppress(KeyboardInterrupt), running() as plain:
        for survey in occasions(fens, options.number):
            taken.add(survey, plain, options)
    if not taken.searches:
        return
    report(taken)
    drawn = sample(taken, options.shown, options.seed)
    for survey, twin in drawn:
        print(f"\n{twin.of}\n{twin.fen}\n{best_in_words(survey)} {twin_in_words(twin)}")
    if options.sheet:
        options.sheet.write_bytes(pdf(pages(drawn)))


def sample(taken: _Measured, number: int, seed: int) -> list[tuple[Survey, Twin]]:
    """So many of the twins found, each with the survey of its position, in a seeded order."""
    every = [
        (survey, twin)
        for survey, search in zip(taken.surveys, taken.searches, strict=True)
        for twin in search.twins
    ]
    return random.Random(seed).sample(every, min(number, len(every)))


def pages(drawn: Sequence[tuple[Survey, Twin]]) -> Document:
    """Each position with its twin beside it, the side to move below, and the words under both."""
    blocks: list[Block] = []
    for number, (survey, twin) in enumerate(drawn, 1):
        flip = not chess.Board(twin.fen).turn
        told = f"{side_name(survey['side'])} to move. {best_in_words(survey)}"
        before = Diagram(twin.of, told, flip=flip, label=f"{number}a.")
        after = Diagram(twin.fen, twin_in_words(twin), changed(twin), flip, label=f"{number}b.")
        blocks.append(Diagrams((before, after), across=2))
    return Document("Twins of positions from the historic games", blocks, black=True)


@dataclass
class _Measured:
    surveys: list[Survey] = field(default_factory=list)
    searches: list[Search] = field(default_factory=list)
    walls: list[float] = field(default_factory=list)
    own: list[float] = field(default_factory=list)
    wrong: int = 0

    def add(self, survey: Survey, plain: Plain, options: argparse.Namespace) -> None:
        """Looks for the twins of one position and proves them again."""
        wall, cpu = time.perf_counter(), time.process_time()
        search = find_twins(survey, count=options.count, seconds=options.seconds)
        self.walls.append(time.perf_counter() - wall)
        self.own.append(time.process_time() - cpu)
        self.surveys.append(survey)
        self.searches.append(search)
        for twin in search.twins:
            told = wrong_in(twin, plain)
            self.wrong += bool(told)
            if told:
                print(f"wrong: {twin.of} -> {twin.fen}: {'; '.join(told)}", flush=True)


def report(taken: _Measured) -> None:
    """Prints the share with a twin, the times of the search, and what the twins are like."""
    searches, wrong = taken.searches, taken.wrong
    twins = [twin for search in searches for twin in search.twins]
    having = sum(bool(search.twins) for search in searches)
    print(f"positions {len(searches)}, with a twin {having} ({having / len(searches):.0%})")
    print(f"twins {len(twins)}, proved again {len(twins) - wrong}, wrong {wrong}")
    print(f"the old best move falls in {sum(twin.falls for twin in twins)}")
    print(f"time up in {sum(not search.ended for search in searches)}")
    for name, times in (("seconds", taken.walls), ("processor seconds", taken.own)):
        low, high = (sorted(times)[-(-len(times) * part // 100) - 1] for part in (90, 95))
        print(
            f"{name}: median {statistics.median(times):.2f}, 90th percentile {low:.2f}, "
            f"95th {high:.2f}"
        )
    for label, counted in (
        ("changes", Counter(twin.edit.change for twin in twins)),
        ("new ways", Counter(twin.way for twin in twins)),
    ):
        print(f"{label}: " + ", ".join(f"{name} {n}" for name, n in counted.most_common()))
    for name, numbers in (
        ("natural changes", [search.changes for search in searches]),
        ("seem to turn it", [search.turning for search in searches]),
        ("proved", [search.proved for search in searches]),
    ):
        print(f"{name}: mean {statistics.mean(numbers):.1f}")


if __name__ == "__main__":
    main()
