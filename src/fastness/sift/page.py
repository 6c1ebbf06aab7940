"""The occasions as plain text for a teacher, game by game, kindly worded."""

from collections.abc import Sequence
from itertools import groupby

import chess
from chess import KING

from fastness.core.shapes import Way
from fastness.sift.occasion import GameLabel, Occasion
from fastness.sift.outcome import Outcome
from fastness.sift.summary import cost
from fastness.survey.lines import line_in_words, wrapped
from fastness.survey.words import ahead, listed, unit_on, worth

_MOVES_SHOWN = 6

_HAPPENED: dict[Outcome, str] = {
    "held": "It was kept",
    "offered": "It was offered, for play that is worth it",
    "lessened": "Less was lost than was in danger",
    "let fall": "It could be won after this move",
    "saved most": "Nothing kept everything; this saved as much as could be saved",
    "exposed": "It can be won",
    "seized": "This wins it",
    "let off": "It was let off",
}
BY_WAY: dict[Way, str] = {
    "capture": "by capturing",
    "move": "by moving away",
    "block": "by blocking",
    "guard": "by guarding",
    "counterattack": "by a counterattack",
    "other": "by other means",
}


def occasions_page(occasions: Sequence[Occasion], *, one_player: bool = False) -> str:
    """The occasions of a game under its heading, move by move; nothing if there are none.

    With `one_player` the moves are all of one player, who need not be named each time.
    """
    parts = []
    before: GameLabel | None = None
    for (_, colour), here in groupby(occasions, lambda one: (one["ply"], one["colour"])):
        at_move = list(here)
        if at_move[0]["game"] != before:
            before = at_move[0]["game"]
            parts.append(game_heading(before, colour if one_player else None))
        parts.append(_move_page(at_move, one_player=one_player))
    return "".join(part + "\n\n" for part in parts)


def game_heading(game: GameLabel, colour: str | None = None) -> str:
    """The heading over the occasions of one game, with the player's colour if it is given."""
    told = [game["event"], known_date(game), game["result"]]
    known = [word for word in told if word.strip("?.* ")]
    players = f"{tidy(game['white'])} - {tidy(game['black'])}"
    playing = [f"playing {colour.capitalize()}"] if colour else []
    return f"Game {game['number']}: " + ", ".join([players, *known, *playing])


def known_date(game: GameLabel) -> str:
    """What is known of the date: "2024.01.02", "1848" for "1848.??.??", or nothing."""
    return game["date"].partition("?")[0].strip(". ")


def move_name(occasion: Occasion) -> str:
    """The move played as in print: "14.Nf3" or "14...Nf6"."""
    dots = "." if occasion["colour"] == "white" else "..."
    return f"{occasion['move_number']}{dots}{occasion['played']['san']}"


def tidy(name: str) -> str:
    """A name without spaces too many; a missing one in words."""
    return " ".join(name.split()).strip("?") or "no name"


def _move_page(at_move: Sequence[Occasion], *, one_player: bool) -> str:
    """One move: each thing that could be won, what happened, what else would have done."""
    occasion = at_move[0]
    who = "" if one_player else f"  {tidy(occasion['player'])} ({occasion['colour'].capitalize()})"
    clock = occasion["clock"]
    time = "" if clock is None else f"{', ' if who else '  '}{_clock(clock)} left"
    lines = [f"  {move_name(occasion)}{who}{time}"]
    for one in at_move:
        lines += [wrapped(sentence, 4, 2) for sentence in _told(one)]
    return "\n".join(lines)


def _told(occasion: Occasion) -> list[str]:
    sentences = [f"{what(occasion)}{_if_passed(occasion)}", happened(occasion), *_moves(occasion)]
    if _falls(occasion) and not _is_lost_before(occasion):
        took = "began to win it" if occasion["taken"] else "did not begin to win it"
        sentences.append(f"The opponent's next move {took}.")
    return sentences


def what(occasion: Occasion) -> str:
    """What was in danger or could be won, in a sentence."""
    units = _units(occasion)
    causes = _causes(occasion)
    reach = f", {ahead(occasion['reach'])}" if occasion["reach"] else ""
    if occasion["kind"] == "taking":
        if occasion["best_net"] == "mates":
            return f"There was a mate{reach}."
        return f"Could be won: {units or 'material'}{causes}{reach}."
    if occasion["recapture"] or _is_trade(occasion):
        owed = worth(occasion["owed"]) if occasion["owed"] else "the last capture"
        return f"In a trade: {owed} was to be taken back."
    if occasion["outcome"] == "exposed":
        return f"Put in danger by this move: {units or 'material'}{reach}."
    if occasion["danger"] is None:
        return f"In check: {_after_check(occasion, units)}{causes}{reach}."
    if units:
        trade = f"In a trade with {worth(occasion['owed'])} owed. " if occasion["owed"] else ""
        return f"{trade}Not safe: {units}{causes}{reach}."
    threat = "mate was threatened" if occasion["danger"] == "mate" else "material could be won"
    return f"In danger: {threat}{reach}."


def _causes(occasion: Occasion) -> str:
    if not occasion["mechanisms"]:
        return ""
    told = listed(occasion["mechanisms"])
    # Of several units each may fall by a cause of its own.
    return f" ({told})" if len(occasion["units"]) == 1 else f" (causes: {told})"


def _is_trade(occasion: Occasion) -> bool:
    """Whether nothing but what is owed was at stake."""
    return occasion["kind"] == "danger" and bool(occasion["owed"]) and not occasion["units"]


def _units(occasion: Occasion) -> str:
    """The units the occasion is about; the one that moves into danger on its new square."""
    board = chess.Board(occasion["fen"])
    move = chess.Move.from_uci(occasion["played"]["uci"])
    after = board.copy(stack=False)
    after.push(move)
    told = []
    for square in occasion["units"]:
        if occasion["outcome"] == "exposed" and chess.parse_square(square) == move.from_square:
            told.append(unit_on(after, chess.square_name(move.to_square)))
        else:
            told.append(unit_on(board, square))
        if board.piece_type_at(chess.parse_square(square)) == KING:
            told[-1] += " (mate)"
    return listed(told)


def _after_check(occasion: Occasion, units: str) -> str:
    if occasion["outcome"] == "held":
        return "some of the moves out of it lose something"
    return f"after the move played {units or 'material'} can be won"


def _if_passed(occasion: Occasion) -> str:
    """The line behind a danger that was met, or behind what could be won."""
    line = occasion["line"]
    if line is None or occasion["recapture"] or _falls(occasion):
        return ""
    return f" {line_in_words(occasion['fen'], line)}."


def _is_lost_before(occasion: Occasion) -> bool:
    """Whether the move lets nothing fall but what is owed and was lost before."""
    return occasion["owed"] > 0 and len(occasion["line"] or ()) == 1


def _falls(occasion: Occasion) -> bool:
    return occasion["kind"] == "danger" and occasion["outcome"] != "held"


def happened(occasion: Occasion) -> str:
    """What came of it, in a sentence."""
    if occasion["recapture"]:
        return f"{occasion['played']['san']} took it back."
    told = _HAPPENED[occasion["outcome"]]
    if _is_trade(occasion) and occasion["outcome"] == "let fall":
        told = "It was not taken back"
    elif _is_lost_before(occasion) and occasion["outcome"] == "saved most":
        told = "What was owed could not all be won back; nothing more was lost"
    way = occasion["way"]
    if occasion["outcome"] == "held" and way is not None:
        told += f" {BY_WAY[way]}"
    if _falls(occasion) and len(occasion["line"] or ()) > 1:
        told += f": {line_in_words(occasion['fen'], occasion['line'] or ())}"
    if occasion["outcome"] not in ("held", "seized", "saved most"):
        told += f"; {_cost(occasion)}"
    return f"{told}."


def _cost(occasion: Occasion) -> str:
    missed, net, best = cost(occasion), occasion["net"], occasion["best_net"]
    if net == "mated":
        return "it allows mate"
    if best == "mates":
        return "another move mates"
    return f"the best move was {worth(round(missed))} better"


def _moves(occasion: Occasion) -> list[str]:
    """What else would have done, in a sentence; nothing where no taking was missed or won."""
    taking = occasion["kind"] == "taking"
    others = [san for san in occasion["holding"] if san != occasion["played"]["san"]]
    if not occasion["holding"]:
        told = taking or occasion["outcome"] == "saved most"
        return [] if told else ["No move kept everything."]
    if not others:
        return [f"No other move {'wins' if taking else 'keeps'} it."]
    if len(others) < len(occasion["holding"]):
        lead = "Would also win it" if taking else "Would also keep it"
    else:
        lead = "Would have won it" if taking else "Would have kept it"
    more = len(others) - _MOVES_SHOWN
    shown = [*others[:_MOVES_SHOWN], *([f"{more} more"] if more > 0 else [])]
    return [f"{lead}: {listed(shown)}."]


def _clock(seconds: float) -> str:
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}"
