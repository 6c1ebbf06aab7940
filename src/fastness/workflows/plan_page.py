"""The coming weeks' themes for a student or a group, as text for the teacher."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.language import ENGLISH, Language
from fastness.survey.lines import wrapped
from fastness.workflows.planning import plan
from fastness.workflows.recording import StudentRecord


def plan_page(records: Sequence[StudentRecord], language: Language = ENGLISH) -> str:
    """A theme a week, the one that costs most first, for whom it is, and own examples."""
    found = plan(records, language)
    if found.told:
        return f"{found.told}\n"
    parts = []
    for theme in found.themes:
        rows = [language.say("Week {number}: {theme}", number=theme.week, theme=theme.theme)]
        students = language.say("For {students}.", students="; ".join(theme.students))
        rows.append(wrapped(students))
        rows.append(wrapped(theme.task))
        rows += [wrapped(f"{one.student}, {one.told}", hang=2) for one in theme.examples]
        parts.append("\n".join(rows))
    return "\n\n".join(parts) + "\n"
