"""Fitting abilities and difficulties: worked by hand, and known values found again."""

import math

import numpy as np
import pytest

from fastness.errors import InputError
from fastness.exercises.rasch import Answered, Fitted, fit


def test_one_right_answer_by_hand() -> None:
    """With both priors N(0, 1) and one right answer, ability a and difficulty -a.

    The slope vanishes where a = 1 - p and p = 1 / (1 + exp(-2a)): a = 0.33745, p = 0.66256. The
    curvature is [[1 + w, -w], [-w, 1 + w]] with w = p (1 - p) = 0.22357, and its inverse has
    (1 + w) / (1 + 2w) = 0.84551 on the diagonal, the square of 0.91952.
    """
    found = fit([Answered(1, 7, True)], {7: 0.0}, ability_spread=1, difficulty_spread=1)
    assert found.abilities[1].logits == pytest.approx(0.33745, abs=1e-4)
    assert found.difficulties[7].logits == pytest.approx(-0.33745, abs=1e-4)
    for fitted in (found.abilities[1], found.difficulties[7]):
        assert fitted.error == pytest.approx(0.91952, abs=1e-4)


def test_two_exercises_without_a_prior_by_hand() -> None:
    """30 students get only the first right, 10 only the second.

    All have one point, so one ability, 0. The first is answered rightly by 3 in 4, so its
    difficulty is -ln 3, and the other's ln 3 (joint maximum likelihood).
    """
    answers = [
        Answered(student, exercise, (student < 30) == (exercise == 1))
        for student in range(40)
        for exercise in (1, 2)
    ]
    found = fit(answers, {1: 0.0, 2: 0.0}, ability_spread=1e4, difficulty_spread=1e4)
    one, two = (found.difficulties[number].logits for number in (1, 2))
    assert two - one == pytest.approx(2 * math.log(3), abs=1e-4)


def test_without_attempts_the_estimate_stands() -> None:
    assert fit([], {3: 1.25}).difficulties == {3: Fitted(1.25, 1.0)}
    found = fit([Answered(1, 4, False)], {3: 1.25, 4: 0.0})
    assert found.difficulties[3] == Fitted(1.25, 1.0)
    assert found.difficulties[4].logits > 0


def test_known_values_are_found_again() -> None:
    dice = np.random.default_rng(6)
    abilities = dice.normal(0, 1.5, 60)
    estimates = dice.normal(0, 1, 80)
    difficulties = estimates + dice.normal(0, 1, 80)
    answers = [
        Answered(student, exercise, bool(dice.random() < chance))
        for student, ability in enumerate(abilities)
        for exercise, difficulty in enumerate(difficulties)
        if dice.random() < 0.5
        for chance in [1 / (1 + math.exp(difficulty - ability))]
    ]
    found = fit(answers, dict(enumerate(estimates.tolist())))
    for known, fitted in (
        (difficulties, found.difficulties),
        (abilities, found.abilities),
    ):
        values = np.array([fitted[number].logits for number in range(len(known))])
        errors = np.array([fitted[number].error for number in range(len(known))])
        assert np.corrcoef(known, values)[0, 1] > 0.9
        inside = np.abs(known - values) < 1.96 * errors
        assert 0.88 <= inside.mean() <= 1
        # The standard errors are neither boasting nor idle.
        assert 0.8 < np.sqrt(np.mean(((known - values) / errors) ** 2)) < 1.25
    before = np.abs(estimates - difficulties).mean()
    after = np.abs([found.difficulties[n].logits - d for n, d in enumerate(difficulties)]).mean()
    # About 30 answers each, of weight 0.17 on average, leave an error of 1 / sqrt(1 + 30 * 0.17),
    # 0.4 of the prior's; abilities have errors too.
    assert after < 0.6 * before


def test_bad_input_is_told() -> None:
    with pytest.raises(InputError, match="exercise 9 has answers and no estimate"):
        fit([Answered(1, 9, True)], {})
    with pytest.raises(InputError, match="above 0"):
        fit([], {}, ability_spread=0)
