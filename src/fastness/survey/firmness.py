"""Whether the verdicts stay the same one move deeper, and with other values."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.language import marked
from fastness.survey.claim import Better, CheckedDeeper, NotFirm, ValuesMatter
from fastness.survey.findings import Findings
from fastness.survey.lines import wrapped
from fastness.survey.nouns import listed
from fastness.survey.words import ahead

SHOWN = 12
"""Moves named in a sentence, before the rest is only counted."""

_SOME_VERDICT = marked(
    "How much a piece is worth matters here: with a knight or bishop counted as three"
    " pawns or as a little more (tables {tables}), what can be won is judged differently."
)


def firmness(found: Findings) -> list[str]:
    """Whether verdicts change one move deeper, where that was asked, or with other values."""
    language, rows = found.language, []
    deeper, turned, values = found.one(CheckedDeeper), found.one(NotFirm), found.one(ValuesMatter)
    if deeper:
        told = language.say(
            "Checked one move deeper: every move keeps its verdict, {seen}.",
            seen=ahead(deeper.reach, language),
        )
        rows.append(wrapped(told))
    if turned:
        rows.append(wrapped(_not_firm(found, turned)))
    if values:
        tables = listed(list(values.tables), language)
        told = language.say(_SOME_VERDICT, tables=tables)
        if values.moves:
            told = language.say_many(
                "How much a piece is worth matters here: {moves} keeps the material by one of the"
                " tables {tables} and not by the other.",
                "How much a piece is worth matters here: {moves} keep the material by one of the"
                " tables {tables} and not by the other.",
                len(values.moves),
                moves=_names(found, values.moves),
                tables=tables,
            )
        rows.append(wrapped(told))
    return rows


def _not_firm(found: Findings, turned: NotFirm) -> str:
    language, told = found.language, []
    seen, ranked = ahead(turned.reach, language), found.one(Better)
    if ranked and ranked.moves and not turned.holds:
        # Beside each of the moves stands what it loses.
        return language.say(
            "Checked one move deeper: every other move keeps its verdict, {seen}.", seen=seen
        )
    if turned.falls:
        told.append(
            language.say_many(
                "{names} no longer keeps the material",
                "{names} no longer keep the material",
                len(turned.falls),
                names=_names(found, turned.falls),
            )
        )
    if turned.holds:
        told.append(
            language.say_many(
                "{names} keeps it too",
                "{names} keep it too",
                len(turned.holds),
                names=_names(found, turned.holds),
            )
        )
    return language.say(
        "Checked one move deeper: not firm, since {seen} {changes}.",
        seen=seen,
        changes="; ".join(told),
    )


def _names(found: Findings, moves: Sequence[str]) -> str:
    names = found.moves(moves)
    if len(names) > SHOWN:
        return found.language.say(
            "{names} and {number} more", names=", ".join(names[:SHOWN]), number=len(names) - SHOWN
        )
    return listed(names, found.language)
