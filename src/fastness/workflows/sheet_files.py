"""Sheets as the files of a folder: the questions and the answers of each as PDF."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fastness.publish.pdf import pdf
from fastness.publish.sheet import Sheet


def sheet_files(made: Iterable[Sheet]) -> Iterator[tuple[str, bytes]]:
    """Each file's name and what stands in it: ``sheet-club.pdf``, ``answers-club.pdf``.

    A sheet with all levels side by side is ``sheet.pdf``. Raises PrintError where no type face at
    hand has the letters of a text.
    """
    for sheet in made:
        level = f"-{sheet.level}" if sheet.level else ""
        yield f"sheet{level}.pdf", pdf(sheet.questions)
        yield f"answers{level}.pdf", pdf(sheet.answers)
