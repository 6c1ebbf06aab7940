"""Occasions: the places in a game where something of the player's or the opponent's was unsafe."""

from collections.abc import Iterable, Sequence
from itertools import count
from typing import Literal, TypedDict

from fastness.core.shapes import (
    Danger,
    Look,
    MoveVerdict,
    Net,
    ReasonName,
    Side,
    Survey,
    Unit,
    Way,
)
from fastness.intake import Game
from fastness.sift.episode import Episodes, loss
from fastness.sift.outcome import (
    Outcome,
    danger_outcome,
    in_danger,
    is_danger,
    is_recapture,
    is_taking,
    number,
    played_net,
    seizes,
    taking_outcome,
)
from fastness.sift.squares import danger_squares, taking_squares
from fastness.survey.tries import natural_kind


class GameLabel(TypedDict):
    """Which game it was; what its tags do not tell is "?"."""

    number: int
    event: str
    date: str
    white: str
    black: str
    result: str


class PlayedMove(TypedDict):
    """The move played."""

    uci: str
    san: str


class Occasion(TypedDict):
    """A place to look, with what happened there.

    `ply` counts from 1. `owed`, `danger`, `net` and `best_net` are in centipawns or a mate,
    `clock` in seconds left after the move. `episode` counts from 1 within the game and is None
    for a taking. `units` are squares before the move. `holding` lists the moves that hold, or
    for a taking those that win it, best net first; `holding_ways` is the main way of each that
    holds, None where nothing had to be kept safe. `tried` is what a natural try that falls sets
    out to do, `reason` why the move played falls; None where it does not. `taken` tells whether
    the opponent's next move began to win it, and is None for a taking. `line` (UCI) proves it:
    the move played and its refutation if it falls, else what the opponent, or for a taking the
    player, could win.
    """

    kind: Literal["danger", "taking"]
    game: GameLabel
    ply: int
    move_number: int
    colour: Side
    player: str
    fen: str
    owed: int
    played: PlayedMove
    outcome: Outcome
    recapture: bool
    episode: int | None
    danger: Danger | None
    net: Net
    best_net: Net | None
    units: list[str]
    mechanisms: list[str]
    reach: int | None
    way: Way | None
    holding: list[str]
    holding_ways: list[Way | None]
    tried: str | None
    reason: ReasonName | None
    taken: bool | None
    clock: float | None
    line: list[str] | None


def published(occasion: Occasion) -> dict[str, object]:
    """The occasion with the keys of the published shape, in order; pages alone tell the line."""
    return {key: value for key, value in occasion.items() if key != "line"}


def occasions(game: Game, looks: Sequence[Look]) -> list[Occasion]:
    """The occasions of a game by ply, a danger before a taking at the same ply.

    `looks` are the looks at the own moves of one player, or of both, in the order of the game.
    Episodes are numbered through the game, White's and Black's together.
    """
    found: list[Occasion] = []
    numbers = count(1)
    following = {"white": Episodes(numbers), "black": Episodes(numbers)}
    for look in looks:
        danger = look["survey"] is not None and is_danger(look)
        episode = following[look["side"]].follow(look, occasion=danger)
        if look["survey"] is None:
            continue
        if danger:
            found.append(_danger(game, look, look["survey"], episode))
        if is_taking(look) and taking_squares(look, look["survey"]):
            found.append(_taking(game, look, look["survey"]))
    return found


def _danger(game: Game, look: Look, survey: Survey, episode: int | None) -> Occasion:
    occasion = _common(game, look)
    units = danger_squares(look, survey)
    occasion["outcome"] = danger_outcome(look)
    occasion["episode"] = episode
    occasion["units"] = units
    occasion["mechanisms"] = _mechanisms(units, survey["units"])
    occasion["reach"] = look["reach"] if in_danger(look) else _falls_at(look, survey)
    holding = [verdict for verdict in survey["moves"] if verdict["holds"]]
    occasion["holding"] = _best_first((verdict["net"], verdict["san"]) for verdict in holding)
    ways = {verdict["san"]: next(iter(verdict["ways"]), None) for verdict in holding}
    occasion["holding_ways"] = [ways[san] for san in occasion["holding"]]
    occasion["tried"] = _tried(look, survey)
    occasion["reason"] = _reason(look, survey)
    occasion["taken"] = look["reply_wins"]
    occasion["line"] = _refutation(look, survey) or _proof(units, survey["units"])
    return occasion


def _taking(game: Game, look: Look, survey: Survey) -> Occasion:
    occasion = _common(game, look)
    units = taking_squares(look, survey)
    best = look["best_net"]
    occasion["kind"] = "taking"
    # To win more than is owed is no mere taking back.
    occasion["recapture"] = False
    occasion["outcome"] = taking_outcome(look)
    occasion["units"] = units
    occasion["mechanisms"] = _mechanisms(units, survey["takings"])
    reaches = [unit["reach"] for unit in survey["takings"] if unit["reach"] is not None]
    occasion["reach"] = min(reaches, default=None)
    occasion["holding"] = _best_first(
        (verdict["net"], verdict["san"])
        for verdict in survey["moves"]
        if best is not None and seizes(verdict["net"], best)
    )
    occasion["line"] = _proof(units, survey["takings"])
    return occasion


def _common(game: Game, look: Look) -> Occasion:
    """What both kinds share; the rest stands as for a danger that says nothing yet."""
    side, played = look["side"], look["played"]
    return {
        "kind": "danger",
        "game": _label(game),
        "ply": look["ply"],
        "move_number": int(look["fen"].split()[5]),
        "colour": side,
        "player": game.tags.get("White" if side == "white" else "Black", "?"),
        "fen": look["fen"],
        "owed": look["owed"],
        "played": {"uci": played["uci"], "san": played["san"]},
        "outcome": "held",
        "recapture": is_recapture(look),
        "episode": None,
        "danger": look["danger"],
        "net": played_net(look),
        "best_net": look["best_net"],
        "units": [],
        "mechanisms": [],
        "reach": None,
        "way": played["way"],
        "holding": [],
        "holding_ways": [],
        "tried": None,
        "reason": None,
        "taken": None,
        "clock": game.clocks[look["ply"] - 1],
        "line": None,
    }


def _label(game: Game) -> GameLabel:
    tags = game.tags
    return {
        "number": game.number,
        "event": tags.get("Event", "?"),
        "date": tags.get("Date", "????.??.??"),
        "white": tags.get("White", "?"),
        "black": tags.get("Black", "?"),
        "result": game.result,
    }


def _mechanisms(squares: Iterable[str], units: Sequence[Unit]) -> list[str]:
    by_square = {unit["square"]: unit["mechanisms"] for unit in units}
    return list(dict.fromkeys(name for square in squares for name in by_square.get(square, ())))


def _verdict(look: Look, survey: Survey) -> MoveVerdict | None:
    uci = look["played"]["uci"]
    return next((move for move in survey["moves"] if move["uci"] == uci), None)


def _tried(look: Look, survey: Survey) -> str | None:
    verdict = _verdict(look, survey)
    if verdict is None or verdict["holds"]:
        return None
    return natural_kind(survey, verdict)


def _reason(look: Look, survey: Survey) -> ReasonName | None:
    verdict = _verdict(look, survey)
    return None if verdict is None else verdict["reason"]


def _falls_at(look: Look, survey: Survey) -> int | None:
    verdict = _verdict(look, survey)
    return None if verdict is None else verdict["falls_at"]


def _refutation(look: Look, survey: Survey) -> list[str] | None:
    verdict = _verdict(look, survey)
    return None if verdict is None or verdict["holds"] else verdict["line"]


def _proof(squares: Sequence[str], units: Sequence[Unit]) -> list[str] | None:
    """The line that wins the dearest of the units on these squares."""
    dearest = sorted(units, key=lambda unit: -loss(unit))
    lines = [unit["line"] for unit in dearest if unit["square"] in squares and unit["line"]]
    return lines[0] if lines else None


def _best_first(moves: Iterable[tuple[Net, str]]) -> list[str]:
    return [san for net, san in sorted(moves, key=lambda move: (-number(move[0]), move[1]))]
