"""What happened at a place in a game, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.language import ENGLISH, Language, marked_as
from fastness.record.episode import material_lost
from fastness.record.geometry import first_loss
from fastness.sift import Occasion, Outcome
from fastness.sift.outcome import THRESHOLD, number
from fastness.survey.lines import notation, numbered_move
from fastness.survey.nouns import Noun, on_squares, something
from fastness.survey.words import capital, worth

NAMED = 4
"""Moves that hold named in a sentence."""

_HAPPENED: dict[Outcome, tuple[str, str]] = {
    "held": marked_as("an occasion", "{move} kept {units}."),
    "seized": marked_as("an occasion", "{move} won {units}."),
    "offered": marked_as("an occasion", "{move} offered {units}, for play that is worth it."),
    "exposed": marked_as("an occasion", "After {move} {units} can be won."),
    "lessened": marked_as("an occasion", "{move} let {units} fall in part."),
    "let fall": marked_as("an occasion", "{units} could be won after {move}."),
    "saved most": marked_as(
        "an occasion", "{move} saved as much as could be saved; {units} could not be kept whole."
    ),
    "let off": marked_as("an occasion", "{units} could have been won; {move} let it off."),
}


_COST = ("exposed", "lessened", "let fall", "let off")
"""Outcomes where another move was better."""


def made_danger(occasion: Occasion) -> bool:
    """Whether the move itself put in danger what could be won after it.

    So it is where nothing was in danger before, and where the move loses more than was.
    """
    if occasion["outcome"] == "exposed":
        return True
    danger, net = occasion["danger"], occasion["net"]
    if occasion["outcome"] != "let fall" or danger is None or not occasion["holding"]:
        return False
    return -number(net) >= number(danger) + THRESHOLD


def put_in_danger(occasion: Occasion) -> str | None:
    """The square, before the move, of what it put in danger where something else was already.

    None where that is the same unit, or where the refutation takes nothing.
    """
    if occasion["outcome"] != "let fall" or not made_danger(occasion):
        return None
    taken = first_loss(chess.Board(occasion["fen"]), occasion["line"] or [])
    if taken is None:
        return None
    square, played = chess.square_name(taken[1].to_square), occasion["played"]["uci"]
    square = played[:2] if square == played[2:4] else square
    return None if square in occasion["units"] else square


def what_happened(
    occasion: Occasion, language: Language = ENGLISH, better: Sequence[str] | None = None
) -> str:
    """What was in danger, what was played, and what would have kept it, in sentences.

    `better` are the better ways (SAN), None where the moves that hold were not ranked.
    """
    say, board = language.say, chess.Board(occasion["fen"])
    move = numbered_move(board, occasion["played"]["uci"], language)
    if occasion["best_net"] == "mates" and occasion["outcome"] == "let off":
        told = [say("Another move mates; {move} let it off.", move=move)]
    else:
        named = "exposed" if put_in_danger(occasion) else occasion["outcome"]
        units = _units(occasion, language)
        told = [capital(language.say_as(*_HAPPENED[named], move=move, units=units))]
    if occasion["net"] == "mated":
        told.append(say("It allows mate."))
    elif occasion["outcome"] in _COST and occasion["best_net"] != "mates":
        told.append(say("That cost {worth}.", worth=worth(material_lost(occasion), language)))
    if occasion["outcome"] in _COST:
        told += _instead(occasion, language, better)
    return " ".join(told)


def _units(occasion: Occasion, language: Language) -> Noun | str:
    """What it is about; what the move put in danger stands where it was left."""
    square, board = put_in_danger(occasion), chess.Board(occasion["fen"])
    about = [square] if square else occasion["units"]
    if made_danger(occasion) and occasion["played"]["uci"][:2] in about:
        played = chess.Move.from_uci(occasion["played"]["uci"])
        board.push(played)
        about = [at if at != occasion["played"]["uci"][:2] else _to(played) for at in about]
    standing = [at for at in about if board.piece_at(chess.parse_square(at))]
    return on_squares(board, standing, language) if standing else something(language)


def _to(move: chess.Move) -> str:
    return chess.square_name(move.to_square)


def _instead(occasion: Occasion, language: Language, better: Sequence[str] | None) -> list[str]:
    """What would have kept it, the better ways first; or for a taking what would have won it."""
    held = [san for san in occasion["holding"] if san != occasion["played"]["san"]]
    ahead = [san for san in better or () if san in held]
    others = [san for san in held if san not in ahead][: max(0, NAMED - len(ahead))]
    told = []
    if ahead:
        told.append(language.say("Better: {moves}.", moves=_named(ahead[:NAMED], language)))
    if others and ahead:
        told.append(language.say("It is kept by {moves}, too.", moves=_named(others, language)))
    elif others and occasion["kind"] == "taking":
        told.append(language.say("It is won by {moves}.", moves=_named(others, language)))
    elif others:
        told.append(language.say("It is kept by {moves}.", moves=_named(others, language)))
    return told


def _named(sans: Sequence[str], language: Language) -> str:
    return ", ".join(notation(san, language) for san in sans)
