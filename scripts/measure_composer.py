"""Ask the composer for a dozen different positions and print what it found and how long it took.

Usage: python -m scripts.measure_composer [--count N] [--seconds S] [--seed N]
"""

from __future__ import annotations

import argparse
import time
from itertools import islice

from fastness.exercises.composing import Tally
from fastness.exercises.request import Request
from fastness.workflows.composing import composed

REQUESTS: dict[str, Request] = {
    "a knight, attacked by something worth less": Request("less valuable attacker", "knight"),
    "a pinned piece": Request("pin"),
    "a fork of a rook, one move ahead": Request("fork", "rook", reach=1),
    "a pawn, outnumbered, few ways": Request("outnumbered", "pawn", most=3),
    "a guard taken or driven off": Request("removal of the guard"),
    "an overloaded guard, only one move": Request("overloaded guard", most=1),
    "the king on its back rank": Request("back rank", "king"),
    "mate threatened, one or two moves help": Request(unit="king", most=2),
    "a bishop that block and guard keep": Request(
        unit="bishop", ways=frozenset({"block", "guard"})
    ),
    "a trapped piece": Request("trapped"),
    "seen only two moves ahead, Black to move": Request(reach=2, side="black"),
    "a plain one, kept by capture alone": Request(
        ways=frozenset({"capture"}), most=1, level="plain"
    ),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--count", type=int, default=3)
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    print("| asked for | found | looked at | proved | seconds of processor |")
    print("| --- | --- | --- | --- | --- |")
    for name, request in REQUESTS.items():
        tally, start = Tally(), time.process_time()
        search = composed(request, tally, seed=args.seed, seconds=args.seconds)
        found = len(list(islice(search, args.count)))
        spent = time.process_time() - start
        print(
            f"| {name} | {found} of {args.count} | {tally.looked} | {tally.proved} | {spent:.1f} |",
            flush=True,
        )


if __name__ == "__main__":
    main()
