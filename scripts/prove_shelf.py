"""Whether every answer of the shelf stands up to the plain reference, and how firm it is.

Usage: python -m scripts.prove_shelf STORE.sqlite [--mine GAMES.pgn ...] [--number N] [--seed S]
       [--proofs FILE.jsonl] [--threads N] [--deeper N]

Mines GAMES.pgn until N exercises are on the shelf of the store, draws N of them, position by
position in a seeded order, and judges every answer that counts for or against a student again, the
right ones and the wrong ones, by `tests.judge.on_exercises`: the plain reference, which shares no
code with the core, at the reach of the exercise and one reach deeper. What only the evaluation
puts behind is no matter of proof: there the evaluation is asked again with ten times the nodes.
Every disagreement is printed with its FEN, and the exit status is then 1.

With --deeper, N exercises of these are judged at two reaches more than their own by the fast
search: how often does a verdict that is called firm still change?

What is in FILE.jsonl (by default beside the store), and for --deeper in FILE.deeper.jsonl, is not
judged again, so that a stopped run goes on.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Lock

from fastness import core
from fastness.core.shapes import Net
from fastness.exercises.exercise import KINDS, Exercise
from fastness.exercises.remedy import in_centipawns
from fastness.exercises.shelving import as_exercise
from fastness.store import Store, open_store, shelf
from fastness.workflows.mining import Mined, mine_files
from fastness.workflows.mining_to import Shelf
from scripts.firmness import Row, deeper, read_rows, report_deeper
from tests.judge.on_exercises import Bench, Judged, judge_exercise
from tests.judge.plain import running

Numbered = tuple[int, Exercise]


def filled(store: Store, games: Sequence[Path], number: int, threads: int) -> None:
    """Mine games until so many exercises are on the shelf."""
    into = Shelf(store)
    with store.reading() as session:
        there = len(shelf.find(session))
    if there >= number:
        return
    found = mine_files(games, threads=threads, known=into.known())
    with closing(found) as items:
        for item in items:
            if isinstance(item, Mined):
                there += into.keep(item)
                if there >= number:
                    return


def drawn(store: Store, number: int, seed: int) -> list[list[Numbered]]:
    """So many exercises of the shelf, those of one position together, in a seeded order."""
    by_position: dict[str, list[Numbered]] = {}
    with store.reading() as session:
        for row in shelf.find(session):
            by_position.setdefault(row.fen, []).append((row.id, as_exercise(row)))
    positions = [by_position[fen] for fen in sorted(by_position)]
    random.Random(seed).shuffle(positions)
    taken: list[list[Numbered]] = []
    for exercises in positions:
        left = number - sum(map(len, taken))
        if left > 0:
            taken.append(exercises[:left])
    return taken


def prove(positions: Sequence[list[Numbered]], proofs: Path, threads: int) -> list[Row]:
    """Judge what is not in the file of proofs yet, and give all its rows that were drawn."""
    done = read_rows(proofs)
    waiting = iter(
        [left for one in positions if (left := [each for each in one if each[0] not in done])]
    )
    lock = Lock()

    def work() -> None:
        with running() as plain:
            while True:
                with lock:
                    exercises = next(waiting, None)
                if exercises is None:
                    return
                bench = Bench(exercises[0][1].fen, plain)
                rows = [proved(number, one, bench) for number, one in exercises]
                with lock, proofs.open("a", encoding="utf-8") as file:
                    for row in rows:
                        done[row["number"]] = row
                        file.write(json.dumps(row) + "\n")

    with ThreadPoolExecutor(threads) as pool:
        for one in [pool.submit(work) for _ in range(threads)]:
            one.result()
    return [done[number] for one in positions for number, _ in one]


def proved(number: int, exercise: Exercise, bench: Bench) -> Row:
    """An exercise with every answer judged."""
    start = time.perf_counter()
    judged = [_weighed(one, exercise) for one in judge_exercise(exercise, bench)]
    return {
        "number": number,
        "kind": exercise.kind,
        "fen": exercise.fen,
        "asked": exercise.asked,
        "answers": [[one.answer, one.accepted, one.route, one.fault] for one in judged],
        "not_judged": list(exercise.not_judged),
        "seconds": round(time.perf_counter() - start, 2),
    }


def _weighed(judged: Judged, exercise: Exercise) -> Judged:
    """What only the evaluation puts behind, asked again with ten times the nodes."""
    if judged.route != "evaluation":
        return judged
    survey = core.survey(
        exercise.fen, reach=exercise.proved.survey["reach"], rank_nodes=core.OFFER_NODES
    )
    worth = {move["uci"]: _worth(move["evaluation"]) for move in survey["moves"]}
    gap = min(worth[better] for better in exercise.accepted) - worth[judged.answer]
    fault = "" if gap > 0 else f"{judged.answer} is {-gap} ahead by the evaluation"
    return Judged(judged.answer, judged.accepted, judged.route, fault)


def _worth(evaluation: Net | None) -> int:
    return in_centipawns(evaluation) if evaluation is not None else 0


def faults(rows: Sequence[Row]) -> Iterator[str]:
    """A line for each answer that is wrong, with its position."""
    for row in rows:
        asked = f" {row['asked']}" if row["asked"] else ""
        for _, accepted, route, fault in row["answers"]:
            if fault:
                told = "right" if accepted else "wrong"
                where = f"exercise {row['number']} ({row['kind']}{asked})"
                yield f"{route}: {where}, an answer told {told}: {fault}: {row['fen']}"


def report(rows: Sequence[Row]) -> int:
    """Print what was proved by which route and every disagreement; how many there are."""
    kinds = Counter(row["kind"] for row in rows)
    positions = len({row["fen"] for row in rows})
    print(f"exercises {len(rows)} of {positions} positions: {_counted(kinds, KINDS)}")
    for route in ("units", "moves", "replies", "evaluation"):
        answers = [one for row in rows for one in row["answers"] if one[2] == route]
        right = sum(accepted for _, accepted, _, _ in answers)
        wrong = sum(bool(fault) for *_, fault in answers)
        print(f"{route}: {right} right and {len(answers) - right} wrong answers, false {wrong}")
    print(f"not judged: {sum(len(row['not_judged']) for row in rows)} answers")
    print(f"processor hours of one core, about {sum(row['seconds'] for row in rows) / 3600:.1f}")
    told = list(faults(rows))
    for line in told:
        print(line)
    return len(told)


def _counted(counts: Counter[str], names: Sequence[str]) -> str:
    return ", ".join(f"{name} {counts[name]}" for name in names)


def main() -> int:
    """Mine, prove, measure, and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("store", type=Path)
    parser.add_argument("--mine", type=Path, nargs="*", default=[])
    parser.add_argument("--number", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--proofs", type=Path)
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--deeper", type=int, default=0)
    options = parser.parse_args()
    store = open_store(options.store)
    filled(store, options.mine, options.number, options.threads)
    positions = drawn(store, options.number, options.seed)
    proofs = options.proofs or options.store.with_suffix(".proofs.jsonl")
    rows = prove(positions, proofs, options.threads)
    wrong = report(rows)
    if options.deeper:
        every = [one for exercises in positions for one in exercises]
        chosen = random.Random(options.seed).sample(every, min(options.deeper, len(every)))
        kept = proofs.with_suffix(".deeper.jsonl")
        report_deeper(deeper(chosen, kept, options.threads))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
