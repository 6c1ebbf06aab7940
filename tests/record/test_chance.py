"""What chance alone makes stand out is not told: the deals, by hand and in simulation."""

from itertools import chain

import numpy as np
import pytest
from scipy.stats import ttest_ind

from fastness.record import StudentGame, all_episodes, diagnose
from fastness.record.chance import beyond_chance, clearness
from fastness.record.excess import Losses, excesses, table_of_losses
from tests.record.invented_students import CLUB, ORDINARY, Invented, games_of
from tests.record.made import occasion, student_game

GAMES = 30
PAWN = "attacked by a pawn"
# Strong but for what takes two moves ahead and for pins, where as much is lost as by everybody.
STRONG_ELSEWHERE = Invented(loose=5, pawn=4, late=6)


def losses_of(*students: list[StudentGame]) -> Losses:
    games = list(chain(*students))
    return Losses([(game.game, game.colour) for game in games], all_episodes(games))


def played(key: str, fell: int, games: int, lost: int = 300) -> list[StudentGame]:
    """So many games, in the first of which a piece that a pawn attacks fell."""
    return [
        student_game(
            [occasion(40, "let fall" if number < fell else "held", net=-lost * (number < fell))],
            key=f"{key} {number}",
        )
        for number in range(games)
    ]


def test_six_of_six_against_none_of_six_is_beyond_chance() -> None:
    """Of the 924 ways to deal twelve games one is as clear: 0.1 %."""
    student, group = losses_of(played("own", 6, 6)), losses_of(played("other", 0, 6))
    assert beyond_chance(student, group) == {PAWN, "less valuable attacker"}


def test_four_of_six_against_two_of_six_is_not() -> None:
    """Of the 924 ways, 225 + 36 + 1 give the student four or more of the six: 28 %."""
    student, group = losses_of(played("own", 4, 6)), losses_of(played("other", 2, 6))
    assert beyond_chance(student, group) == frozenset()


def test_of_three_games_against_three_nothing_is_told() -> None:
    """One deal in twenty is as clear as can be: as many as chance is allowed, and not fewer."""
    student, group = losses_of(played("own", 3, 3)), losses_of(played("other", 0, 3))
    assert beyond_chance(student, group) == frozenset()


def test_without_games_a_group_or_losses_nothing_is_told() -> None:
    student, group = losses_of(played("own", 6, 6)), losses_of(played("other", 0, 6))
    assert beyond_chance(student, losses_of()) == frozenset()
    assert beyond_chance(losses_of(), group) == frozenset()
    assert beyond_chance(group, losses_of(played("third", 0, 6))) == frozenset()


def test_the_more_causes_are_looked_at_the_clearer_one_must_be() -> None:
    """One cause that is just clear enough by itself, and fourteen that are lost by chance alone."""
    dice = np.random.default_rng(8)

    def games(key: str, number: int, weak: int, others: int) -> list[StudentGame]:
        """In the first `weak` games something fell by the weakness; by others here and there."""
        return [
            student_game(
                [
                    occasion(2 * ply, "let fall", mechanisms=[name], units=["a8"], net=-300)
                    for ply, name in enumerate(["weak", *(f"chance {n}" for n in range(others))])
                    if (game < weak if name == "weak" else dice.random() < 0.2)
                ],
                key=f"{key} {game}",
            )
            for game in range(number)
        ]

    def told(others: int) -> frozenset[str]:
        group = losses_of(games("other", 150, 30, others))
        return beyond_chance(losses_of(games("own", 30, 12, others)), group)

    assert told(others=0) == {"weak"}
    assert told(others=14) == frozenset()


def test_the_error_is_that_of_the_interval() -> None:
    """Both rest on whole games: the interval draws them again, here it is the delta method."""
    members = [games_of(one, GAMES, [4, number]) for number, one in enumerate(CLUB.values())]
    student, group = losses_of(members[1]), losses_of(*members[:1], *members[2:])
    found = excesses(student, group)
    names = [one.name for one in found]
    games = np.vstack([table_of_losses(side, names) for side in (student, group)])
    hand = np.arange(len(games)) < GAMES
    of_excess, of_difference = clearness(hand[np.newaxis], games)
    for one, in_errors in zip(found, of_excess[0], strict=True):
        error = (one.high - one.low) / (2 * 1.96)
        assert in_errors == pytest.approx(one.excess / error, rel=0.1, abs=0.05), one.name
    lost, theirs = games[:GAMES, 0], games[GAMES:, 0]
    plain = ttest_ind(lost, theirs, equal_var=False).statistic
    assert of_difference[0, 0] == pytest.approx(plain, rel=1e-9)


@pytest.mark.slow
def test_who_is_like_the_group_is_told_something_at_most_once_in_twenty() -> None:
    """The rate of false findings per student, all causes together: at most 5 % of 120 students."""
    told = 0
    for seed in range(20):
        members = [games_of(ORDINARY, GAMES, [seed, number]) for number in range(6)]
        told += sum(bool(diagnose(games, members).told) for games in members)
    assert told <= 120 / 20


@pytest.mark.slow
def test_who_is_strong_but_for_what_everybody_loses_is_told_nothing() -> None:
    told = 0
    for seed in range(60):
        group = [games_of(ORDINARY, GAMES, [seed, number]) for number in range(5)]
        told += bool(diagnose(games_of(STRONG_ELSEWHERE, GAMES, [seed, 5]), group).told)
    assert told <= 60 / 20
