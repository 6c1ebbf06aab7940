"""Proves the claims of a lesson: by the survey, and once more one move deeper."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from fastness import core
from fastness.exercises.proving import LONGER, REACH
from fastness.language import ENGLISH, Language
from fastness.lessons import tries, units, variations
from fastness.lessons.found import Answer, Found, answer
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Block,
    Claim,
    FallsBy,
    Keeps,
    Loses,
    Safety,
    Threatened,
    Twin,
    Variation,
)
from fastness.lessons.seen import Seen

_CHECKS: dict[type[Claim], Callable[..., list[Found]]] = {
    Safety: units.safety,
    FallsBy: units.falls_by,
    Threatened: units.threatened,
    Keeps: tries.keeps,
    AllThatKeep: tries.all_that_keep,
    Loses: tries.loses,
    Better: tries.better,
    Variation: variations.variation,
    Twin: variations.twin,
}
RANKED = (Better, Twin)
"""The claims for which moves are ranked."""


def check_block(
    block: Block,
    language: Language = ENGLISH,
    *,
    reach: int = REACH,
    rank_nodes: int = core.RANK_NODES,
) -> Iterator[Answer]:
    """The answers to the claims about one position, to `reach` and firm one move deeper.

    Better ways are to stay so one move deeper and with `LONGER` times the nodes.
    """
    if block.place is None:
        return
    if not any(isinstance(claim, RANKED) for claim in block.claims):
        rank_nodes = 0  # ranks take many times as long as all the rest
    near = Seen(block.place, reach, rank_nodes)
    far = Seen(block.place, reach + 1, LONGER * rank_nodes, first=near)
    for claim in block.claims:
        check = _CHECKS[type(claim)]
        found = [check(seen, claim, language) for seen in (near, far)]
        yield answer(claim, found[0], found[1], (near.reach, far.reach), language)
