"""`fastness homework`: exercises handed out for a phone or on paper, and what comes back."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Annotated

import cyclopts
from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli import BAD_INPUT
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.cli.shelf_filter import Several, ShelfFilter
from fastness.errors import FileError, InputError
from fastness.language import Language
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.publish.text import text
from fastness.store import Store
from fastness.workflows.homework import MOST, list_homework, make, show
from fastness.workflows.homework_files import Form, write_homework, write_results
from fastness.workflows.homework_hand_in import hand_in_code, hand_in_paper
from fastness.workflows.homework_results import grid_document, handed_in_words, row_in_words
from fastness.workflows.homework_sources import of_lesson, of_week
from fastness.workflows.homework_told import HandedIn
from fastness.workflows.sheet_making import choose_for_sheet
from fastness.workflows.writable import check_writable

USUAL_COUNT = 6
"""Exercises, where nothing else is asked for."""
GROUP_OF_LETTERS = 4

homework = cyclopts.App(
    name="homework", help="Hand out homework for a phone or on paper, and mark what comes back."
)


@homework.command(name="make")
def make_homework(
    *number: int,
    to: Path,
    due: datetime.date,
    group: str | None = None,
    student: Annotated[tuple[str, ...], Several] = (),
    title: Annotated[str, Parameter(show_default=False)] = "",
    week: Path | None = None,
    lesson: Path | None = None,
    anyway: Annotated[bool, Parameter(negative=())] = False,
    fits: ShelfFilter | None = None,
    count: Annotated[
        int | None, Parameter(validator=Number(gte=1, lte=MOST), show_default=False)
    ] = None,
    seed: Annotated[int | None, Parameter(validator=Number(gte=0), show_default=False)] = None,
    address: Annotated[str, Parameter(show_default=False)] = "",
    paper: Paper = "a4",
    large: Annotated[bool, Parameter(negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Hand out homework: a page that needs no network, a slip for each student, and it on paper.

    A balanced choice is made of the exercises on the shelf that fit; or those with the numbers
    given are taken in that order, or those of a week or a lesson.

    Args:
        number: exercises by their numbers on the shelf, instead of a choice.
        to: the folder to write.
        due: the day it is due, as 2026-12-03.
        group: the group it is for.
        student: a student it is for, instead of a group; may be given several times.
        title: what stands at the top, such as the theme.
        week: a folder that fastness week wrote: what its sheet of one level asks, --level or club.
        lesson: a lesson's file: a question for each of its positions.
        anyway: hand it out although the lesson says something that is not true.
        fits: which exercises are chosen from.
        count: how many are chosen, 6 if nothing is said.
        seed: another number gives another choice; the same number the same one.
        address: where the page stands in the club's network, for the slips.
        paper: a4 or us-letter.
        large: large print.
        language: the language of the page and the prints; that of LANG if there are texts in it,
            else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    fits, words = fits or ShelfFilter(), chosen(language)
    ways = sum((bool(number), week is not None, lesson is not None))
    choosing = count is not None or seed is not None
    if ways > 1 or (ways and (choosing or (week is None and fits != ShelfFilter()))):
        raise InputError(
            "Give the numbers of exercises, a week, a lesson, or what to choose by: one of them."
        )
    check_writable(to, folder=True)
    with opened(store) as place:
        if number:
            taken = list(number)
        elif week is not None:
            taken = of_week(place, week, (*fits.level, "club")[0])
        elif lesson is not None:
            taken = _of_lesson(place, lesson, words, anyway=anyway)
        else:
            taken = _chosen(place, fits, count or USUAL_COUNT, seed or 0, words)
        name = title.strip() or words.say("Homework for {day}", day=due.isoformat())
        made = make(place, name, taken, due, group=group, students=student, language=words)
        layout = Layout(paper=paper, large=large, language=words)
        written = write_homework(place, made.row.number, to, layout, address=address)
    print(row_in_words(made.row, words))
    for path in written:
        print(path)


def _chosen(
    store: Store, fits: ShelfFilter, count: int, seed: int, language: Language
) -> list[int]:
    rows = choose_for_sheet(store, fits.wanted(), count, seed=seed, language=language)
    if not rows:
        raise InputError("No exercise on the shelf fits. Look with fastness shelf list.")
    if len(rows) < count:
        told = language.say(
            "{count} exercises were asked for; {found} fit that differ enough",
            count=count,
            found=len(rows),
        )
        print(told, file=sys.stderr)
    return [one.number for one in rows]


def _of_lesson(store: Store, path: Path, language: Language, *, anyway: bool) -> list[int]:
    found = of_lesson(store, path, language, anyway=anyway)
    for line in found.without:
        told = language.say(
            "{path}:{line}: this position is not firm enough to be asked about; it is left out",
            path=path,
            line=line,
        )
        print(told, file=sys.stderr)
    return list(found.numbers)


@homework.command(name="mark")
def mark_homework(
    *code: Annotated[str, Parameter(allow_leading_hyphen=True)],
    sheet: Annotated[int | None, Parameter(name="--paper", show_default=False)] = None,
    student: Annotated[str | None, Parameter(show_default=False)] = None,
    to: Path | None = None,
    form: Form = "pdf",
    paper_size: Paper = "a4",
    large: Annotated[bool, Parameter(negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> int:
    """Mark homework that came back, and keep what was answered.

    Give codes, or files with a code on each line. A code that was marked before changes nothing;
    what was handed in first counts, and what comes later is kept beside it.

    A sheet on paper is entered by the letters of its marking grid, a word for each exercise:
    --paper NUMBER --student NAME "a bc - o", or a file with lines such as NAME: a bc - o.

    Args:
        code: codes, files of them, or with --paper the letters of a marking grid or a file.
        sheet: the number of the homework whose sheets these are.
        student: whose sheet it is.
        to: a folder for a result for each student, and the grid.
        form: of the results: pdf, html or md.
        paper_size: a4 or us-letter.
        large: large print.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    unknown = [one for one in code if one.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness homework mark --help")
    if not code:
        raise InputError("Nothing to mark. Give a code, or a file with a code on each line.")
    if student is not None and sheet is None:
        raise InputError("A code says whose it is. Give --student only with --paper.")
    words = chosen(language)
    if to is not None:
        check_writable(to, folder=True)
    with opened(store) as place:
        mark = (
            _by_code(place, words) if sheet is None else _by_letters(place, sheet, student, words)
        )
        handed_in, status = _marked(mark, _lines(code, letters=sheet is not None))
        for one in handed_in:
            print(handed_in_words(one, words))
        if to is not None and handed_in:
            layout = Layout(paper=paper_size, large=large, language=words)
            for path in write_results(place, handed_in, to, layout, form):
                print(path)
    return status


def _by_code(store: Store, language: Language) -> Callable[[str], HandedIn]:
    def mark(line: str) -> HandedIn:
        # Whose it is may stand before it, as in a list; the code says it too.
        return hand_in_code(store, line.rpartition(":")[2], language)

    return mark


def _by_letters(
    store: Store, number: int, student: str | None, language: Language
) -> Callable[[str], HandedIn]:
    def mark(line: str) -> HandedIn:
        name, colon, letters = line.rpartition(":")
        if student is None and not colon:
            raise InputError(
                f'"{line}" says not whose it is; write NAME: LETTERS, or --student NAME'
            )
        return hand_in_paper(store, number, student or name, letters, language)

    return mark


def _lines(given: Sequence[str], *, letters: bool) -> Iterator[tuple[str, str]]:
    """What is to be marked, one by one, each with where it stands."""
    files = [one for one in given if Path(one).is_file()]
    rest = [one for one in given if one not in files]
    # A code or a sheet's letters may come without quotes, in several words.
    if rest and (letters or all(len(one) <= GROUP_OF_LETTERS for one in rest)):
        rest = [" ".join(rest)]
    yield from ((one, one) for one in rest)
    for file in files:
        try:
            lines = Path(file).read_text("utf-8").splitlines()
        except (OSError, UnicodeDecodeError) as error:
            raise FileError(f"{file} cannot be read as text in UTF-8: {error}") from error
        for at, line in enumerate(lines, 1):
            if line.strip():
                yield f"{file}:{at}", line


def _marked(
    mark: Callable[[str], HandedIn], lines: Iterator[tuple[str, str]]
) -> tuple[list[HandedIn], int]:
    """What could be marked, and the exit status; what could not is told and costs nothing else."""
    handed_in, status = [], 0
    for where, line in lines:
        try:
            handed_in.append(mark(line))
        except InputError as error:
            told = str(error) if where == line else f"{where}: {error}"
            print(f"fastness: {told}", file=sys.stderr)
            status = BAD_INPUT
    return handed_in, status


@homework.command(name="show")
def show_homework(
    number: int | None = None, *, language: TextLanguage = None, store: StorePlace = None
) -> None:
    """List what was handed out, or show one homework: who handed in, and each one's word.

    Args:
        number: the homework's number in the list.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    words = chosen(language)
    with opened(store) as place:
        if number is not None:
            told = show(place, number, words)
            print(text(grid_document(told, words)), end="")
            for one in told.students:
                print(words.say("{name}: the word {word}", name=one.name, word=one.word))
            return
        rows = list_homework(place)
    for row in rows:
        print(row_in_words(row, words))
    if not rows:
        print(words.say("No homework was handed out yet."))
