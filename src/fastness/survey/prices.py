"""What a move that holds costs and gains besides the material, in words."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

import chess

from fastness import core
from fastness.language import Language, marked
from fastness.survey.claim import Price
from fastness.survey.findings import Findings
from fastness.survey.nouns import Noun, on_square
from fastness.survey.scene import play
from fastness.survey.words import THRESHOLD

_PLAIN = {
    "weakens the king's shelter": marked("weakens the king's shelter"),
    "pins its own blocker": marked("is pinned where it blocks"),
    "shuts in a bishop": marked("shuts in a bishop"),
    "loses time": marked("loses time"),
    "passive guard": marked("ties a piece down to guarding"),
    "weakens the pawns": marked("weakens the pawns"),
    "gives up the bishop pair": marked("gives up the bishop pair"),
    "gains time on a piece": marked("gains time on a piece"),
    "develops": marked("develops"),
    "makes room": marked("gives the pieces more room"),
    "trades when ahead": marked("trades when ahead"),
    "gains the bishop pair": marked("breaks up the opponent's bishop pair"),
}


def _bishop(price: Price, after: chess.Board, language: Language) -> str | None:
    for square in price.squares:
        piece = after.piece_at(chess.parse_square(square))
        own_bishop = piece == chess.Piece(chess.BISHOP, not after.turn)
        if own_bishop and square != price.move[2:4]:
            return language.say("shuts in {bishop}", bishop=_name(after, square, language))
    return None


def _time(price: Price, after: chess.Board, language: Language) -> str | None:
    for square in price.squares:
        if after.color_at(chess.parse_square(square)) == after.turn:
            return language.say("gains time on {piece}", piece=_name(after, square, language))
    return None


def _blocker(price: Price, after: chess.Board, language: Language) -> str | None:
    blocker, own = price.move[2:4], not after.turn
    behind = [
        square
        for square in price.squares
        if square != blocker and after.color_at(chess.parse_square(square)) == own
    ]
    if len(behind) != 1:
        return None
    return language.say("is pinned to {behind}", behind=_name(after, behind[0], language))


def _room(price: Price, _: chess.Board, language: Language) -> str | None:
    """Room for the king is told by its square and the one that it can go to now."""
    return language.say("gives the king room") if len(price.squares) > 1 else None


def _lost_time(price: Price, after: chess.Board, language: Language) -> str | None:
    """A piece that goes back; or what can attack the queen where she comes to stand."""
    kind = after.piece_type_at(chess.parse_square(price.move[2:4]))
    if kind in (chess.KNIGHT, chess.BISHOP):
        return language.say("goes back to its own back rank")
    for square in price.squares:
        if after.color_at(chess.parse_square(square)) == after.turn:
            unit = _name(after, square, language)
            return language.say("lets {unit} drive the queen off", unit=unit)
    return None


_WITH_UNITS: dict[str, Callable[[Price, chess.Board, Language], str | None]] = {
    "shuts in a bishop": _bishop,
    "gains time on a piece": _time,
    "pins its own blocker": _blocker,
    "makes room": _room,
    "loses time": _lost_time,
}


def _name(board: chess.Board, square: str, language: Language) -> Noun:
    return on_square(board, square, language)


def price_in_words(found: Findings, price: Price) -> str:
    """One cost or gain; a name that is not known stays as it is."""
    after = found.board.copy(stack=False)
    after.push(chess.Move.from_uci(price.move))
    teller = _WITH_UNITS.get(price.name)
    told = teller(price, after, found.language) if teller else None
    if told:
        return told
    return found.language.say(_PLAIN[price.name]) if price.name in _PLAIN else price.name


_BY_EXCHANGE = ("gives up the bishop pair", "gains the bishop pair")
"""What shows only where a bishop is taken."""


def prices(
    found: Findings,
    move: str,
    kind: str,
    *,
    told: Collection[str] = (),
    lines: Sequence[Sequence[str]] = (),
) -> list[str]:
    """The costs or the gains (`kind`) of a move, without gains of time by an attack told before.

    `told`: the squares that the move is said to attack. `lines`: what is shown of the play after
    the move; what an exchange of bishops brings is told only where one is shown.
    """
    of_move = [price for price in found.of(Price) if price.move == move]
    gains_time = any(price.name == "gains time on a piece" for price in of_move)
    return [
        price_in_words(found, price)
        for price in of_move
        if price.kind == kind
        if price.name != "gains time on a piece" or not set(told) & set(price.squares)
        # What gains time is not said to lose it.
        if price.name != "loses time" or not (gains_time or _driven_off_in_vain(found, price))
        if price.name not in _BY_EXCHANGE or _bishop_goes(found, price.kind, [(move,), *lines])
    ]


def _driven_off_in_vain(found: Findings, price: Price) -> bool:
    """Whether what could drive the queen off leaves something to be taken whenever it does.

    By the exchange count that wins half a pawn or more.
    """
    after = found.board.copy(stack=False)
    after.push_uci(price.move)
    queen, *drivers = map(chess.parse_square, price.squares)
    if after.piece_type_at(queen) != chess.QUEEN or len(drivers) != 1:
        return False
    tries = [move for move in after.legal_moves if move.from_square == drivers[0]]
    values = found.position.values
    for move in tries:
        then = after.copy(stack=False)
        quiet = not after.is_capture(move)
        then.push(move)
        if quiet and queen in then.attacks(move.to_square):
            counts = core.exchange_counts(then.fen(), values=values)
            if max(counts.values(), default=0) < THRESHOLD:
                return False
    return True


def _bishop_goes(found: Findings, kind: str, lines: Sequence[Sequence[str]]) -> bool:
    """Whether in one of the lines a bishop of the side that loses the pair takes or is taken."""
    loser = found.board.turn if kind == "cost" else not found.board.turn
    bishop = chess.Piece(chess.BISHOP, loser)
    return any(
        bishop
        in (
            step.before.piece_at(step.move.from_square),
            step.before.piece_at(step.move.to_square),
        )
        for line in lines
        for step in play(found.position.fen, line)
        if step.takes
    )
