"""Drafting a lesson: positions from the record, the week or the shelf, checked, and written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import FileError, InputError, OptionError, PositionError, TwinError
from fastness.exercises.change_words import twin_in_words
from fastness.exercises.difficulty import estimate, level_of
from fastness.exercises.exercise import LEVELS, Level
from fastness.exercises.remedy import wants_answer
from fastness.exercises.twins import find_twins
from fastness.language import ENGLISH, Language
from fastness.lessons.drafting import (
    ORDER,
    Asked,
    Changed,
    Example,
    Material,
    asked_about,
    is_told_in_full,
    lesson_text,
    moves_told,
)
from fastness.lessons.drafting_claims import Marked, claims_of, proved_block
from fastness.lessons.drafting_shown import SHOWN, THEMES
from fastness.lessons.lesson import Twin
from fastness.lessons.reading import read_lesson
from fastness.store import Store
from fastness.survey.lines import move_name
from fastness.survey.position import position_key
from fastness.workflows.drafting_sources import Source, from_record, from_shelf, from_week

QUESTIONS: dict[Level, int] = {"plain": 3, "club": 4, "stretch": 5}
"""Questions of a draft by its level."""
HOMEWORK = 3
FEWEST = 3
"""Questions below which there is no draft."""
LOOKED_AT = 40
"""Positions looked at for one draft, at the most."""
EXAMPLES = 3
"""Positions told in full in which a twin is looked for."""
TWIN_SECONDS = 8.0


@dataclass(frozen=True, slots=True)
class Drafted:
    """A draft: its text, its theme, and how many claims there are in it, all of them true."""

    text: str
    theme: str
    claims: int
    twin: bool


def draft_lesson(
    source: Source,
    level: Level = "club",
    language: Language = ENGLISH,
    *,
    twin_seconds: float = TWIN_SECONDS,
    on_progress: Callable[[int], None] | None = None,
) -> Drafted:
    """A lesson about the theme of `source`, from its positions, every claim of it proved.

    A position that does not bear out what would be said of it is left out. `twin_seconds` is how
    long to look for a twin in each of the first examples, 0 for not at all. `on_progress` is told
    how many positions were looked at.

    Raises InputError where too few positions can be used.
    """
    looked = _Looked(language, on_progress)
    usable = [one for fen in source.positions[:LOOKED_AT] if (one := looked.at(fen)) is not None]
    example, changed = _example(usable, source.theme, language, twin_seconds)
    if example is None:
        raise InputError(_too_few(source, len(usable)))
    rest = [one for one in usable if position_key(one.fen) != position_key(example.marked.fen)]
    wanted = QUESTIONS[level] + HOMEWORK
    asked = list(_questions(rest, level, wanted))
    if len(asked) < FEWEST + 1:
        raise InputError(_too_few(source, len(usable)))
    questions = asked[: min(QUESTIONS[level], max(FEWEST, len(asked) - HOMEWORK))]
    shown = SHOWN[source.theme]
    material = Material(
        theme=source.theme,
        level=level,
        shown=proved_block(shown.fen, shown.claims),
        example=example,
        changed=changed,
        questions=tuple(questions),
        homework=tuple(asked[len(questions) :][:HOMEWORK]),
        own=source.own,
    )
    text = lesson_text(material, language)
    return Drafted(text, source.theme, _claims_in(text), changed is not None)


def write_draft(drafted: Drafted, path: Path) -> None:
    """Write a draft to a new file. Raises FileError where one is there, or it cannot be written."""
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(drafted.text)
    except FileExistsError:
        raise FileError(
            f"{path} is there already and was left as it is; name another one"
        ) from None
    except OSError as error:
        raise FileError(f"{path} cannot be written: {error.strerror}; name another one") from None


@dataclass(frozen=True, slots=True)
class _Usable:
    """A position with its firm survey, and its level."""

    survey: Survey
    level: Level

    @property
    def fen(self) -> str:
        return self.survey["fen"]


class _Looked:
    """Looks at positions one after another."""

    def __init__(self, language: Language, on_progress: Callable[[int], None] | None) -> None:
        self.language = language
        self.on_progress = on_progress
        self.number = 0

    def at(self, fen: str) -> _Usable | None:
        """A position in which something is to be kept, and can be; None for any other."""
        self.number += 1
        if self.on_progress:
            self.on_progress(self.number)
        try:
            survey = core.survey(fen, firm=True)
        except PositionError:
            return None
        if survey["in_check"] or survey["owed"] or not wants_answer(survey):
            return None
        if any(move["net"] == "mates" for move in survey["moves"]):
            return None  # who can give mate has nothing to keep
        return _Usable(survey, level_of(estimate(survey, "every move", None)))


def _example(
    usable: Sequence[_Usable], theme: str, language: Language, twin_seconds: float
) -> tuple[Example | None, Changed | None]:
    """The first position that can be told in full, if it can be one that has a twin."""
    first: Example | None = None
    tried = 0
    for one in sorted(usable, key=lambda one: _unlike_an_example(one.survey, theme)):
        if tried == EXAMPLES:
            break
        survey = core.survey(one.fen, firm=True, rank_nodes=core.RANK_NODES)
        keeping, tries = moves_told(survey, language)
        marked = proved_block(one.fen, claims_of(survey, keeping=keeping, tries=tries))
        if not is_told_in_full(survey, marked, language):
            continue
        tried += 1
        first = first or Example(survey, marked)
        if not twin_seconds:
            break
        found = _twin_of(survey, marked, language, twin_seconds)
        if found:
            return found
    return first, None


def _unlike_an_example(survey: Survey, theme: str) -> tuple[bool, bool]:
    """What shows the theme comes first, and of that what has one unit in danger and no more."""
    endangered = [unit for unit in survey["units"] if unit["status"].startswith("unsafe")]
    return not _shows(survey, theme), len(endangered) > 1


def _shows(survey: Survey, theme: str) -> bool:
    """Whether the theme is a cause of a danger in a position, or a way to meet it."""
    causes = {name for unit in survey["units"] for name in unit["mechanisms"]}
    ways = {move["ways"][0] for move in survey["moves"] if move["holds"] and move["ways"]}
    return theme in causes | ways or theme not in THEMES


def _twin_of(
    survey: Survey, marked: Marked, language: Language, seconds: float
) -> tuple[Example, Changed] | None:
    try:
        search = find_twins(survey, count=1, seconds=seconds)
    except TwinError:
        return None
    for twin in search.twins:
        lead = [twin.lead] if twin.falls else []
        # The change is claimed of the twin, so that the example does not give it away before.
        changed = f"twin: {marked.fen} better {_san(marked.fen, twin.lead)}"
        claimed = claims_of(twin.survey, keeping=list(twin.better), tries=lead)
        there = proved_block(twin.fen, [*claimed, changed]).without_tries(lead)
        kept = set(twin.better) <= set(there.keeping)
        told = not lead or any(one.move == twin.lead for one in there.falling)
        if kept and told and there.has(Twin):
            words = twin_in_words(twin, language)
            return Example(survey, marked), Changed(words, there, twin.lead)
    return None


def _san(fen: str, uci: str) -> str:
    return move_name(chess.Board(fen), uci)


def _questions(usable: Sequence[_Usable], level: Level, wanted: int) -> Iterator[Asked]:
    """Questions about positions, those of the level first, each of a kind that it can answer."""
    at = LEVELS.index(level)
    near = sorted(usable, key=lambda one: abs(LEVELS.index(one.level) - at))
    kinds, number = ORDER[level], 0
    for one in near:
        if number == wanted:
            return
        marked = proved_block(one.fen, claims_of(one.survey))
        turn = number % len(kinds)
        for kind in (*kinds[turn:], *kinds[:turn]):
            asked = asked_about(marked, kind, number)
            if asked:
                number += 1
                yield asked
                break


def _too_few(source: Source, usable: int) -> str:
    return (
        f"Too few positions for a lesson about {source.theme!r}: {usable} can be used, and"
        f" {FEWEST + 2} or more are wanted, one of which can be told in full. {source.more}"
    )


def _claims_in(text: str) -> int:
    return sum(len(block.claims) for block in read_lesson(text).blocks)


def source_of(
    store: Store,
    *,
    group: str = "",
    student: str = "",
    theme: str = "",
    week: Path | None = None,
) -> Source:
    """Where a draft is from: exactly one of a group, a student, a theme or a week's folder.

    Raises OptionError where it is not one, or the theme has another name; StudentError and
    FileError where there is no such student, group or folder.
    """
    given = [name for name in (group, student, theme, str(week or "")) if name]
    if len(given) != 1:
        raise OptionError("Give one of --group, --student, --theme and --week.")
    if week is not None:
        return from_week(week)
    if theme:
        if theme not in THEMES:
            raise OptionError(f'"{theme}" is no theme; there are {", ".join(THEMES)}')
        return from_shelf(store, theme)
    return from_record(store, group=group, student=student)
