"""`fastness lesson`: lesson files, whose claims are checked like code."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from fastness.cli.bar import Bar
from fastness.cli.languages import TextLanguage, chosen
from fastness.errors import FileError, InputError
from fastness.language import Language
from fastness.lessons.found import Answer
from fastness.lessons.lesson import Fault, Lesson
from fastness.workflows.lessons import (
    Checked,
    check_lessons,
    count_claims,
    new_lesson,
    open_lesson,
)

lesson = App(name="lesson", help="Write lessons and check what they claim.")
lesson.command("fastness.cli.drafting:draft", name="draft", help="Draft a lesson for you to edit.")

FINDINGS = 1
"""The exit status where a claim is false or not settled."""
BAD_INPUT = 2


@lesson.command
def new(file: Path, *, language: TextLanguage = None) -> None:
    """Write a small lesson to begin with, every claim of which is true.

    Args:
        file: the Markdown file to write; nothing is written over.
        language: the language of the text; that of LANG if there are texts in it, else English.
    """
    words = chosen(language)
    new_lesson(file, words)
    print(words.say("{file} is written. Check it with: fastness lesson check {file}", file=file))


@lesson.command
def check(
    *file: Annotated[str, Parameter(allow_leading_hyphen=True)], language: TextLanguage = None
) -> int:
    """Prove every claim of lesson files, and say what is not true, and the line that shows it.

    Each claim is searched 3 moves ahead, and once more 4 moves ahead. The status is 0 where all
    are true, 1 where one is false or not settled, 2 where something cannot be read.

    Args:
        file: Markdown files with position blocks.
        language: the language of the text; that of LANG if there are texts in it, else English.
    """
    unknown = [word for word in file if word.startswith("-")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness lesson check --help")
    if not file:
        raise InputError("No file given. Give one lesson or more.")
    words = chosen(language)
    lessons, status = _opened(file)
    found = _Told(words)
    total = count_claims([one for _, one in lessons])
    bar = Bar((), shown=sys.stderr.isatty(), total=total, doing="Checking the claims")
    with bar, closing(check_lessons(lessons, words, bar.advance)) as checked:
        rows = [(one, found.row(one)) for one in checked]
    for one, row in rows:
        if row:
            print(row, file=sys.stderr if isinstance(one.found, Fault) else sys.stdout)
    print(found.summary())
    return max(status, found.status)


def _opened(files: tuple[str, ...]) -> tuple[list[tuple[str, Lesson]], int]:
    """The lessons that can be opened; the others are told, and cost the others nothing."""
    lessons, status = [], 0
    for path in files:
        try:
            lessons.append((path, open_lesson(path)))
        except FileError as error:
            print(f"fastness: {error}", file=sys.stderr)
            status = BAD_INPUT
    return lessons, status


class _Told:
    """What was found, row by row, and its number."""

    def __init__(self, language: Language) -> None:
        self.language = language
        self.status = 0
        self.numbers = {"true": 0, "false": 0, "not settled": 0}

    def row(self, checked: Checked) -> str:
        """A row for what is not true, or cannot be read; empty for a claim that is true."""
        found, path = checked.found, checked.path
        if isinstance(found, Fault):
            self.status = BAD_INPUT
            return f"{path}:{found.line}:{found.column}: {found.message}"
        self.numbers[found.verdict] += 1
        if found.verdict == "true":
            return ""
        self.status = max(self.status, FINDINGS)
        return f"{path}:{found.claim.line}: {self._told(found)}"

    def _told(self, found: Answer) -> str:
        say, claim = self.language.say, found.claim.text
        if found.verdict == "false":
            told = say("claimed {claim}; true is: {told}", claim=claim, told=found.told)
        else:
            told = say("claimed {claim}; not settled: {told}", claim=claim, told=found.told)
        line = say("line: {line}", line=found.line) if found.line else ""
        return "; ".join(filter(None, (told, line)))

    def summary(self) -> str:
        """How many claims there were, and what became of them."""
        say, numbers = self.language.say, self.numbers
        total = sum(numbers.values())
        if total and numbers["true"] == total:
            return self.language.say_many(
                "{number} claim, and it is true.", "{number} claims, and all are true.", total
            )
        return say(
            "Claims: {total}. True: {true}, false: {false}, not settled: {open}.",
            total=total,
            true=numbers["true"],
            false=numbers["false"],
            open=numbers["not settled"],
        )
