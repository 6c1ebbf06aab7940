"""Spacing by FSRS against fixed intervals, on invented students who forget by a law of their own.

Usage: python -m scripts.simulate_practice [--students N] [--seed S]

Each student learns `PATTERNS` patterns over a term of twelve weeks and may answer so many a day; a
way of spacing says what is due, and the longest due is answered first. How students forget is not
FSRS's own model: the chance of knowing a pattern after t days is exp(-t / s) (Ebbinghaus 1885) or
(1 + t / s) ** -0.5 (a power law, Wickelgren 1974), where s in days grows by `GROWS` with each right
answer and by more the harder it was to recall, and shrinks by `SHRINKS` with each wrong one; s
begins anew for each student and pattern. Growth and shrinking are invented, no source.

Printed for each law and each way of spacing: the answers given, the share that was right, and the
chance of knowing a pattern two weeks after the term, with a 95 % interval over students.
"""

from __future__ import annotations

import argparse
import datetime
import math
import random
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fastness.practice.scheduling import Tried, schedule

PATTERNS = 40
TERM = 84
"""Days."""
LATER = 14
"""Days after the term."""
A_DAY = 4
"""Answers a day at the most."""
STARTS = (0.5, 4.0)
"""Days between which the strength of a pattern begins."""
GROWS = {"slow": 1.8, "quick": 3.5}
"""How many times stronger a pattern is after a sure right answer, for two sorts of students."""
SHRINKS = 0.5
BEGIN = datetime.date(2026, 9, 1)

Law = Callable[[float, float], float]
LAWS: dict[str, Law] = {
    "exponential": lambda days, strength: math.exp(-days / strength),
    "power": lambda days, strength: (1 + days / strength) ** -0.5,
}
Spacing = Callable[[Sequence[Tried]], int]
"""From the attempts at one pattern, the days from the last one until it is due."""


def by_fsrs(tried: Sequence[Tried]) -> int:
    """As the practice does it."""
    wait: datetime.timedelta = schedule(tried)["a"].due - tried[-1].made
    return wait.days


def weekly(_: Sequence[Tried]) -> int:
    """Every seven days."""
    return 7


def doubling(tried: Sequence[Tried]) -> int:
    """1, 2, 4 and so on days after a right answer, from 1 again after a wrong one."""
    row = 0
    for one in reversed(tried):
        if not one.right:
            break
        row += 1
    return 1 << max(row - 1, 0)


WAYS: dict[str, Spacing] = {"fsrs": by_fsrs, "weekly": weekly, "doubling": doubling}


@dataclass(frozen=True, slots=True)
class Outcome:
    """Of one student: answers given, the share right, and the mean chance of knowing later."""

    answers: int
    right: float
    later: float


def term(law: Law, grows: float, spacing: Spacing, seed: int) -> Outcome:
    """One student's term."""
    dice = random.Random(seed)
    strengths = [dice.uniform(*STARTS) for _ in range(PATTERNS)]
    tried: list[list[Tried]] = [[] for _ in range(PATTERNS)]
    due: dict[int, int] = {}
    answers = right = 0
    last = [0] * PATTERNS
    for day in range(TERM):
        waiting = sorted((at for at in due if due[at] <= day), key=lambda at: (due[at], at))
        new = [at for at in range(PATTERNS) if at not in due]
        for at in [*waiting, *new][:A_DAY]:
            chance = law(day - last[at], strengths[at]) if tried[at] else 0.5
            knows = dice.random() < chance
            if knows:
                strengths[at] *= 1 + (grows - 1) * (2 - chance)
            else:
                strengths[at] = max(strengths[at] * SHRINKS, STARTS[0])
            made = BEGIN + datetime.timedelta(days=day)
            tried[at].append(Tried("a", made, knows))
            last[at] = day
            due[at] = day + max(1, spacing(tried[at]))
            answers, right = answers + 1, right + knows
    later = [
        law(TERM + LATER - last[at], strengths[at]) if tried[at] else 0.0 for at in range(PATTERNS)
    ]
    return Outcome(answers, right / answers, statistics.fmean(later))


def compared(students: int, seed: int) -> dict[tuple[str, str, str], list[Outcome]]:
    """The outcomes of the same students by law, sort of student and way of spacing."""
    return {
        (law, sort, way): [
            term(LAWS[law], GROWS[sort], WAYS[way], seed + at) for at in range(students)
        ]
        for law in LAWS
        for sort in GROWS
        for way in WAYS
    }


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--students", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    head = f"{'law':<14}{'student':<9}{'spacing':<10}{'answers':>9}{'right':>8}{'later':>8}"
    print(f"{head}  95 % interval")
    for (law, sort, way), found in compared(given.students, given.seed).items():
        later = [one.later for one in found]
        mean = statistics.fmean(later)
        half = 1.96 * statistics.stdev(later) / math.sqrt(len(later))
        answers = statistics.fmean(one.answers for one in found)
        right = statistics.fmean(one.right for one in found)
        told = f"{law:<14}{sort:<9}{way:<10}{answers:>9.0f}{right:>8.2f}{mean:>8.3f}"
        print(f"{told}  {mean - half:.3f} to {mean + half:.3f}")


if __name__ == "__main__":
    main()
