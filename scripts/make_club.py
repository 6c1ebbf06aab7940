"""Play two terms of a club with planted weaknesses and write the games as PGN.

Usage: python -m scripts.make_club OUT.pgn [--seed N] [--rounds N]

Six students, each with a weakness of its own and one with none, meet each other so many times
(six by default: thirty games each), with clocks. The same seed gives the same file. Each student
plays by the rules of `scripts.demo_students`, which know nothing of how games are diagnosed.
"""

from __future__ import annotations

import argparse
import dataclasses
import datetime
import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

import chess
import chess.pgn

from scripts.demo_students import (
    Habit,
    Student,
    choose,
    counterattacks,
    forgets_pawn_attacks,
    guards_anything,
    has_none,
)
from scripts.make_demo_games import OPENINGS, agreed

SEED = 1
ROUNDS = 6
FIRST_EVENING = datetime.date(2026, 1, 12)
TERM = 30
"""Evenings over which the games are spread."""
STARTING_CLOCK = 1500
INCREMENT = 5
TIME_TROUBLE = STARTING_CLOCK // 10
LONGEST = 55
"""Full moves after which a game is agreed drawn."""

WEAKNESSES = {
    "one move ahead": (has_none, 0, 0, False, 1.0),
    "pawn attacks": (forgets_pawn_attacks, 95, 95, False, 1.0),
    "guards": (guards_anything, 95, 95, True, 1.0),
    "hits back": (counterattacks, 95, 95, True, 1.0),
    "time trouble": (has_none, 0, 95, False, 2.4),
    "none": (has_none, 0, 95, False, 1.0),
}
"""By the name of the weakness: the habit, how often it is at work and how often two moves ahead
are seen (percent), whether it is liked for itself, and how much time is taken over a move."""

# Given names of many origins, family names from the mill; all invented for the club.
GIVEN = (
    "Amina", "Bruno", "Chiara", "Dmitri", "Esi", "Farid", "Greta", "Hana", "Idris", "Jaya",
    "Kofi", "Leila", "Mateo", "Nadia", "Oskar", "Priya", "Quentin", "Rosa", "Soren", "Tariq",
)  # fmt: skip
FAMILY = (
    "Bolter", "Chaffcutter", "Damsel", "Eelgate", "Furrow", "Grainger", "Hopperton", "Jackstaff",
    "Leatside", "Millstone", "Penstock", "Quern", "Rynd", "Sackhoist", "Tailrace", "Undershot",
    "Wallower", "Whipple",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Member:
    """A student of the club with the weakness planted, and how much time is taken over moves."""

    student: Student
    weakness: str
    slowness: float


def members(seed: int) -> list[Member]:
    """The six of a club, named by the seed."""
    dice = random.Random(f"{seed} names")
    given, family = dice.sample(GIVEN, 6), dice.sample(FAMILY, 6)
    found = []
    for index, (weakness, how) in enumerate(WEAKNESSES.items()):
        habit: Habit = how[0]
        _, strength, sight, fond, slowness = how
        name = f"{family[index]}, {given[index]}"
        student = Student(name, habit, strength=strength, sight=sight, hurry=2, fond=fond)
        found.append(Member(student, weakness, slowness))
    return found


class Clocks:
    """Both clocks of a game, in seconds."""

    def __init__(self, dice: random.Random) -> None:
        """Start both."""
        self.dice = dice
        self.left = {chess.WHITE: STARTING_CLOCK, chess.BLACK: STARTING_CLOCK}

    def spend(self, member: Member, board: chess.Board) -> int:
        """Take the time of a move and give what is left after it."""
        colour = board.turn
        usual = self.dice.randint(3, 15) if board.fullmove_number <= 6 else self.dice.randint(8, 60)
        spent = int(usual * member.slowness)
        if self.left[colour] < TIME_TROUBLE:
            spent = self.dice.randint(2, 9)
        self.left[colour] = max(self.left[colour] - spent, 5) + INCREMENT
        return self.left[colour]


def play(white: Member, black: Member, dice: random.Random) -> chess.pgn.Game:
    """One game, with the clocks of both."""
    game = chess.pgn.Game()
    node: chess.pgn.GameNode = game
    board, clocks = chess.Board(), Clocks(dice)
    opening = OPENINGS[dice.randrange(len(OPENINGS))].split()
    result = "*"
    while result == "*":
        member = white if board.turn == chess.WHITE else black
        move = board.parse_san(opening.pop(0)) if opening else _chosen(member, board, clocks, dice)
        left = clocks.spend(member, board)
        node = node.add_main_variation(move)
        node.set_clock(left)
        board.push(move)
        result = _result(board, dice)
    game.headers["Result"] = result
    return game


def _chosen(member: Member, board: chess.Board, clocks: Clocks, dice: random.Random) -> chess.Move:
    """The student's move; who is short of time looks at little but captures."""
    student = member.student
    if clocks.left[board.turn] < TIME_TROUBLE:
        student = dataclasses.replace(student, hurry=70)
    return choose(student, board, dice)


def _result(board: chess.Board, dice: random.Random) -> str:
    outcome = board.outcome(claim_draw=True)
    if outcome is not None:
        return outcome.result()
    if board.fullmove_number > LONGEST:
        return "1/2-1/2"
    verdict = agreed(board, dice)
    return verdict[0] if verdict else "*"


def club_games(seed: int = SEED, rounds: int = ROUNDS) -> Iterator[str]:
    """The games as PGN text, in order of the evenings."""
    club = members(seed)
    pairs = [pair for _ in range(rounds) for pair in combinations(club, 2)]
    for number, (one, other) in enumerate(pairs):
        dice = random.Random(f"{seed} game {number}")
        white, black = (one, other) if (number + number // 15) % 2 else (other, one)
        game = play(white, black, dice)
        evening = FIRST_EVENING + datetime.timedelta(weeks=number * TERM // len(pairs))
        headers = game.headers
        headers["Event"] = "Millrace Chess Club Evening"
        headers["Site"] = "Millrace"
        headers["Date"] = evening.strftime("%Y.%m.%d")
        headers["Round"] = str(number + 1)
        headers["White"], headers["Black"] = white.student.name, black.student.name
        headers["TimeControl"] = f"{STARTING_CLOCK}+{INCREMENT}"
        exporter = chess.pgn.StringExporter(columns=80, headers=True, comments=True)
        yield f"{game.accept(exporter)}\n\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--rounds", type=int, default=ROUNDS)
    args = parser.parse_args()
    args.out.write_text("".join(club_games(args.seed, args.rounds)), encoding="ascii")


if __name__ == "__main__":
    main()
