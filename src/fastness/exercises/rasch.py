"""Difficulties fitted from attempts, by the model of Rasch 1960.

The chance that a student of ability a answers an exercise of difficulty d rightly is
1 / (1 + exp(d - a)), both in logits. With few attempts that alone would say little, so the estimate
of `difficulty` stands as a prior: fitted is the most probable set of abilities and difficulties,
given normal priors (maximum a posteriori; Swaminathan and Gifford 1985, from memory). Standard
errors come from the curvature at that point.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fastness.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]

ABILITY_SPREAD = 1.5
"""Standard deviation of abilities about 0, in logits; common practice, no source."""
DIFFICULTY_SPREAD = 1.0
"""Standard deviation of difficulties about their estimates, likewise."""
STEPS = 100
CLOSE = 1e-9
"""Logits that the largest step may have at the end."""
FURTHEST_STEP = 2.0
"""Logits that one step may change a value by, so that the first ones do not overshoot."""


@dataclass(frozen=True, slots=True)
class Answered:
    """One judged answer of a student to an exercise, both by number."""

    student: int
    exercise: int
    right: bool


@dataclass(frozen=True, slots=True)
class Fitted:
    """A value in logits and its standard error."""

    logits: float
    error: float


@dataclass(frozen=True, slots=True)
class Fit:
    """Abilities by student, difficulties by exercise."""

    abilities: dict[int, Fitted]
    difficulties: dict[int, Fitted]


def fit(
    answers: Iterable[Answered],
    estimates: Mapping[int, float],
    *,
    ability_spread: float = ABILITY_SPREAD,
    difficulty_spread: float = DIFFICULTY_SPREAD,
) -> Fit:
    """The most probable abilities and difficulties, by Newton's method.

    `estimates` are the prior means in logits of all exercises; one without an answer keeps its
    estimate and the prior's spread. Raises InputError where an answer is to an exercise without
    an estimate, or a spread is not above 0.
    """
    if min(ability_spread, difficulty_spread) <= 0:
        raise InputError("the spread of a prior must be above 0 logits")
    judged = list(answers)
    missing = {answer.exercise for answer in judged} - set(estimates)
    if missing:
        raise InputError(f"exercise {min(missing)} has answers and no estimate")
    untried = {number: Fitted(logits, difficulty_spread) for number, logits in estimates.items()}
    if not judged:
        return Fit({}, untried)
    students = sorted({answer.student for answer in judged})
    exercises = sorted({answer.exercise for answer in judged})
    values, errors = _newton(
        judged, students, exercises, estimates, (ability_spread, difficulty_spread)
    )
    fitted = [Fitted(float(v), float(e)) for v, e in zip(values, errors, strict=True)]
    abilities = dict(zip(students, fitted, strict=False))
    difficulties = dict(zip(exercises, fitted[len(students) :], strict=True))
    return Fit(abilities, untried | difficulties)


def _newton(
    judged: list[Answered],
    students: list[int],
    exercises: list[int],
    estimates: Mapping[int, float],
    spreads: tuple[float, float],
) -> tuple[Numbers, Numbers]:
    """Values and standard errors, the students' first.

    The logarithm of the posterior is strictly concave, so there is one highest point.
    """
    import numpy as np
    from scipy.linalg import cho_factor, cho_solve
    from scipy.special import expit

    count = len(students)
    of_student = {number: place for place, number in enumerate(students)}
    of_exercise = {number: count + place for place, number in enumerate(exercises)}
    one = np.array([of_student[answer.student] for answer in judged])
    other = np.array([of_exercise[answer.exercise] for answer in judged])
    right = np.array([float(answer.right) for answer in judged])
    means = np.array([0.0] * count + [estimates[number] for number in exercises])
    precision = np.repeat([spreads[0] ** -2, spreads[1] ** -2], [count, len(exercises)])
    values = means.copy()
    size = len(values)
    for _ in range(STEPS):
        chance = expit(values[one] - values[other])
        slope = -precision * (values - means)
        np.add.at(slope, one, right - chance)
        np.add.at(slope, other, chance - right)
        weight = chance * (1 - chance)
        curve = np.diag(precision)
        for rows, columns, sign in ((one, one, 1), (other, other, 1), (one, other, -1)):
            np.add.at(curve, (rows, columns), sign * weight)
        np.add.at(curve, (other, one), -weight)
        factor = cho_factor(curve)
        step = cho_solve(factor, slope)
        longest = float(np.abs(step).max())
        values = values + step * min(1.0, FURTHEST_STEP / max(longest, CLOSE))
        if longest < CLOSE:
            break
    errors: Numbers = np.sqrt(np.diag(cho_solve(factor, np.eye(size))))
    return values, errors
