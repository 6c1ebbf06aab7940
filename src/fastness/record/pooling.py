"""Drawing a student's rate towards the group's where the student's numbers are small."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fastness.record.rates import Counts, Rate


@dataclass(frozen=True, slots=True)
class Prior:
    """What the group says of a rate before the student is looked at.

    `share` is the group's rate, `weight` how many episodes it is worth; infinite where the students
    differ no more than chance makes them.
    """

    share: float
    weight: float


def group_prior(students: Sequence[Counts]) -> Prior | None:
    """The beta-binomial prior by moments, from each student's episodes (held, of).

    With n_i episodes of student i, N in all, k students and p the common share:
    S = sum n_i (p_i - p)^2, and the part that is more than chance is
    g = (S - p(1-p)(k-1)) / (p(1-p) (N - sum n_i^2 / N - (k-1))), kept between 0 and 1.
    The weight is 1/g - 1. Source: Kleinman 1973, Proportions with Extraneous Variance, Journal of
    the American Statistical Association 68, with weights n_i.

    Returns:
        None with fewer than two students who have episodes: then there is no group.
    """
    known = [one for one in students if one[1]]
    if len(known) < 2:
        return None
    total = sum(of for _, of in known)
    share = sum(held for held, _ in known) / total
    chance = share * (1 - share)
    spread = sum(of * (held / of - share) ** 2 for held, of in known)
    free = total - sum(of * of for _, of in known) / total - (len(known) - 1)
    if chance == 0 or free <= 0:
        return Prior(share, float("inf"))
    more = min(1.0, (spread - chance * (len(known) - 1)) / (chance * free))
    return Prior(share, 1 / more - 1 if more > 0 else float("inf"))


def pooled_share(held: int, of: int, prior: Prior) -> float:
    """The mean of the beta distribution after `of` episodes: (held + w p) / (of + w)."""
    if prior.weight == float("inf"):
        return prior.share
    if of + prior.weight == 0:
        return prior.share
    return (held + prior.weight * prior.share) / (of + prior.weight)


def pooled(rate: Rate, group: Sequence[Counts]) -> Rate:
    """The rate with its share drawn towards that of the group, if there is a group."""
    prior = group_prior(group)
    return rate if prior is None else replace(rate, pooled=pooled_share(rate.held, rate.of, prior))
