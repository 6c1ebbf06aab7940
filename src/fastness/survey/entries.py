"""An entry of the page: sentences on units, and below them the lines that prove them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fastness.survey.claim import Retaken, SafeByTactics, TakesInVain, Taking, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, wrapped
from fastness.survey.nouns import Noun, the_unit
from fastness.survey.shown_lines import if_then
from fastness.survey.words import capital, worth


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line that proves an entry (UCI, from the survey's position).

    `falls` is what is taken in it, where several lines show different falls. `back`: the line
    shows how taking back fails, after the other side's pass. `vain`: it shows, after the line told
    before, how what seems to win something back does not.
    """

    moves: tuple[str, ...]
    falls: Noun | None = None
    back: Retaken | None = None
    vain: TakesInVain | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """Sentences that belong together, and the lines that prove them."""

    told: tuple[str, ...]
    lines: tuple[ShownLine, ...] = ()


def entry(told: Iterable[str], line: Sequence[str] = (), back: Iterable[ShownLine] = ()) -> Entry:
    """Sentences, the line that proves them, if there is one, and how taking back fails."""
    proof = (ShownLine(tuple(line)),) if line else ()
    return Entry(tuple(told), (*proof, *back))


def backs(found: Findings, fall: Iterable[UnitAt], line: Sequence[str] = ()) -> list[ShownLine]:
    """For units that fall: how taking one back fails, where that is told.

    And how what seems to win something back fails at the end of the line by which they fall.
    """
    retaken = filter(None, map(found.retaken, fall))
    vain = found.in_vain(line)
    shown = [ShownLine(tuple(back.line), back=back) for back in retaken]
    return [*shown, ShownLine(tuple(vain.line), vain=vain)] if vain else shown


def in_rows(found: Findings, entries: Iterable[Entry]) -> str:
    """Entries as rows of the page: the sentences of each, and below them its lines."""
    rows = []
    for one in entries:
        rows.append(wrapped(" ".join(one.told)))
        rows += [wrapped(line_told(found, line), indent=4, hang=2) for line in one.lines]
    return "\n".join(rows)


def line_told(found: Findings, line: ShownLine) -> str:
    """A line as a sentence, with what falls in it or how taking back fails."""
    if line.back:
        return _taken_back(found, line.back)
    if line.vain:
        return f"{capital(if_then(found, line.vain.line, plies=line.vain.plies).told)}."
    moves = found.line(line.moves)
    if line.falls is None:
        return f"{moves}."
    return found.language.say("{line}: {unit} is taken.", line=moves, unit=line.falls)


def _taken_back(found: Findings, back: Retaken) -> str:
    side = found.own if found.is_own(back.unit) else found.other
    values = {"side": side, "line": found.line_after_pass(back.line)}
    if back.loses == "mate":
        return found.language.say("If {side} takes back: {line}. That is mate.", **values)
    worth_ = worth(back.loses, found.language)
    return found.language.say(
        "If {side} takes back: {line}. That costs {worth}.", **values, worth=worth_
    )


def shown_of(group: Sequence[Unsafe | Taking]) -> Unsafe | Taking:
    """The one of a group unsafe together whose line to show.

    A line in which the defender passes shows only the threat, so another is shown if there is one.
    """
    return min(group, key=lambda one: PASS in one.line[1:])


def safe_by_tactics(found: Findings, claim: SafeByTactics) -> str:
    """That trying to win a unit of either side wins nothing."""
    told = found.language.say(
        "{unit} is safe by tactics: trying to win it wins nothing, as the line shows.",
        unit=the_unit(claim.unit, found.language),
    )
    return capital(told)
