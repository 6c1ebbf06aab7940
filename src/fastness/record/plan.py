"""The month's plan: which themes to teach next, at most one a week, with own examples."""

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from fastness.record.diagnosis import Diagnosis, Finding
from fastness.record.episode import Episode
from fastness.record.examples import best_examples
from fastness.survey.position import position_key

WEEKS = 4


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme for one week, counted from 1: a cause, whom it is for, and examples of theirs.

    `weight` is the excess of all of them together, in centipawns a game.
    """

    week: int
    cause: str
    students: tuple[str, ...]
    weight: float
    examples: tuple[Episode, ...]


def months_plan(diagnoses: Mapping[str, Diagnosis], weeks: int = WEEKS) -> tuple[Theme, ...]:
    """The themes of the coming weeks for the students named, a single one or a whole group.

    A theme is a cause told of at least one of them. Themes that cost them most together come
    first; no theme comes twice, and there may be fewer than weeks. Nor does a position: where it
    would show two themes it shows the first, and the other has the next clearest.
    """
    findings: dict[str, dict[str, Finding]] = {}
    for student in sorted(diagnoses):
        for finding in diagnoses[student].told:
            findings.setdefault(finding.name, {})[student] = finding
    ranked = sorted(findings.items(), key=lambda one: (-_weight(one[1].values()), one[0]))
    themes: list[Theme] = []
    shown: set[str] = set()
    for week, (cause, of) in enumerate(ranked[:weeks], start=1):
        examples = best_examples(_unseen(of.values(), shown))
        shown |= {_position(one) for one in examples}
        themes.append(Theme(week, cause, tuple(of), _weight(of.values()), examples))
    return tuple(themes)


def _weight(findings: Iterable[Finding]) -> float:
    return sum(one.excess for one in findings)


def _unseen(findings: Iterable[Finding], shown: AbstractSet[str]) -> list[Episode]:
    """One loss in each position that was not shown."""
    losses = {_position(loss): loss for one in findings for loss in one.losses}
    return [loss for position, loss in losses.items() if position not in shown]


def _position(episode: Episode) -> str:
    return position_key(episode.occasion["fen"])
