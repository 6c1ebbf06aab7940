"""Whether the verdicts stay the same one move deeper, and with other values."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.language import marked
from fastness.survey.claim import Better, CheckedDeeper, Holds, NotFirm, ValuesMatter
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
        rows += [wrapped(told) for told in _by_values(found, values)]
    return rows


def _by_values(found: Findings, values: ValuesMatter) -> list[str]:
    """By which table of values the moves keep the material that do not keep it by the other."""
    language, told = found.language, []
    for table in values.tables if found.position.values in values.tables else ():
        # A move that holds here does so by the table of the survey.
        ours = table == found.position.values
        moves = [uci for uci in values.moves if (found.holding(uci) is not None) == ours]
        others = listed([other for other in values.tables if other != table], language)
        if moves:
            told.append(
                language.say_many(
                    "How much a piece is worth matters here: {moves} keeps the material by the"
                    " table {table}, but not by {others}.",
                    "How much a piece is worth matters here: {moves} keep the material by the"
                    " table {table}, but not by {others}.",
                    len(moves),
                    moves=_names(found, moves),
                    table=table,
                    others=others,
                )
            )
    return told or [language.say(_SOME_VERDICT, tables=listed(list(values.tables), language))]


def _not_firm(found: Findings, turned: NotFirm) -> str:
    language, told = found.language, []
    seen, ranked = ahead(turned.reach, language), found.one(Better)
    if ranked and ranked.moves and not turned.holds:
        # Beside each of the moves stands what it loses.
        return language.say(
            "Checked one move deeper: every other move keeps its verdict, {seen}.", seen=seen
        )
    if turned.holds and not turned.falls and found.of(Holds):
        return language.say_many(
            "Checked one move deeper: {seen} {names} keeps the material too.",
            "Checked one move deeper: {seen} {names} keep the material too.",
            len(turned.holds),
            seen=seen,
            names=_names(found, turned.holds),
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
        number, names = len(turned.holds), _names(found, turned.holds)
        told.append(
            language.say_many("{names} keeps it too", "{names} keep it too", number, names=names)
            if found.of(Holds)
            else language.say_many(
                "{names} keeps the material", "{names} keep the material", number, names=names
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
