"""Claims on lines and on twins: what is found about them."""

from __future__ import annotations

import chess

from fastness.core.shapes import Net
from fastness.language import Language
from fastness.lessons.found import SO, Found
from fastness.lessons.lesson import Better, Twin, Variation, Worth
from fastness.lessons.seen import Seen, balance
from fastness.lessons.tries import better
from fastness.survey.lines import move_name, numbered
from fastness.survey.words import ahead, worth


def variation(seen: Seen, claim: Variation, language: Language) -> list[Found]:
    """``line: ... wins 3``: so much by count at its end, and by force against every answer."""
    if claim.wins is None:
        return [SO]
    start = seen.board.copy(stack=False)
    if claim.passes:
        start.push(chess.Move.null())
    end = start.copy()
    for uci in claim.moves:
        end.push_uci(uci)
    line = numbered(start.fen(), claim.moves, language)
    if claim.wins == "mate" and not end.is_checkmate():
        return [Found(False, language.say("the line does not end in mate"), line)]
    if isinstance(claim.wins, int):
        gained = balance(end, start.turn) - balance(start, start.turn)
        if gained != claim.wins:
            return [Found(False, _counted(gained, language), line)]
    return [_by_force(seen, claim, start, end, language)]


def _counted(gained: int, language: Language) -> str:
    if gained < 0:
        return language.say("at its end {worth} is lost by count", worth=worth(gained, language))
    if not gained:
        return language.say("at its end nothing is won by count")
    return language.say("at its end {worth} is won by count", worth=worth(gained, language))


def _by_force(
    seen: Seen, claim: Variation, start: chess.Board, end: chess.Board, language: Language
) -> Found:
    """Whether the first move does against every answer what the line does.

    A line that goes on beyond the plies searched may do so all the same.
    """
    survey = seen.bare(start.fen())
    first = next(move for move in survey["moves"] if move["uci"] == claim.moves[0])
    # Whoever is to move at the end of a line that mates is mated.
    if _is_enough(first["net"], claim.wins, mated=end.turn == start.turn):
        return SO
    told = language.say(
        "{move} does not do that against every answer, {there}",
        move=numbered(start.fen(), claim.moves[:1], language),
        there=ahead(seen.reach, language),
    )
    if len(claim.moves) > 2 * seen.reach:
        return Found(None, told)
    return Found(False, told, numbered(start.fen(), first["line"] or (), language))


def _is_enough(net: Net, wins: Worth | None, *, mated: bool) -> bool:
    if wins == "mate":
        return net == ("mated" if mated else "mates")
    if not isinstance(net, int):
        return net == "mates"
    return isinstance(wins, int) and net >= wins


def twin(seen: Seen, claim: Twin, language: Language) -> list[Found]:
    """``twin: FEN better Be7``: one detail differs, the move is better there, and not here."""
    there = seen.elsewhere(claim.fen)
    if not differs_in_one_detail(seen.board, there.board):
        told = language.say("the other position does not differ in one detail")
        return [Found(False, told), SO, SO]
    found = better(there, Better(claim.line, claim.text, ((claim.better, None),)), language)[0]
    return [SO, found, _wants_another(seen, claim.better, language)]


def _wants_another(seen: Seen, uci: str, language: Language) -> Found:
    if uci not in seen.advised:
        return SO
    told = language.say(
        "{move} is one of the better ways here too", move=move_name(seen.board, uci, language)
    )
    return Found(False, told)


def differs_in_one_detail(one: chess.Board, other: chess.Board) -> bool:
    """Whether a unit was added, taken away or put elsewhere, or a king castled, and no more."""
    here, there = set(one.piece_map().items()), set(other.piece_map().items())
    gone, new = sorted(_symbols(here - there)), sorted(_symbols(there - here))
    if one.turn != other.turn:
        return False
    if gone == new and gone in (["K", "R"], ["k", "r"]):
        return True
    return (gone == new and len(gone) == 1) or len(gone) + len(new) == 1


def _symbols(units: set[tuple[int, chess.Piece]]) -> list[str]:
    return [piece.symbol() for _, piece in units]
