"""The claims of a lesson in words, as they stand on pictures, answer sheets and notes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import chess

from fastness.language import Language
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
from fastness.survey.causes import mechanism_name
from fastness.survey.lines import PASS, line_in_words, move_name, numbered_move
from fastness.survey.nouns import listed, on_square, on_squares
from fastness.survey.ways import way_name
from fastness.survey.words import side_name, worth


def to_move(fen: str, language: Language) -> str:
    """Whose move it is, as a sentence: `Black to move`; or that it is mate."""
    board = chess.Board(fen)
    if board.is_checkmate():
        return language.say("That is mate.")
    side = side_name("white" if board.turn else "black", language)
    return language.say("{own} to move.", own=side)


def claim_in_words(seen: Seen, claim: Claim, language: Language) -> str:
    """What a claim says, in one sentence for students."""
    return _TOLD[type(claim)](seen, claim, language)


def _safety(seen: Seen, claim: Safety, language: Language) -> str:
    units = on_squares(seen.board, claim.squares, language)
    if not claim.unsafe:
        return language.say("Safe: {units}.", units=units)
    if seen.is_own(claim.squares[0]):
        return language.say("Not safe: {units}.", units=units)
    return language.say("Can be taken: {units}.", units=units)


def _keeps(seen: Seen, claim: Keeps, language: Language) -> str:
    moves = names(seen.board, claim.moves, language)
    return language.say("Moves that keep the material: {moves}.", moves=moves)


def _all(seen: Seen, claim: AllThatKeep, language: Language) -> str:
    moves = names(seen.board, claim.moves, language)
    if len(claim.moves) == 1:
        return language.say("Only {move} keeps the material.", move=moves)
    return language.say("All moves that keep the material: {moves}.", moves=moves)


def _loses(seen: Seen, claim: Loses, language: Language) -> str:
    line = line_in_words(seen.place.fen, line_of(seen, claim), language)
    return language.say("This try falls: {line}.", line=line)


def _better(seen: Seen, claim: Better, language: Language) -> str:
    return language.say("Better ways: {moves}.", moves=_with_ways(seen.board, claim, language))


def _falls_by(seen: Seen, claim: FallsBy, language: Language) -> str:
    unit = on_square(seen.board, claim.square, language)
    name = mechanism_name(seen.findings(language), claim.mechanism)
    return language.say("Why {unit} falls: {name}.", unit=unit, name=name)


def _variation(seen: Seen, claim: Variation, language: Language) -> str:
    line = line_in_words(seen.place.fen, line_of(seen, claim), language)
    return f"{line}. {gain(claim, language)}".strip()


def _twin(_: Seen, claim: Twin, language: Language) -> str:
    move = played(chess.Board(claim.fen), claim.better, language)
    return language.say("With one thing changed, a better way is {move}.", move=move)


def _danger(_: Seen, claim: Threatened, language: Language) -> str:
    if claim.worth == "none":
        return language.say("Nothing is in danger.")
    if claim.worth == "mate":
        return language.say("In danger: the king; there is mate.")
    return language.say("In danger: {worth}.", worth=worth(claim.worth, language))


_TOLD: dict[type[Claim], Callable[..., str]] = {
    Safety: _safety,
    Keeps: _keeps,
    AllThatKeep: _all,
    Loses: _loses,
    Better: _better,
    Threatened: _danger,
    FallsBy: _falls_by,
    Variation: _variation,
    Twin: _twin,
}


def claims_in_words(block: Block, seen: Seen, language: Language) -> tuple[str, ...]:
    """All that is claimed of a position, claim by claim."""
    return tuple(claim_in_words(seen, claim, language) for claim in block.claims)


def gain(claim: Variation, language: Language) -> str:
    """What a line wins, in a sentence; empty where that is not claimed."""
    if claim.wins == "mate":
        return language.say("That is mate.")
    if isinstance(claim.wins, int):
        return language.say("That wins {worth}.", worth=worth(claim.wins, language))
    return ""


def played(board: chess.Board, uci: str, language: Language) -> str:
    """A move with its number: ``12...Re8``."""
    return numbered_move(board, uci, language)


def names(board: chess.Board, moves: Sequence[str], language: Language) -> str:
    """Moves (UCI) by name: ``Be7 and Nf6``."""
    return listed([move_name(board, uci, language) for uci in moves], language)


def _with_ways(board: chess.Board, claim: Better, language: Language) -> str:
    told = []
    for uci, way in claim.moves:
        name = move_name(board, uci, language)
        told.append(f"{name} ({way_name(way, language)})" if way else name)
    return listed(told, language)


def line_of(seen: Seen, claim: Loses | Variation) -> tuple[str, ...]:
    """The moves (UCI) of a line, or of a try with its refutation; a pass at its head is `PASS`.

    Where a lesson names no refutation, it is that of the survey.
    """
    if isinstance(claim, Variation):
        return (PASS, *claim.moves) if claim.passes else claim.moves
    if claim.because:
        return (claim.move, *claim.because)
    return tuple(seen.verdict(claim.move)["line"] or (claim.move,))
