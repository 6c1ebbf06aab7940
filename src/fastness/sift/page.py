"""The summary and the occasions as plain text for a teacher, kindly worded."""

from collections.abc import Mapping

import chess

from fastness.core.shapes import Way
from fastness.sift.occasion import GameLabel, Occasion
from fastness.sift.outcome import Outcome
from fastness.sift.summary import PlayerSummary, Tally, cost
from fastness.survey.lines import wrapped
from fastness.survey.words import ahead, listed, units_on, worth

_MOVES_SHOWN = 6

_HAPPENED: dict[Outcome, str] = {
    "held": "It was kept",
    "lessened": "Less was lost than was in danger",
    "let fall": "It could be won after this move",
    "saved most": "Nothing kept everything; this saved as much as could be saved",
    "exposed": "All was safe before; this move put it in danger",
    "seized": "This wins it",
    "let off": "It was let off",
}
_BY_WAY: dict[Way, str] = {
    "capture": "by capturing",
    "move": "by moving",
    "block": "by blocking",
    "guard": "by guarding",
    "counterattack": "by a counterattack",
    "other": "by other means",
}
_COUNTED: dict[Outcome, str] = {
    "held": "kept safe",
    "lessened": "lost less than was in danger",
    "let fall": "could be won after the move played",
    "saved most": "nothing kept everything, and as much as possible was saved",
    "exposed": "safe until the move played put it in danger",
}


def summary_page(summary: PlayerSummary) -> str:
    """One player's summary: what went well first, then what to look at."""
    dangers = sum(summary.outcomes.values())
    takings = sum(summary.takings.values())
    lines = [f"{summary.player}, {_counted(summary.games, 'game')}"]
    if not dangers and not takings:
        return "\n".join([*lines, "  Nothing was in danger, and nothing could be won."])
    lines += [_place(kept, "Done well: ", 2) for kept in summary.kept[:1]]
    if dangers:
        lines.append(f"  Something was not safe {_times(dangers)}:")
        lines += [
            f"    {summary.outcomes[outcome]:>3}  {words}"
            for outcome, words in _COUNTED.items()
            if outcome in summary.outcomes
        ]
    if summary.held.faced:
        lines.append(f"  Where a move could keep everything: {_tally(summary.held)}.")
        lines += _split("By cause", summary.mechanisms)
        lines += _split("By reach", {ahead(n): tally for n, tally in summary.reaches.items()})
    if summary.ways:
        ways = sorted(summary.ways.items(), key=lambda item: -item[1])
        told = listed([f"{_BY_WAY[way]} {_times(number)}" for way, number in ways])
        lines.append(wrapped(f"Kept {told}.", 2, 2))
    if takings:
        seized = summary.takings.get("seized", 0)
        lines.append(f"  Something could be won {_times(takings)}; taken {_times(seized)}.")
    if summary.costliest:
        lines.append("  To look at first:")
        lines += [_place(one) for one in summary.costliest]
    if summary.kept[1:]:
        lines.append("  Also done well:")
        lines += [_place(one) for one in summary.kept[1:]]
    return "\n".join(lines)


def game_page(game: GameLabel) -> str:
    """The heading over the occasions of one game."""
    told = [game["event"], game["date"], game["result"]]
    known = [word for word in told if word.strip("?.* ")]
    return f"Game {game['number']}: {game['white']} - {game['black']}" + "".join(
        f", {word}" for word in known
    )


def occasion_page(occasion: Occasion) -> str:
    """One occasion: the move, what was not safe, what happened, what would have kept it."""
    who = f"{occasion['player']} ({occasion['colour'].capitalize()})"
    clock = occasion["clock"]
    time = "" if clock is None else f", {_clock(clock)} left"
    sentences = [_what(occasion), _outcome(occasion), *_moves(occasion)]
    if occasion["kind"] == "danger" and occasion["outcome"] != "held":
        took = "began to win it" if occasion["taken"] else "did not begin to win it"
        sentences.append(f"The opponent's next move {took}.")
    told = [wrapped(sentence, 4, 2) for sentence in sentences]
    return "\n".join([f"  {move_name(occasion)}  {who}{time}", *told])


def move_name(occasion: Occasion) -> str:
    """The move played as in print: "14.Nf3" or "14...Nf6"."""
    dots = "." if occasion["colour"] == "white" else "..."
    return f"{occasion['move_number']}{dots}{occasion['played']['san']}"


def page(summaries: list[PlayerSummary], occasions: list[Occasion]) -> str:
    """The whole text: the summaries, then the occasions game by game."""
    parts = [summary_page(summary) for summary in summaries]
    before: GameLabel | None = None
    for occasion in occasions:
        if occasion["game"] != before:
            before = occasion["game"]
            parts.append(game_page(before))
        parts.append(occasion_page(occasion))
    if not parts:
        parts.append("No game to look at.")
    return "\n\n".join(parts) + "\n"


def _what(occasion: Occasion) -> str:
    units = units_on(chess.Board(occasion["fen"]), occasion["units"])
    causes = f" ({listed(occasion['mechanisms'])})" if occasion["mechanisms"] else ""
    reach = f", {ahead(occasion['reach'])}" if occasion["reach"] else ""
    if occasion["kind"] == "taking":
        return f"Could be won: {units or 'material'}{causes}{reach}."
    if occasion["recapture"] or (occasion["owed"] and not units):
        owed = worth(occasion["owed"]) if occasion["owed"] else "the last capture"
        return f"A trade: {owed} had to be taken back."
    if occasion["outcome"] == "exposed":
        return f"Put in danger: {units or 'material'}{causes}{reach}."
    if occasion["danger"] is None:
        return f"In check; {_also_checked(occasion, units)}{causes}{reach}."
    return f"Not safe: {units or 'material'}{causes}{reach}."


def _also_checked(occasion: Occasion, units: str) -> str:
    if occasion["outcome"] == "held":
        return "some of the moves out of it lose something"
    return f"the move out of it lets {units or 'material'} be won"


def _outcome(occasion: Occasion) -> str:
    happened = _HAPPENED[occasion["outcome"]]
    if occasion["recapture"]:
        return f"{occasion['played']['san']} took it back."
    way = occasion["way"]
    if occasion["outcome"] == "held" and way is not None:
        happened += f" {_BY_WAY[way]}"
    if occasion["outcome"] not in ("held", "seized", "saved most"):
        happened += f"; {_cost(occasion)}"
    return f"{happened}."


def _cost(occasion: Occasion) -> str:
    missed, net, best = cost(occasion), occasion["net"], occasion["best_net"]
    if net == "mated":
        return "it allows mate"
    if best == "mates":
        return "there was a mate"
    return f"the best move was {worth(round(missed))} better"


def _moves(occasion: Occasion) -> list[str]:
    """What else would have done, in a sentence; nothing where no taking was missed or won."""
    taking = occasion["kind"] == "taking"
    others = [san for san in occasion["holding"] if san != occasion["played"]["san"]]
    if not occasion["holding"]:
        return [] if taking else ["No move kept everything."]
    if not others:
        return [f"No other move {'wins' if taking else 'keeps'} it."]
    if len(others) < len(occasion["holding"]):
        lead = "Would also win it" if taking else "Would also keep it"
    else:
        lead = "Would have won it" if taking else "Would have kept it"
    more = len(others) - _MOVES_SHOWN
    shown = [*others[:_MOVES_SHOWN], *([f"{more} more"] if more > 0 else [])]
    return [f"{lead}: {listed(shown)}."]


def _place(occasion: Occasion, lead: str = "", indent: int = 4) -> str:
    """An occasion of some game in a few lines, for the summary."""
    game = occasion["game"]
    where = f"game {game['number']} ({game['white']} - {game['black']}), {move_name(occasion)}"
    what = _what(occasion)
    told = f"{lead}{where}: {what[:1].lower()}{what[1:]} {_outcome(occasion)}"
    return wrapped(told, indent, 2)


def _split(title: str, tallies: Mapping[str, Tally]) -> list[str]:
    rows = sorted(tallies.items(), key=lambda item: -item[1].faced)
    return [f"    {title}: {name}, {_tally(tally)}" for name, tally in rows]


def _tally(tally: Tally) -> str:
    return f"held {tally.held} of {tally.faced}"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


def _times(number: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(number, f"{number} times")


def _clock(seconds: float) -> str:
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}"
