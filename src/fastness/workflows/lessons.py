"""Lesson files: a new one to begin with, and the claims of several checked."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from pathlib import Path

from fastness.errors import FileError, UntrueError
from fastness.exercises.proving import REACH
from fastness.language import ENGLISH, Language
from fastness.lessons.checking import check_block
from fastness.lessons.example import EXAMPLES
from fastness.lessons.found import Answer
from fastness.lessons.lesson import Fault, Lesson, Place
from fastness.lessons.reading import read_lesson
from fastness.lessons.seen import Seen
from fastness.lessons.words import claim_in_words


@dataclass(frozen=True, slots=True)
class Checked:
    """What was found in the file `path`: a fault in what is written, or the answer to a claim."""

    path: str
    found: Fault | Answer


def new_lesson(path: Path, language: Language = ENGLISH) -> None:
    """Write a small true lesson to `path`, to be changed.

    Raises FileError where something is there already, or nothing can be written.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(EXAMPLES[language.code])
    except FileExistsError:
        raise FileError(
            f"{path} is there already and was left as it is; name another one"
        ) from None
    except OSError as error:
        raise FileError(f"{path} cannot be written: {error.strerror}; name another one") from None


def open_lesson(path: str | Path) -> Lesson:
    """The lesson in a file. Raises FileError where it cannot be opened or is not UTF-8."""
    try:
        text = Path(path).read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise FileError(f"{path} cannot be opened: {error.strerror}") from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise FileError(
            f"{path}:{line}: a byte here is not UTF-8; save the file as text in UTF-8"
        ) from None
    return read_lesson(text)


def count_claims(lessons: Sequence[Lesson]) -> int:
    """How many claims there are to check."""
    return sum(len(block.claims) for lesson in lessons for block in lesson.blocks)


def check_lessons(
    lessons: Sequence[tuple[str, Lesson]],
    language: Language = ENGLISH,
    on_progress: Callable[[int], None] | None = None,
) -> Generator[Checked, None, None]:
    """The faults of each lesson and the answers to its claims, in the order of their lines.

    `on_progress` is told how many claims are done.
    """
    done = 0
    for path, lesson in lessons:
        faults = list(lesson.faults)
        for block in lesson.blocks:
            for answer in check_block(block, language):
                while faults and faults[0].line < answer.claim.line:
                    yield Checked(path, faults.pop(0))
                done += 1
                if on_progress is not None:
                    on_progress(done)
                yield Checked(path, answer)
        for fault in faults:
            yield Checked(path, fault)


def demand_true(lesson: Lesson, language: Language = ENGLISH) -> None:
    """Raise UntrueError where something in a lesson cannot be read, or a claim is false.

    It is told in plain words, by the number of the position, without a file or a line of it. What
    is not settled is not held against it.
    """
    say = language.say
    unread = tuple(_unread(lesson, fault, language) for fault in lesson.faults)
    if unread:
        told = say("Something in this lesson cannot be read. Mend it first.")
        raise UntrueError(told, unread, readable=False)
    untrue = [
        _untrue(number, block.place, answer, language)
        for number, block in enumerate(lesson.blocks, 1)
        for answer in check_block(block, language)
        if answer.verdict == "false" and block.place is not None
    ]
    if untrue:
        told = language.say_many(
            "This lesson says one thing that is not true.",
            "This lesson says {number} things that are not true.",
            len(untrue),
        )
        raise UntrueError(told, tuple(untrue))


def _unread(lesson: Lesson, fault: Fault, language: Language) -> str:
    """Where a fault is, as the pages count: a row of a position."""
    before = [block for block in lesson.blocks if block.line <= fault.line]
    if not before:
        return f"{fault.message}."
    return language.say(
        "Position {number}, row {row}: {reason}.",
        number=len(before),
        row=fault.line - before[-1].line + 1,
        reason=fault.message,
    )


def _untrue(number: int, place: Place, answer: Answer, language: Language) -> str:
    claimed = claim_in_words(Seen(place, REACH, 0), answer.claim, language).rstrip(".")
    told = language.say(
        "Position {number}: “{claim}” is not true. True is: {told}.",
        number=number,
        claim=claimed,
        told=answer.told,
    )
    return f"{told} {answer.line}." if answer.line else told
