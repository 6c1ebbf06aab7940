"""The month's plan: which themes to teach next, at most one a week, with own examples."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fastness.record.diagnosis import Diagnosis, Finding
from fastness.record.episode import Episode
from fastness.record.examples import best_examples

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
    first; no theme comes twice, and there may be fewer than weeks.
    """
    findings: dict[str, dict[str, Finding]] = {}
    for student in sorted(diagnoses):
        for finding in diagnoses[student].told:
            findings.setdefault(finding.name, {})[student] = finding
    ranked = sorted(findings.items(), key=lambda one: (-_weight(list(one[1].values())), one[0]))
    return tuple(
        _theme(week, cause, of) for week, (cause, of) in enumerate(ranked[:weeks], start=1)
    )


def _weight(findings: Sequence[Finding]) -> float:
    return sum(one.excess for one in findings)


def _theme(week: int, cause: str, findings: Mapping[str, Finding]) -> Theme:
    examples = [example for one in findings.values() for example in one.examples]
    weight = _weight(list(findings.values()))
    return Theme(week, cause, tuple(findings), weight, best_examples(examples))
