"""From one lesson file: the class board, handouts, pictures, captions, cue sheet and homework."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fastness.errors import FileError, OptionError
from fastness.language import ENGLISH, Language
from fastness.lessons.lesson import Lesson
from fastness.publish.captions import chapter_list, vtt
from fastness.publish.cue_sheet import cue_sheet, script
from fastness.publish.document import Paper
from fastness.publish.handout import handout, handout_answers
from fastness.publish.lesson_pictures import lesson_pictures
from fastness.publish.lesson_show import FASTEST, SLOWEST, WORDS_A_MINUTE, show_of
from fastness.publish.pdf import pdf
from fastness.publish.sheet import Layout
from fastness.publish.writing import write_files
from fastness.workflows.lesson_board import board_json
from fastness.workflows.lesson_homework import LeftOut, homework_files, homework_of
from fastness.workflows.writable import check_writable

PICTURES = "pictures"
"""The folder of the pictures."""
FILES = (
    "board.json",
    "handout.pdf",
    "handout-answers.pdf",
    "cues.pdf",
    "script.md",
    "chapters.txt",
    "captions.vtt",
    "homework.pdf",
    "homework-answers.pdf",
    "homework.epd",
)
"""What is written besides."""
_PICTURE = re.compile(r"\d{3,}\.(png|svg)")


@dataclass(frozen=True, slots=True)
class Look:
    """How a lesson is built: the paper, large print, and how fast is spoken."""

    paper: Paper = "a4"
    large: bool = False
    words_a_minute: int = WORDS_A_MINUTE
    language: Language = ENGLISH


@dataclass(frozen=True, slots=True)
class Built:
    """What was written, how many pictures, how long they take (ms), and what homework lacks."""

    files: tuple[Path, ...]
    pictures: int
    length: int
    exercises: int
    left_out: tuple[LeftOut, ...]


def check_folder(folder: Path, look: Look) -> None:
    """Look before the work whether a lesson can be built there.

    Raises FileError where the folder cannot be written, or holds what no build wrote; OptionError
    where nobody speaks so slowly or so fast.
    """
    if not SLOWEST <= look.words_a_minute <= FASTEST:
        raise OptionError(
            f"{look.words_a_minute} words a minute cannot be spoken; give {SLOWEST} to {FASTEST}"
        )
    check_writable(folder, folder=True)
    if not folder.exists():
        return
    try:
        others = sorted(one.name for one in folder.iterdir() if not _is_built(one))
    except OSError as error:
        raise FileError(f"{folder} cannot be read: {error.strerror}; name another one") from None
    if others:
        more = f" and {len(others) - 1} more" if len(others) > 1 else ""
        raise FileError(
            f"{folder} holds {others[0]}{more}, which no lesson wrote; name a folder that is new,"
            " empty, or of a lesson built before"
        )


def _is_built(place: Path) -> bool:
    """Whether a file, or a folder of pictures with nothing else in it, is what a build writes."""
    if place.name == PICTURES and place.is_dir():
        return all(_PICTURE.fullmatch(one.name) for one in place.iterdir())
    return place.name in FILES and place.is_file()


def build_lesson(
    lesson: Lesson,
    name: str,
    folder: Path,
    look: Look,
    on_progress: Callable[[], None] = lambda: None,
) -> Built:
    """Build a lesson that was checked, and has no faults, into a folder.

    `name` is that of its file without the ending, and its title where it has no heading.
    Everything is made before anything is written; what an earlier build wrote is replaced. The
    same lesson gives the same bytes. Raises PrintError where no type face at hand has the letters
    of a text, FileError as `check_folder` does.
    """
    check_folder(folder, look)
    show = show_of(lesson, name, look.language, look.words_a_minute)
    homework = homework_of(lesson, look.language, on_progress)
    layout = Layout(paper=look.paper, large=look.large, language=look.language)
    made = {
        "board.json": board_json(show, name).encode(),
        "handout.pdf": pdf(handout(lesson, show, paper=look.paper, large=look.large)),
        "handout-answers.pdf": pdf(handout_answers(show, paper=look.paper, large=look.large)),
        "cues.pdf": pdf(cue_sheet(show, paper=look.paper, large=look.large)),
        "script.md": script(show).encode(),
        "chapters.txt": chapter_list(show).encode(),
        "captions.vtt": vtt(show).encode(),
        **homework_files(show.title, homework, layout),
        **{f"{PICTURES}/{file}": data for file, data in lesson_pictures(show)},
    }
    return Built(
        _written(folder, made),
        len(show.pictures),
        show.length,
        len(homework.asked),
        homework.left_out,
    )


def _written(folder: Path, made: dict[str, bytes]) -> tuple[Path, ...]:
    """Write the files, and take away those that an earlier build left and this one has not."""
    try:
        (folder / PICTURES).mkdir(parents=True, exist_ok=True)
        paths = write_files(folder, made)
        left = [*(folder / PICTURES).iterdir(), *(folder / name for name in FILES)]
        for place in left:
            if place.exists() and str(place.relative_to(folder).as_posix()) not in made:
                place.unlink()
    except OSError as error:
        raise FileError(f"{folder}: {error.strerror}") from error
    return paths
