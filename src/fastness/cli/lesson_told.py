"""What the check of lessons found, as rows to print, and the exit status."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from fastness.language import Language
from fastness.lessons.found import Answer
from fastness.lessons.lesson import Fault
from fastness.workflows.lessons import Checked

FINDINGS = 1
"""The exit status where a claim is false or not settled."""
BAD_INPUT = 2


def print_found(rows: Iterable[tuple[Checked, str]]) -> None:
    """Print the rows that say something: faults to standard error, answers to standard output."""
    for one, row in rows:
        if row:
            print(row, file=sys.stderr if isinstance(one.found, Fault) else sys.stdout)


class Told:
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
