"""Students invented by the probabilities of their losses alone, without any chess.

Dangers of a few kinds arise so often a game; each student lets each kind fall with some chance. A
planted weakness changes one of these chances, or how the student answers.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from fastness.record import StudentGame
from fastness.record.causes import BY_A_PAWN, FAR, GUARDS_LESS, HITS_BACK, HURRIED
from fastness.sift import Occasion
from tests.record.made import occasion, student_game
from tests.record.test_causes import RA3, RC8

# How often a game each danger arises, and what the board shows of it.
DANGERS: dict[str, tuple[float, dict[str, Any]]] = {
    "loose": (3.0, {"mechanisms": ["unguarded"], "units": ["a8"]}),
    "pawn": (1.5, {}),
    "far": (0.9, {"mechanisms": ["fork"], "units": ["a8"], "reach": 2}),
    "pin": (0.6, {"mechanisms": ["pin", "unguarded"], "units": ["a8"]}),
}
LOSSES = (100, 300, 300, 500)


@dataclass(frozen=True, slots=True)
class Invented:
    """Percentages: of each danger let fall, of losses by a guard and by a counterattack.

    `late` is the chance of a loss when little time is left, which is one move in eight.
    """

    loose: int = 20
    pawn: int = 20
    far: int = 40
    pin: int = 30
    guards: int = 15
    hits_back: int = 15
    late: int = 25


CLUB = {
    FAR: Invented(far=85),
    BY_A_PAWN: Invented(pawn=65),
    GUARDS_LESS: Invented(pawn=45, guards=75),
    HITS_BACK: Invented(pawn=45, hits_back=75),
    HURRIED: Invented(late=75),
    "": Invented(loose=5, pawn=4, far=12, pin=8, late=6),
}
ORDINARY = Invented()


def games_of(student: Invented, number: int, seed: list[int]) -> list[StudentGame]:
    """That many games of the student's."""
    dice = np.random.default_rng(seed)
    made = []
    for game in range(number):
        # Some games are harder than others: what happens in one hangs together.
        harder = float(dice.gamma(4, 1 / 4))
        arisen = [name for name, (often, _) in DANGERS.items() for _ in range(dice.poisson(often))]
        occasions = [_met(student, name, 2 * ply, harder, dice) for ply, name in enumerate(arisen)]
        key = "-".join(map(str, [*seed, game]))
        made.append(student_game(occasions, key=key, start_clock=1500.0))
    return made


def _met(
    student: Invented, danger: str, ply: int, harder: float, dice: np.random.Generator
) -> Occasion:
    shown = DANGERS[danger][1]
    hurried = dice.random() < 1 / 8
    clock = 60.0 if hurried else 900.0
    chance = max(getattr(student, danger), student.late if hurried else 0) * harder
    if dice.random() * 100 >= chance:
        return occasion(ply, "held", clock=clock, **shown)
    lost = -int(dice.choice(LOSSES))
    fallen = {**shown, "clock": clock, "net": lost}
    answer = dice.random() * 100
    if danger == "pawn" and answer < student.guards:
        fallen["played"] = RC8
    elif danger == "pawn" and answer < student.guards + student.hits_back:
        fallen["played"] = RA3
    return occasion(ply, "let fall", **fallen)


def slightly(student: Invented, dice: np.random.Generator) -> Invented:
    """The student with another level in everything."""
    level = float(dice.uniform(0.7, 1.3))
    names = ("loose", "pawn", "far", "pin", "late")
    return replace(student, **{name: round(getattr(student, name) * level) for name in names})
