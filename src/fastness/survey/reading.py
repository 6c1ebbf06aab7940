"""A survey as the page tells it, part by part and move by move, for a screen to lay out.

The sentences are those of the page; each line comes with the positions that it goes through.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import chess

from fastness.core.shapes import Survey, Way
from fastness.language import ENGLISH, Language
from fastness.survey.claim import (
    AllHolding,
    Better,
    Falls,
    Holds,
    LeastLost,
    TakingMove,
)
from fastness.survey.claims import claims
from fastness.survey.dangers import danger_entries
from fastness.survey.entries import Entry, line_told
from fastness.survey.failing import below_try, loss_in_words, rest, zugzwang
from fastness.survey.findings import Findings, worth_most
from fastness.survey.firmness import firmness
from fastness.survey.least_words import after_the_least, nothing_holds
from fastness.survey.lines import PASS, move_name
from fastness.survey.remedies import SHOWN_ON, gain, row
from fastness.survey.shown_lines import shown_lines
from fastness.survey.spoken import move_in_words
from fastness.survey.takings import can_be_taken, takes_more, taking_entries
from fastness.survey.titles import (
    danger_title,
    foot,
    head,
    losing_title,
    remedy_title,
    taking_title,
    tries_title,
)
from fastness.survey.ways import OTHER
from fastness.survey.words import WAYS, capital


@dataclass(frozen=True, slots=True)
class Step:
    """One move of a line: as UCI, with its number, and in words to be heard; the position after."""

    uci: str
    name: str
    spoken: str
    fen: str


@dataclass(frozen=True, slots=True)
class ToldLine:
    """A line in words, and its moves to be played on a board."""

    told: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """Some sentences, and the lines that prove them."""

    told: str
    lines: tuple[ToldLine, ...] = ()


@dataclass(frozen=True, slots=True)
class KeepingMove:
    """A move that holds.

    `ways` has the main way first. `told` says how it works and what it gains and costs; `lines`
    show it where there is something to show. `advised` and `rank` are None where nothing was
    ranked.
    """

    uci: str
    name: str
    ways: tuple[Way, ...]
    advised: bool | None
    rank: int | None
    told: str
    lines: tuple[ToldLine, ...]


@dataclass(frozen=True, slots=True)
class FailingMove:
    """A move that falls, told with its reason, and its refutation.

    `tries` is what a natural try sets out to do, None where it is no natural try.
    """

    uci: str
    name: str
    tries: str | None
    told: str
    line: ToldLine


@dataclass(frozen=True, slots=True)
class WinningMove:
    """A move that comes out ahead, and by how much in words."""

    uci: str
    name: str
    told: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands in a position, in the order of the page.

    `ringed` are the squares of what is not safe or in check, `can_be_taken` those of what the
    side to move can take. `takings_first`: what can be taken is worth more than what is in
    danger. `needs_remedy`: the moves that hold are told as remedies; else only what falls and
    what wins. `nothing_holds` tells it where no legal move holds. `rest` tells what the falling
    moves that are no natural tries lose, `notes` whether the verdicts are firm.
    """

    head: str
    ringed: tuple[str, ...]
    can_be_taken: tuple[str, ...]
    danger_title: str
    dangers: tuple[Told, ...]
    taking_title: str
    takings: tuple[Told, ...]
    takings_first: bool
    winning: tuple[WinningMove, ...]
    needs_remedy: bool
    keeping_title: str
    keeping: tuple[KeepingMove, ...]
    nothing_holds: Told | None
    failing_title: str
    failing: tuple[FailingMove, ...]
    rest: str
    notes: tuple[str, ...]
    foot: str


def reading(
    survey: Survey,
    *,
    moves_given: bool = False,
    language: Language = ENGLISH,
    order: Sequence[Way] = WAYS,
) -> Reading:
    """`survey` for the teacher, as `page` tells it.

    Raises ValueError if a line of the survey does not replay.
    """
    found = Findings(claims(survey, moves_given=moves_given, order=order), language)
    return read_findings(survey, found, order)


def read_findings(survey: Survey, found: Findings, order: Sequence[Way] = WAYS) -> Reading:
    """As `reading`, from what was found in the survey."""
    needs_remedy = found.needs_remedy()
    holding = found.one(AllHolding)
    holds_nothing = holding is not None and not holding.moves
    return Reading(
        head=head(found),
        ringed=tuple(found.endangered()),
        can_be_taken=tuple(unit.square for unit in can_be_taken(found)),
        danger_title=danger_title(found),
        dangers=_told(found, danger_entries(found)),
        taking_title=taking_title(found),
        takings=_told(found, taking_entries(found)),
        takings_first=takes_more(found),
        winning=tuple(
            WinningMove(one.move, found.move(one.move), gain(one.net, found.language))
            for one in found.of(TakingMove)
        ),
        needs_remedy=needs_remedy,
        keeping_title=remedy_title(found),
        keeping=_keeping(survey, found, order),
        nothing_holds=_nothing_holds(found) if needs_remedy and holds_nothing else None,
        failing_title=tries_title(found) if needs_remedy else losing_title(found),
        failing=_failing(found),
        rest=_one_row(rest(found)) if needs_remedy and not holds_nothing else "",
        notes=_notes(found),
        foot=foot(found),
    )


def told_line(fen: str, line: Sequence[str], language: Language, told: str = "") -> ToldLine:
    """A line from `fen` in words, `told` or else its moves, with the position after each."""
    board = chess.Board(fen)
    steps: list[Step] = []
    for uci in line:
        name = move_name(board, uci, language)
        spoken = move_in_words(board, uci, name, language)
        if uci != PASS and (board.turn or not steps or steps[-1].uci == PASS):
            name = f"{board.fullmove_number}{'.' if board.turn else '...'}{name}"
        board.push(chess.Move.from_uci(uci))
        steps.append(Step(uci, name, spoken, board.fen()))
    return ToldLine(told or " ".join(step.name for step in steps), tuple(steps))


def _line(found: Findings, line: Sequence[str], told: str = "") -> ToldLine:
    return told_line(found.position.fen, line, found.language, told)


def _told(found: Findings, entries: Iterable[Entry]) -> tuple[Told, ...]:
    return tuple(
        Told(
            " ".join(one.told),
            tuple(_line(found, line.moves, line_told(found, line)) for line in one.lines),
        )
        for one in entries
    )


def _keeping(survey: Survey, found: Findings, order: Sequence[Way]) -> tuple[KeepingMove, ...]:
    """By way as the teacher prefers them, and within a way the better ones first."""
    ranks = {move["uci"]: (move["advised"], move["rank"]) for move in survey["moves"]}
    better = found.one(Better)
    shown_on = better.moves[:SHOWN_ON] if better else ()
    made = []
    for one in found.of(Holds):
        advised, rank = ranks[one.move]
        shown = shown_lines(found, one, advised=one.move in shown_on)
        lines = tuple(_line(found, row_.line, row_.told) for row_ in shown)
        name, ways = found.move(one.move), one.ways or OTHER
        told = row(found, one, shown)
        made.append(KeepingMove(one.move, name, ways, advised, rank, told, lines))
    return tuple(sorted(made, key=lambda one: (order.index(one.ways[0]), one.rank or 0)))


def _nothing_holds(found: Findings) -> Told:
    least = found.one(LeastLost)
    lines = [_line(found, least.line)] if least and least.loses != "mate" else []
    after = after_the_least(found)
    lines += [_line(found, row_.line, row_.told) for row_ in after if row_.line]
    told = [nothing_holds(found), *(row_.told for row_ in after if not row_.line)]
    return Told(" ".join(told), tuple(lines))


def _failing(found: Findings) -> tuple[FailingMove, ...]:
    """The natural tries as the page has them, then the others by how much they lose."""
    falling = sorted(found.of(Falls), key=lambda one: worth_most(one.loses))
    falling.sort(key=lambda one: one.tries is None)
    return tuple(
        FailingMove(
            one.move,
            found.move(one.move),
            one.tries,
            _why_it_fails(found, one),
            _line(found, one.line),
        )
        for one in falling
    )


def _why_it_fails(found: Findings, one: Falls) -> str:
    below = [shown.told for shown in below_try(found, one)]
    return capital("; ".join([loss_in_words(found, one), *below]))


def _notes(found: Findings) -> tuple[str, ...]:
    rows = [zugzwang(found), *map(_join, firmness(found))]
    return tuple(row for row in rows if row)


def _one_row(rows: Sequence[str]) -> str:
    return " ".join(map(_join, rows))


def _join(row: str) -> str:
    """A row of the page without its indent and its breaks."""
    return " ".join(row.split())
