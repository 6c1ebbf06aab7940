"""Whether the diagnosis finds the weaknesses that are planted in invented clubs.

Usage: python -m scripts.check_planted FOLDER [--first N] [--clubs N] [--threads N] [--only-made]
       [--each] [--dealt]

Makes clubs by `scripts.make_club`, from the first seed on, sifts their games at reach 3 (resumable:
what lies in FOLDER is not made again), and prints for each weakness how often it is the first or
second cause and is told, and how often the student without one gets any. With --dealt, everybody's
games are dealt out again at random first, so that nobody has a weakness: how many are told of one?
"""

from __future__ import annotations

import argparse
import json
import random
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from fastness.intake import Problem
from fastness.record import Diagnosis, StudentGame, diagnose
from fastness.record.causes import (
    BY_A_PAWN,
    FAR,
    FURTHER,
    GUARDS,
    GUARDS_LESS,
    HITS_BACK,
    HURRIED,
)
from fastness.workflows.sifting import sift_files
from scripts.make_club import STARTING_CLOCK, club_games, members

FIRST = 2
"""Among so many findings the weakness must be."""
FINDINGS: dict[str, tuple[str, ...]] = {
    "one move ahead": (FAR, FURTHER),
    "pawn attacks": (BY_A_PAWN,),
    "guards": (GUARDS, GUARDS_LESS),
    "hits back": (HITS_BACK,),
    "time trouble": (HURRIED,),
}
"""What the diagnosis calls each weakness."""


def sifted_club(folder: Path, seed: int, threads: int) -> list[dict[str, Any]]:
    """The games of a club with their occasions, from the folder if they are there."""
    kept = folder / f"club-{seed}.jsonl"
    if not kept.exists():
        pgn = folder / f"club-{seed}.pgn"
        pgn.write_text("".join(club_games(seed)), encoding="ascii")
        rows = [json.dumps(row) for row in _sift(pgn, threads)]
        part = kept.with_suffix(".part")
        part.write_text("\n".join(rows), encoding="utf-8")
        part.replace(kept)
    return [json.loads(row) for row in kept.read_text("utf-8").splitlines()]


def _sift(pgn: Path, threads: int) -> Iterator[dict[str, Any]]:
    for item in sift_files([pgn], offers=False, threads=threads):
        if isinstance(item, Problem):
            raise SystemExit(item.message)
        yield {
            "number": item.game.number,
            "date": item.game.tags["Date"],
            "white": item.game.tags["White"],
            "black": item.game.tags["Black"],
            "plies": len(item.game.moves),
            "occasions": item.occasions,
        }


def games_of(name: str, rows: Iterable[dict[str, Any]]) -> list[StudentGame]:
    """The games of one student of a club."""
    found = []
    for row in rows:
        for colour in ("white", "black"):
            if row[colour] == name:
                occasions = tuple(one for one in row["occasions"] if one["colour"] == colour)
                found.append(
                    StudentGame(
                        game=str(row["number"]),
                        date=row["date"],
                        colour="white" if colour == "white" else "black",
                        moves=(row["plies"] + (colour == "white")) // 2,
                        opponent_rating=None,
                        rating=None,
                        occasions=occasions,
                        start_clock=STARTING_CLOCK,
                    )
                )
    return found


def diagnoses(seed: int, rows: list[dict[str, Any]]) -> Iterator[tuple[str, Diagnosis]]:
    """The weakness planted in each student of a club, and the diagnosis."""
    club = members(seed)
    games = {member.student.name: games_of(member.student.name, rows) for member in club}
    for member in club:
        others = [one for name, one in games.items() if name != member.student.name]
        yield member.weakness, diagnose(games[member.student.name], others)


def told_when_dealt(seed: int, rows: list[dict[str, Any]]) -> Iterator[bool]:
    """Whether anything is told of each of six who got the games of a club at random."""
    names = [member.student.name for member in members(seed)]
    sides = [game for name in names for game in games_of(name, rows)]
    random.Random(f"{seed} dealt").shuffle(sides)
    hands = [sides[first :: len(names)] for first in range(len(names))]
    for hand in hands:
        yield bool(diagnose(hand, [other for other in hands if other is not hand]).told)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--first", type=int, default=1, help="the seed of the first club")
    parser.add_argument("--clubs", type=int, default=20)
    parser.add_argument("--threads", type=int, default=0)
    parser.add_argument("--only-made", action="store_true", help="only the clubs that are there")
    parser.add_argument("--each", action="store_true", help="print every diagnosis")
    parser.add_argument("--dealt", action="store_true", help="deal the games out at random first")
    args = parser.parse_args()
    args.folder.mkdir(parents=True, exist_ok=True)
    found: Counter[str] = Counter()
    clubs = 0
    for seed in range(args.first, args.first + args.clubs):
        if args.only_made and not (args.folder / f"club-{seed}.jsonl").exists():
            continue
        clubs += 1
        rows = sifted_club(args.folder, seed, args.threads)
        if args.dealt:
            found["dealt"] += sum(told_when_dealt(seed, rows))
            continue
        for weakness, diagnosis in diagnoses(seed, rows):
            told = [finding.name for finding in diagnosis.told]
            ranked = [finding.name for finding in diagnosis.causes]
            wanted = FINDINGS.get(weakness, ())
            found[weakness] += any(cause in wanted for cause in ranked[:FIRST])
            found[f"{weakness}, told"] += any(cause in wanted for cause in told)
            found[f"{weakness}, any"] += bool(told)
            if args.each:
                print(seed, weakness, diagnosis.held.held, diagnosis.held.of, told)
    if args.dealt:
        print(f"dealt at random: something told of {found['dealt']} of {6 * clubs}")
        return
    for weakness in FINDINGS:
        told_of = found[f"{weakness}, told"]
        print(f"{weakness}: first or second for {found[weakness]} of {clubs}, told of {told_of}")
    print(f"none: a finding for {found['none, any']} of {clubs}")
    planted = sum(found[weakness] for weakness in FINDINGS)
    print(f"all planted: {planted} of {clubs * len(FINDINGS)}")


if __name__ == "__main__":
    main()
