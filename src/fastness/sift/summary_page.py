"""The summary of each player's games, for a teacher before a lesson."""

from collections.abc import Mapping

from fastness.sift.occasion import Occasion
from fastness.sift.outcome import Outcome
from fastness.sift.page import BY_WAY, happened, known_date, move_name, tidy, what
from fastness.sift.summary import PlayerSummary, Summaries, Tally
from fastness.survey.lines import wrapped
from fastness.survey.words import ahead, listed

_COUNTED: dict[Outcome, str] = {
    "held": "kept safe",
    "offered": "offered for play that is worth it: a sacrifice, no fault",
    "lessened": "lost less than was in danger",
    "let fall": "could be won after the move played",
    "saved most": "nothing kept everything, and as much as possible was saved",
    "exposed": "safe until the move played put it in danger",
}


def summaries_page(summaries: Summaries) -> str:
    """The summaries of all players, in order of their names."""
    if not summaries.games:
        return "No game to look at.\n"
    return "".join(summary_page(summary) + "\n\n" for summary in summaries.players())


def summary_page(summary: PlayerSummary) -> str:
    """One player's summary: what went well first, then what to look at."""
    dangers = sum(summary.outcomes.values())
    takings = sum(summary.takings.values())
    lines = [f"{tidy(summary.player)}, {counted(summary.games, 'game')}"]
    if not dangers and not takings:
        return "\n".join([*lines, "  Nothing was in danger, and nothing could be won."])
    if summary.kept:
        lines += ["  Done well", *map(_place, summary.kept)]
    if summary.costliest:
        lines += ["  To look at first", *map(_place, summary.costliest)]
    if dangers:
        lines.append(f"  Something was not safe {_times(dangers)}")
        lines += [
            f"    {summary.outcomes[outcome]:>4}  {words}"
            for outcome, words in _COUNTED.items()
            if outcome in summary.outcomes
        ]
    if summary.held.faced:
        lines.append(f"  Where a move could keep everything: {_tally(summary.held)}")
        lines += _split("by cause", summary.mechanisms)
        lines += _split("by how far ahead", {ahead(n): t for n, t in summary.reaches.items()})
    if summary.ways:
        ways = sorted(summary.ways.items(), key=lambda item: -item[1])
        told = listed([f"{BY_WAY[way]} {_times(number)}" for way, number in ways])
        lines.append(wrapped(f"Kept {told}.", 2, 2))
    if takings:
        seized = summary.takings.get("seized", 0)
        lines.append(f"  Something could be won {_times(takings)}; taken {_times(seized)}.")
    return "\n".join(lines)


def counted(number: int, word: str) -> str:
    """``1 game``, ``12 games``."""
    return f"{number:,} {word}" + ("" if number == 1 else "s")


def _place(occasion: Occasion) -> str:
    """An occasion of some game in a few lines."""
    game = occasion["game"]
    players = f"{tidy(game['white'])} - {tidy(game['black'])}"
    where = ", ".join(filter(None, [players, known_date(game)]))
    told = f"Game {game['number']} ({where}), {move_name(occasion)}. {what(occasion)}"
    return wrapped(f"{told} {happened(occasion)}", 4, 2)


def _split(title: str, tallies: Mapping[str, Tally]) -> list[str]:
    rows = sorted(tallies.items(), key=lambda item: -item[1].faced)
    if not rows:
        return []
    width = max(len(name) for name, _ in rows)
    return [f"    {title}", *(f"      {name:<{width}}  {_tally(tally)}" for name, tally in rows)]


def _tally(tally: Tally) -> str:
    return f"held {tally.held} of {tally.faced}"


def _times(number: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(number, f"{number} times")
