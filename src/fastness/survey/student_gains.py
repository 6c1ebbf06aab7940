"""What a student can win, in plain sentences."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import Better, Taking, TakingMove, Zugzwang
from fastness.survey.findings import Findings
from fastness.survey.lines import taken_at
from fastness.survey.nouns import listed_or, on_squares, the_unit
from fastness.survey.student_ready import ready_for
from fastness.survey.student_remedies import NAMED
from fastness.survey.takings import forcing_first
from fastness.survey.tries import is_quiet
from fastness.survey.ways import aim_of, is_check
from fastness.survey.words import CENTIPAWNS, worth


def _best_win(found: Findings, wins: Sequence[TakingMove]) -> TakingMove | None:
    """The first of the better ways that wins something, or what wins most, by its proof line."""
    better, shown = found.one(Better), [taking.line[:1] for taking in found.of(Taking)]
    places = {move: place for place, move in enumerate(better.moves)} if better else {}

    def order(one: TakingMove) -> tuple[int, bool]:
        return places.get(one.move, len(places)), (one.move,) not in shown

    return min(wins, key=order, default=None)


def _with_its_target(found: Findings, best: TakingMove) -> list[str]:
    """What a move attacks that wins something by an attack; empty where it is no such move."""
    move = found.holding(best.move)
    aimed = aim_of(move, "counterattack") if move else ()
    if not move or best.net == "mates" or not aimed or is_check(found, move):
        return []
    told = found.language.say(
        "You can win {worth}: {move} attacks {units}.",
        worth=worth(best.net, found.language),
        move=found.move(best.move),
        units=on_squares(found.board, aimed, found.language, you=found.board.turn),
    )
    return [told, *ready_for(found, move.line or ())]


def _takes(found: Findings, taking: Taking, best: TakingMove) -> str:
    """What is won by taking; where the unit is not the whole of it, by how much."""
    say, language = found.language.say, found.language
    values = {"unit": the_unit(taking.unit, language), "move": found.move(best.move)}
    kind = chess.PIECE_NAMES.index(taking.unit.kind)
    if best.net == "mates" or best.net >= CENTIPAWNS.get(kind, 0):
        return say("You can win {unit}: play {move}.", **values)
    return say(
        "You can take {unit} with {move} and come out {worth} ahead.",
        **values,
        worth=worth(best.net, language),
    )


def _if_taken_back(found: Findings, taking: Taking) -> list[str]:
    """Why taking back does not help, where that is claimed."""
    back = found.retaken(taking.unit)
    if back is None:
        return []
    if back.loses != "mate" or len(back.line) < 4:
        return ready_for(found, back.line)
    threat, reply = found.last_name(back.line[:2]), found.last_name(back.line[:3])
    told = found.language.say(
        "If {threat}, then {reply} leads to mate.", threat=threat, reply=reply
    )
    return [told]


def _wins(found: Findings, one: TakingMove) -> list[str]:
    """What one move wins, and what is ready for taking what moved."""
    told = found.language.say(
        "You can win {worth} with {move}.",
        worth=worth(one.net if isinstance(one.net, int) else 0, found.language),
        move=found.move(one.move),
    )
    taking = next((by for by in found.of(Taking) if by.line[:1] == (one.move,)), None)
    if (
        taking
        and not taking.together
        and taken_at(found.position.fen, taking.line, taking.unit.square) == 2
    ):
        return [told, *_then_taken(found, taking)]
    shown = found.if_taken(one.move) or found.holding(one.move)
    return [told, *ready_for(found, (shown and shown.line) or ())]


def _then_taken(found: Findings, taking: Taking) -> list[str]:
    """What is taken after the answer to the move that wins it."""
    told = found.language.say(
        "Then you take {unit} with {move}.",
        unit=the_unit(taking.unit, found.language),
        move=found.last_name(taking.line[:3]),
    )
    return [told]


def to_win(found: Findings) -> list[str]:
    """What can be won, and by which move; else what to look at before moving."""
    say, language = found.language.say, found.language
    if found.one(Zugzwang):
        return [
            say("But you have to move, and every move loses something."),
            say("That is called zugzwang."),
        ]
    wins = forcing_first(found)
    best = _best_win(found, wins)
    for taking in found.of(Taking):
        if best and taking.unit.square == best.move[2:4] and not taking.together:
            return [_takes(found, taking, best), *_if_taken_back(found, taking)]
    if best and (told := _with_its_target(found, best)):
        return told
    if wins:
        equal = [one for one in wins if one.net == wins[0].net]
        forcing = [one for one in equal if not is_quiet(found.board, one.move)]
        # What waits for later matters less where something can be done at once.
        shown = forcing if wins[0] in forcing else wins
        moves = listed_or(found.moves(one.move for one in shown[:NAMED]), language)
        if len(shown) == 1 and shown[0].net != "mates":
            return _wins(found, shown[0])
        return [say("You can win something with {moves}.", moves=moves)]
    return [say("Before you move, look at what {other} wants.", other=found.other)]
