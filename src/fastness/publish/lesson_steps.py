"""A lesson as pictures one after another: the position, what is in danger, every line by steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import chess

from fastness import core
from fastness.exercises.proving import REACH, unsafe_squares
from fastness.language import Language
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Block,
    Claim,
    FallsBy,
    Keeps,
    Loses,
    OwnMarks,
    Place,
    Safety,
    Twin,
    Variation,
)
from fastness.lessons.seen import Seen
from fastness.lessons.words import claim_in_words, gain, line_of, played, to_move
from fastness.publish.sketch import NOTHING, Sketch, changed_squares, numerals_of
from fastness.survey.lines import PASS, line_in_words
from fastness.survey.nouns import on_squares


@dataclass(frozen=True, slots=True)
class Step:
    """One picture: the board with its marks, the `words` beside it, and the `line` so far.

    `about` are the moves (SAN, without signs for check) that a sentence about this picture names.
    """

    fen: str
    words: str
    line: str = ""
    ringed: tuple[str, ...] = ()
    sketch: Sketch = NOTHING
    about: frozenset[str] = frozenset()


def steps_of(block: Block, seen: Seen, language: Language) -> tuple[Step, ...]:
    """The pictures of a position, in the order of the rows of its block.

    The teacher's own marks take the place of the picture that shows what is in danger.
    """
    if block.place is None:
        return ()
    found = [Step(block.place.fen, to_move(block.place.fen, language))]
    if not block.marks:
        found += _danger(block, seen, language)
    rows: list[Claim | OwnMarks] = [*block.claims, *block.marks]
    for row in sorted(rows, key=lambda row: row.line):
        found += _drawn(row, seen, language) if isinstance(row, OwnMarks) else []
        found += _claimed(row, seen, language) if isinstance(row, Claim) else []
    return tuple(found)


def _drawn(row: OwnMarks, seen: Seen, language: Language) -> list[Step]:
    numerals = tuple((square, str(number)) for square, number in row.numbers)
    sketch = Sketch(row.corners, row.attacks, row.guards, row.lines, numerals)
    words = row.words or to_move(seen.place.fen, language)
    return [Step(seen.place.fen, words, ringed=row.rings, sketch=sketch)]


def endangered(block: Block, seen: Seen) -> tuple[str, ...]:
    """The squares of the units of the side to move that are claimed to be not safe.

    Where nothing is claimed of units, those that are found to be so at both reaches.
    """
    claimed = [
        square
        for claim in block.claims
        if (isinstance(claim, Safety) and claim.unsafe) or isinstance(claim, FallsBy)
        for square in (claim.squares if isinstance(claim, Safety) else (claim.square,))
        if seen.is_own(square)
    ]
    if claimed or any(isinstance(claim, Safety) for claim in block.claims):
        return tuple(dict.fromkeys(claimed))
    if seen.survey["in_check"] or seen.place.moves:
        return ()
    near = unsafe_squares(seen.survey)
    return (
        tuple(sorted(near))
        if near == set(core.unsafe_units(seen.place.fen, reach=REACH + 1))
        else ()
    )


def takeable(block: Block, seen: Seen) -> tuple[str, ...]:
    """The squares of the opponent's units that are claimed to be there for the taking."""
    return tuple(
        square
        for claim in block.claims
        if isinstance(claim, Safety) and claim.unsafe
        for square in claim.squares
        if not seen.is_own(square)
    )


def _danger(block: Block, seen: Seen, language: Language) -> list[Step]:
    ringed, cornered = endangered(block, seen), takeable(block, seen)
    if not ringed and not cornered:
        return []
    units = {unit["square"]: unit for unit in seen.survey["units"]}
    attacks = [(one, square) for square in ringed for one in units[square]["attackers"]]
    guards = [
        (one, square)
        for square in ringed
        if units[square]["unit"] != "king"
        for one in units[square]["guards"]
    ]
    told = []
    if ringed:
        named = on_squares(seen.board, ringed, language)
        told.append(language.say("Not safe: {units}.", units=named))
    if cornered:
        named = on_squares(seen.board, cornered, language)
        told.append(language.say("Can be taken: {units}.", units=named))
    sketch = Sketch(cornered, tuple(attacks), tuple(guards))
    return [Step(seen.place.fen, " ".join(told), ringed=ringed, sketch=sketch)]


def _claimed(claim: Claim, seen: Seen, language: Language) -> list[Step]:
    match claim:
        case Loses():
            words = language.say("{move} falls.", move=played(seen.board, claim.move, language))
            return list(_line(seen, line_of(seen, claim), words, words, language))
        case Variation():
            line = line_of(seen, claim)
            return list(_line(seen, line, "", gain(claim, language), language))
        case Keeps() | AllThatKeep():
            return [_moves(seen, claim.moves, claim, language)]
        case Better():
            return [_moves(seen, tuple(uci for uci, _ in claim.moves), claim, language)]
        case Twin():
            return _twin(seen, claim, language)
    return []


def _moves(seen: Seen, moves: tuple[str, ...], claim: Claim, language: Language) -> Step:
    lines = tuple((uci[:2], uci[2:4]) for uci in moves)
    about = frozenset(bare(seen.board.san(chess.Move.from_uci(uci))) for uci in moves)
    words = claim_in_words(seen, claim, language)
    return Step(seen.place.fen, words, sketch=Sketch(lines=lines), about=about)


def _line(
    seen: Seen, line: tuple[str, ...], words: str, at_end: str, language: Language
) -> Iterator[Step]:
    """A picture after each move of a line; the board moves on, and numerals count its moves."""
    board = seen.board.copy(stack=False)
    passes = bool(line) and line[0] == PASS
    if passes:
        board.push(chess.Move.null())
    moves = line[1:] if passes else line
    for at, uci in enumerate(moves, 1):
        move = chess.Move.from_uci(uci)
        about = frozenset([bare(board.san(move))])
        board.push(move)
        so_far = line_in_words(seen.place.fen, line[: at + passes], language)
        sketch = Sketch(numerals=numerals_of(moves[:at]))
        told = at_end if at == len(moves) else words
        yield Step(board.fen(), told, so_far, sketch=sketch, about=about)


def _twin(seen: Seen, claim: Twin, language: Language) -> list[Step]:
    changed = changed_squares(seen.place.fen, claim.fen)
    there = chess.Board(claim.fen)
    move = chess.Move.from_uci(claim.better)
    first = language.say("One thing is different.") + f" {to_move(claim.fen, language)}"
    return [
        Step(claim.fen, first, sketch=Sketch(corners=changed)),
        Step(
            claim.fen,
            claim_in_words(seen, claim, language),
            sketch=Sketch(lines=((claim.better[:2], claim.better[2:4]),)),
            about=frozenset([bare(there.san(move))]),
        ),
    ]


def bare(san: str) -> str:
    """A move in SAN without the signs for check and mate, and without comment."""
    return san.rstrip("+#!?")


def seen_simply(place: Place) -> Seen:
    """A position as it is drawn and told: to the reach of the claims, nothing ranked."""
    return Seen(place, REACH, 0)
