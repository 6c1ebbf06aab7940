"""The words that the record, the plan and the reports share: places, rates, findings, counts."""

from __future__ import annotations

import chess

from fastness.language import Language
from fastness.record import Episode, Finding, Rate, finding_sentence, nothing_to_hold
from fastness.survey.lines import notation, numbered_move
from fastness.survey.nouns import Noun, on_squares
from fastness.survey.words import worth
from fastness.workflows.recording import StudentRecord
from fastness.workflows.remarks import remark_in_words, remarks_on

SHOWN = 4
"""Moves that hold named in a sentence."""


def games_counted(number: int, language: Language) -> str:
    """``1 game``, ``12 games``."""
    return language.say_many("{number} game", "{number} games", number)


def dangers_counted(number: int, language: Language) -> str:
    """``1 danger``, ``12 dangers``."""
    return language.say_many("{number} danger", "{number} dangers", number)


def day(pgn_date: str, language: Language) -> str:
    """A day as the language writes it; what a PGN date leaves open stands there as "?"."""
    year, month, number = (*pgn_date.split("."), "??", "??")[:3]
    return language.say_as("a date", "{year}-{month}-{day}", year=year, month=month, day=number)


def decimal(number: float, language: Language) -> str:
    """A number with two places, ``0.25``."""
    return f"{number:.2f}".replace(".", language.say_as("decimal point", "."))


def in_words(rate: Rate, language: Language) -> str:
    """``held 7 of 11 (36 to 86 in a hundred)``, or that there are too few to tell."""
    if not rate.enough:
        return language.say("held {held} of {of}, too few to tell", held=rate.held, of=rate.of)
    return language.say(
        "held {held} of {of} ({low} to {high} in a hundred)",
        held=rate.held,
        of=rate.of,
        low=f"{100 * rate.low:.0f}",
        high=f"{100 * rate.high:.0f}",
    )


def summary(record: StudentRecord, language: Language) -> str:
    """How many dangers there were and how many were held, for the teacher."""
    found = record.diagnosis
    if not found.episodes:
        return language.say("Nothing was in danger in these games.")
    told = language.say(
        "{dangers} in {games}; of those that could be met, {rate}.",
        dangers=dangers_counted(found.episodes, language),
        games=games_counted(found.games, language),
        rate=in_words(found.held, language),
    )
    parts = [told]
    hopeless, later = nothing_to_hold(one.game for one in record.games)
    if hopeless:
        parts.append(
            language.say_many(
                "In the other one no move kept everything any more ({later} of {number} came later"
                " in a game in which something had fallen already); it counts in no rate, since"
                " nothing could be held there.",
                "In the other {number} no move kept everything any more; {later} of them came"
                " later in a game in which something had fallen already. They count in no rate,"
                " since nothing could be held there.",
                hopeless,
                later=later,
            )
        )
    if not found.compared:
        parts.append(language.say("There is no group to compare with, so nothing can stand out."))
    return " ".join(parts)


def units_of(one: Episode, language: Language, most: int = 2) -> Noun | None:
    """What was in danger where it stands, ``the knight on c6``; None if nothing stands there."""
    board = chess.Board(one.occasion["fen"])
    squares = ringed(one)[:most]
    return on_squares(board, squares, language) if squares else None


def ringed(one: Episode) -> tuple[str, ...]:
    """The squares of what was in danger, without those where nothing stands."""
    board = chess.Board(one.occasion["fen"])
    return tuple(
        square for square in one.occasion["units"] if board.piece_at(chess.parse_square(square))
    )


def move_played(one: Episode, language: Language) -> str:
    """``17...Nd5``."""
    return numbered_move(chess.Board(one.occasion["fen"]), one.occasion["played"]["uci"], language)


def holding_moves(one: Episode, language: Language) -> list[str]:
    """The moves that hold, as many as a sentence takes."""
    return [notation(san, language) for san in one.occasion["holding"][:SHOWN]]


def place(record: StudentRecord, one: Episode, language: Language) -> str:
    """``game 12 against Weber, Anna, 2026-03-02: 17...Nd5 kept the knight on f6``."""
    told = language.say(
        "game {game} against {opponent}, {date}: {told}",
        game=one.game,
        opponent=record.game(one.game).opponent,
        date=day(one.date, language),
        told=_kept(one, language) if one.held else _fell(one, language),
    )
    remarks = [remark_in_words(remark, language) for remark in remarks_on(record, one)]
    if not remarks:
        return told
    return language.say("{told} (you: {remarks})", told=told, remarks="; ".join(remarks))


def _kept(one: Episode, language: Language) -> str:
    move, units = move_played(one, language), units_of(one, language)
    if units is None:
        return language.say("{move} kept everything", move=move)
    return language.say("{move} kept {units}", move=move, units=units)


def _fell(one: Episode, language: Language) -> str:
    move, units = move_played(one, language), units_of(one, language)
    lost = language.say("{move} cost {worth}", move=move, worth=worth(one.lost, language))
    if one.occasion["net"] == "mated":
        lost = language.say("{move} allowed mate", move=move)
    elif units is not None:
        lost = language.say("{lost} ({units})", lost=lost, units=units)
    keeping = holding_moves(one, language)
    return language.say_many(
        "{lost}; {moves} would have held",
        "{lost}; {moves} would have held",
        len(keeping),
        lost=lost,
        moves=", ".join(keeping),
    )


def finding_name(name: str, language: Language) -> str:
    """The name of a cause."""
    return language.say(name)


def numbers(finding: Finding, language: Language) -> str:
    """A finding with its numbers, in sentences for the teacher."""
    told = [finding_sentence(finding, language)]
    if finding.rate is not None:
        told.append(language.say("With it, {rate}.", rate=in_words(finding.rate, language)))
    own = decimal(finding.lost_per_game / 100, language)
    low, high = decimal(finding.low / 100, language), decimal(finding.high / 100, language)
    if finding.group_per_game is None:
        told.append(
            language.say(
                "It cost {own} pawns' worth a game, and {low} to {high} more than was to be"
                " expected.",
                own=own,
                low=low,
                high=high,
            )
        )
    else:
        told.append(
            language.say(
                "It cost {own} pawns' worth a game; {group} in the others', and {low} to {high}"
                " more than was to be expected.",
                own=own,
                group=decimal(finding.group_per_game / 100, language),
                low=low,
                high=high,
            )
        )
    return " ".join(told)
