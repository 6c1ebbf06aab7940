"""`fastness record` and `fastness report`: what the games show, on the screen and on paper."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.publish import html, pdf, text
from fastness.publish.document import Document
from fastness.publish.writing import write_file
from fastness.workflows.plan_page import plan_page
from fastness.workflows.record_page import record_page
from fastness.workflows.recording import record_of, records_of_group
from fastness.workflows.reporting import group_report
from fastness.workflows.reporting import report as student_report


def record(name: str, *, language: TextLanguage = None, store: StorePlace = None) -> None:
    """Say what a student's games show, and what to teach next; for the teacher.

    Args:
        name: the student.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    words = chosen(language)
    with opened(store) as place:
        print(record_page(record_of(place, name), words), end="")


def plan(
    name: str | None = None,
    *,
    group: str | None = None,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Say what to teach in the coming four weeks, a theme a week, with examples from the games.

    Args:
        name: the student.
        group: in place of a student, a whole group.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if (name is None) == (group is None):
        raise InputError("name a student, or a group with --group")
    words = chosen(language)
    with opened(store) as place:
        records = records_of_group(place, group) if group else [record_of(place, name or "")]
        print(plan_page(records, words), end="")


def report(
    name: str | None = None,
    *,
    to: Path,
    for_: Annotated[Literal["student", "parents", "teacher"], Parameter(name="--for")] = "student",
    group: str | None = None,
    paper: Literal["a4", "us-letter"] = "a4",
    large: Annotated[bool, Parameter(negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Write a report to be printed, or changed first: on one student, or for a group.

    Args:
        name: the student.
        to: the new file: .pdf to print, .html for a screen, .md to change the words.
        for_: who will read it. The student's and the parents' have no numbers in them.
        group: in place of a student, positions from a group's games, without names.
        paper: a4 or us-letter.
        large: in large print.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if (name is None) == (group is None):
        raise InputError("name a student, or a group with --group")
    if to.suffix.lower() not in (".pdf", ".html", ".md"):
        raise InputError(f"{to}: the name must end in .pdf, .html or .md")
    words = chosen(language)
    with opened(store) as place:
        if group is not None:
            records = records_of_group(place, group)
            document = group_report(records, group, paper=paper, large=large, language=words)
        else:
            found = record_of(place, name or "")
            document = student_report(found, for_, paper=paper, large=large, language=words)
    _write(document, to)
    print(f"Written to {to}.")


def _write(document: Document, to: Path) -> None:
    match to.suffix.lower():
        case ".pdf":
            write_file(to, pdf(document))
        case ".html":
            write_file(to, html(document))
        case _:
            write_file(to, text(document))
