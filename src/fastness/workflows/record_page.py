"""A student's record as a page of plain text for the teacher, at most 88 columns wide."""

from __future__ import annotations

from collections.abc import Iterator

import chess

from fastness.record import ENOUGH, Episode, Finding, Rate, finding_sentence
from fastness.sift import counted
from fastness.survey.lines import numbered_move, wrapped
from fastness.workflows.recording import StudentRecord

SHOWN = 12
"""Causes in the table."""


def record_page(record: StudentRecord) -> str:
    """The record: what was held, what stands out with the best own examples, every cause."""
    parts = [_head(record), _held(record), *_findings(record), _table(record), _remarks(record)]
    return "\n\n".join(part for part in parts if part) + "\n"


def in_words(rate: Rate) -> str:
    """``held 7 of 11 (36 to 86 in a hundred)``, or that there are too few to tell."""
    told = f"held {rate.held} of {rate.of}"
    if not rate.enough:
        return f"{told}, too few to tell"
    return f"{told} ({100 * rate.low:.0f} to {100 * rate.high:.0f} in a hundred)"


def _head(record: StudentRecord) -> str:
    found = record.diagnosis
    group = f" ({record.group})" if record.group else ""
    title = f"{record.name}{group}: {counted(found.games, 'game')}"
    if not found.episodes:
        return f"{title}\n{wrapped('Nothing was in danger in them.')}"
    told = (
        f"{counted(found.episodes, 'danger')}; of those that could be met, {in_words(found.held)}."
    )
    if not found.compared:
        told += " There is no group to compare with, so nothing can stand out."
    return f"{title}\n{wrapped(told)}"


def _held(record: StudentRecord) -> str:
    held = record.diagnosis.held_examples
    rows = [wrapped(place(record, one), hang=2) for one in held]
    return "\n".join(["Held", *rows]) if rows else ""


def place(record: StudentRecord, one: Episode) -> str:
    """``game 12 against Weber, Anna, 2026.03.02: 17...Nd5 kept the knight on f6``."""
    occasion = one.occasion
    board = chess.Board(occasion["fen"])
    move = numbered_move(board, occasion["played"]["uci"])
    units = " and ".join(_unit(board, square) for square in occasion["units"][:2])
    where = f"game {one.game} against {record.game(one.game).opponent}, {one.date}"
    if one.held:
        return f"{where}: {move} kept {units or 'everything'}"
    keeping = ", ".join(occasion["holding"][:4])
    what = f"cost {one.lost / 100:g} pawns' worth" + (f" ({units})" if units else "")
    return f"{where}: {move} {what}; {keeping} would have held"


def _unit(board: chess.Board, square: str) -> str:
    kind = board.piece_type_at(chess.parse_square(square))
    return f"the {chess.piece_name(kind)} on {square}" if kind else square


def _findings(record: StudentRecord) -> Iterator[str]:
    found = record.diagnosis
    if not found.told:
        enough = found.held.of >= ENOUGH
        reason = "Nothing stands out." if enough else "Too few dangers to tell anything yet."
        yield f"What stands out\n{wrapped(reason)}"
    for number, finding in enumerate(found.told, 1):
        rows = [f"What stands out, {number}: {finding.name}", wrapped(numbers(finding))]
        rows += [wrapped(place(record, one), hang=2) for one in finding.examples]
        yield "\n".join(rows)


def numbers(finding: Finding) -> str:
    """A finding with its numbers, in sentences for the teacher."""
    told = [finding_sentence(finding)]
    if finding.rate is not None:
        told.append(f"With it, {in_words(finding.rate)}.")
    group = finding.group_per_game
    beside = f"; {group / 100:.2f} in the others'" if group is not None else ""
    told.append(
        f"It cost {finding.lost_per_game / 100:.2f} pawns' worth a game{beside}, and"
        f" {finding.low / 100:.2f} to {finding.high / 100:.2f} more than was to be expected."
    )
    return " ".join(told)


def _table(record: StudentRecord) -> str:
    rows = [_row(one) for one in record.diagnosis.causes[:SHOWN]]
    if not rows:
        return ""
    title = "All causes: what fell, pawns' worth lost a game, and in the others' games"
    return "\n".join([title, *rows])


def _row(finding: Finding) -> str:
    group = finding.group_per_game
    beside = f"{group / 100:6.2f}" if group is not None else "     -"
    return f"  {finding.name:<44} {finding.fell:3}  {finding.lost_per_game / 100:6.2f}  {beside}"


def _remarks(record: StudentRecord) -> str:
    rows = []
    for game in record.games:
        for remark in game.remarks:
            to = f" to {remark.outcome}" if remark.outcome else ""
            told = f"game {game.game.game}, ply {remark.ply}: {remark.action}{to}: {remark.reason}"
            rows.append(wrapped(told, hang=2))
    return "\n".join(["Your corrections", *rows]) if rows else ""
