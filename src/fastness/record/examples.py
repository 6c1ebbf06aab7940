"""The places in a student's own games that show a thing best."""

from collections.abc import Sequence

from fastness.record.episode import Episode

EXAMPLES = 3


def best_examples(episodes: Sequence[Episode], number: int = EXAMPLES) -> tuple[Episode, ...]:
    """The clearest episodes that were not held though they could be, from different games.

    Clear: a small reach, a large loss, few units in danger at once, and not in the middle of a
    trade. Each is from a game of its own while there are games enough.
    """
    fallen = [one for one in episodes if one.could_hold and not one.held and one.lost > 0]
    return _one_a_game(sorted(fallen, key=_unclear), number)


def held_examples(episodes: Sequence[Episode], number: int = EXAMPLES) -> tuple[Episode, ...]:
    """Dangers that were met where few moves would do, to open a report with.

    Those from a check or a trade come last: there the move is looked for anyway.
    """
    held = [one for one in episodes if one.could_hold and one.held]
    return _one_a_game(sorted(held, key=_easy), number)


def _unclear(episode: Episode) -> tuple[object, ...]:
    occasion = episode.occasion
    in_trade = occasion["owed"] > 0 or occasion["danger"] is None
    return in_trade, episode.reach, -episode.lost, len(occasion["units"]), *_place(episode)


def _easy(episode: Episode) -> tuple[object, ...]:
    occasion = episode.occasion
    in_trade = occasion["owed"] > 0 or occasion["danger"] is None
    return in_trade, len(occasion["holding"]), -episode.reach, *_place(episode)


def _place(episode: Episode) -> tuple[str, str, int]:
    return episode.date, episode.game, episode.ply


def _one_a_game(ranked: Sequence[Episode], number: int) -> tuple[Episode, ...]:
    first: dict[str, Episode] = {}
    for episode in ranked:
        first.setdefault(episode.game, episode)
    rest = [one for one in ranked if first[one.game] is not one]
    return tuple([*first.values(), *rest][:number])
