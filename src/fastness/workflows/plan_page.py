"""The coming weeks' themes for a student or a group, as text for the teacher."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.record import Episode, months_plan
from fastness.sift import counted
from fastness.survey.lines import wrapped
from fastness.workflows.advice import task_for_student
from fastness.workflows.record_page import place
from fastness.workflows.recording import StudentRecord


def plan_page(records: Sequence[StudentRecord]) -> str:
    """A theme a week, the one that costs most first, for whom it is, and own examples."""
    by_name = {one.name: one for one in records}
    themes = months_plan({name: one.diagnosis for name, one in by_name.items()})
    if not themes:
        games = counted(sum(len(one.games) for one in records), "game")
        return f"Nothing stands out in {games} yet; no theme is more needed than another.\n"
    parts = []
    for theme in themes:
        rows = [f"Week {theme.week}: {theme.cause}"]
        rows.append(wrapped(f"For {'; '.join(theme.students)}."))
        rows.append(wrapped(task_for_student(theme.cause)))
        for example in theme.examples:
            owner = _owner([by_name[name] for name in theme.students], example)
            rows.append(wrapped(f"{owner.name}, {place(owner, example)}", hang=2))
        parts.append("\n".join(rows))
    return "\n\n".join(parts) + "\n"


def _owner(records: Sequence[StudentRecord], example: Episode) -> StudentRecord:
    """Whose side of a game an episode is from."""
    side = example.game, example.occasion["colour"]
    return next(
        one
        for one in records
        if any((game.game.game, game.game.colour) == side for game in one.games)
    )
