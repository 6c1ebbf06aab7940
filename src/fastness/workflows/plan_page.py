"""The coming weeks' themes for a student or a group, as text for the teacher."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.language import ENGLISH, Language
from fastness.record import months_plan
from fastness.survey.lines import wrapped
from fastness.workflows.advice import task_for_student
from fastness.workflows.record_words import finding_name, games_counted, place
from fastness.workflows.recording import StudentRecord, owner_of


def plan_page(records: Sequence[StudentRecord], language: Language = ENGLISH) -> str:
    """A theme a week, the one that costs most first, for whom it is, and own examples."""
    by_name = {one.name: one for one in records}
    themes = months_plan({name: one.diagnosis for name, one in by_name.items()})
    if not themes:
        told = language.say(
            "Nothing stands out in {games} yet; no theme is more needed than another.",
            games=games_counted(sum(len(one.games) for one in records), language),
        )
        return f"{told}\n"
    parts = []
    for theme in themes:
        cause = finding_name(theme.cause, language)
        rows = [language.say("Week {number}: {theme}", number=theme.week, theme=cause)]
        students = language.say("For {students}.", students="; ".join(theme.students))
        rows.append(wrapped(students))
        rows.append(wrapped(task_for_student(theme.cause, language)))
        for example in theme.examples:
            owner = owner_of([by_name[name] for name in theme.students], example)
            rows.append(wrapped(f"{owner.name}, {place(owner, example, language)}", hang=2))
        parts.append("\n".join(rows))
    return "\n\n".join(parts) + "\n"
