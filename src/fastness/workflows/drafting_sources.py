"""Where the positions of a drafted lesson are from: the record, the week's folder, the shelf."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from fastness.errors import FileError, InputError
from fastness.exercises.difficulty import is_unsafe
from fastness.exercises.encoding import from_json
from fastness.lessons.drafting_shown import SHOWN, theme_taught
from fastness.record import Episode, months_plan
from fastness.record.episode import all_episodes
from fastness.record.examples import best_examples, held_examples
from fastness.store import Store, shelf
from fastness.store.shelf import Wanted
from fastness.survey.position import position_key
from fastness.survey.words import WAYS
from fastness.workflows.recording import StudentRecord, record_of, records_of_group


@dataclass(frozen=True, slots=True)
class Source:
    """A theme and positions (FEN) for it, the best first; `own`: they are from the group's games.

    `more` says what to do where there are too few.
    """

    theme: str
    positions: tuple[str, ...]
    own: bool
    more: str


def from_record(store: Store, *, group: str = "", student: str = "") -> Source:
    """What a group or a student needs most, by the record, with places from their games.

    Where nothing stands out it is what costs most. Raises StudentError where there is no such
    group or student, and InputError where nothing fell in their games.
    """
    records = records_of_group(store, group) if group else [record_of(store, student)]
    cause = _cause(records)
    episodes = all_episodes([one.game for record in records for one in record.games])
    with_cause = [one for one in episodes if cause in one.causes]
    others = [one for one in episodes if cause not in one.causes]
    ordered = [*_clearest(with_cause), *_clearest(others)]
    fens = _distinct(one.occasion["fen"] for one in ordered)
    return Source(theme_taught(cause), fens, True, "Bring in more of their games.")


def _cause(records: Sequence[StudentRecord]) -> str:
    themes = months_plan({one.name: one.diagnosis for one in records}, weeks=1)
    if themes:
        return themes[0].cause
    lost: Counter[str] = Counter()
    for record in records:
        for finding in record.diagnosis.causes:
            if finding.losses and theme_taught(finding.name) in SHOWN:
                lost[finding.name] += sum(one.lost for one in finding.losses)
    if not lost:
        raise InputError(
            "Nothing fell in these games, so that no theme can be chosen; name one with --theme."
        )
    return min(lost, key=lambda name: (-lost[name], name))


def _clearest(episodes: Sequence[Episode]) -> list[Episode]:
    """What fell though it could be held, the clearest first, and then what was held."""
    number = len(episodes)
    return [*best_examples(episodes, number), *held_examples(episodes, number)]


def from_week(folder: Path) -> Source:
    """The positions of a week's folder and their twins; the theme is what most of them show.

    Raises FileError where the folder has none.
    """
    try:
        lines = (folder / "positions.jsonl").read_text(encoding="utf-8").splitlines()
        told = json.loads((folder / "week.json").read_text(encoding="utf-8"))
        twins = [one["twin"]["fen"] for one in told["positions"] if one["twin"]]
    except OSError as error:
        raise FileError(
            f"{folder} is no folder of a week: {error.strerror}; give one of `fastness week`"
        ) from None
    except (ValueError, KeyError, TypeError) as error:
        raise FileError(f"{folder}/week.json cannot be read: {error}") from None
    proved = [from_json(line) for line in lines if line.strip()]
    causes = Counter(
        name
        for one in proved
        for name in {
            cause for unit in one.survey["units"] if is_unsafe(unit) for cause in unit["mechanisms"]
        }
    )
    if not causes:
        raise FileError(f"{folder}: none of the week's positions shows a theme; name one yourself")
    theme = min(causes, key=lambda name: (-causes[name], name))
    showing = sorted(
        proved,
        key=lambda one: not any(theme in unit["mechanisms"] for unit in one.survey["units"]),
    )
    fens = _distinct([*(one.fen for one in showing), *twins])
    return Source(theme, fens, True, "Draft it from the group's record instead.")


def from_shelf(store: Store, theme: str) -> Source:
    """The positions on the shelf that show a mechanism, or are met in a way."""
    wanted = Wanted(way=(theme,)) if theme in WAYS else Wanted(mechanism=(theme,))
    with store.reading() as session:
        fens = _distinct(one.fen for one in shelf.find(session, wanted))
    return Source(theme, fens, False, "Put more on the shelf with: fastness mine")


def _distinct(fens: Iterable[str]) -> tuple[str, ...]:
    return tuple({position_key(fen): fen for fen in reversed(list(fens))}.values())[::-1]
