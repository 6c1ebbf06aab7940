"""The teacher's own marks, as a `marks:` row writes them; docs/lessons.md has the grammar."""

from __future__ import annotations

from fastness.lessons.lesson import OwnMarks
from fastness.lessons.written import Written

NAME = "marks"
"""The name of the row."""
ON_SQUARES = ("ring", "corners")
BETWEEN = ("attack", "guard", "line")
TEXT = "text"
WANTED = "marks: ring e5, attack f4-e5, guard d6-e5, line e5-c6, number c6 1, text The knight goes"


def read_marks(row: Written, value: Written) -> OwnMarks:
    """The marks of a row, in their order.

    Raises LessonError, which says what would be right.
    """
    items, words = _items_and_text(value)
    on: dict[str, list[str]] = {name: [] for name in ON_SQUARES}
    between: dict[str, list[tuple[str, str]]] = {name: [] for name in BETWEEN}
    numbers: list[tuple[str, int]] = []
    for item in items:
        kind, *rest = item.words()
        if kind.text in on:
            on[kind.text].append(item.part(len(kind.text)).square())
        elif kind.text in between:
            between[kind.text].append(_two_squares(item.part(len(kind.text))))
        elif kind.text == "number":
            numbers.append(_number(item, rest))
        else:
            raise kind.fault(
                f'"{kind.text}" is no mark; there are {", ".join((*ON_SQUARES, *BETWEEN))}, number'
                f" and text: {WANTED}"
            )
    return OwnMarks(
        row.line,
        row.text,
        tuple(on["ring"]),
        tuple(on["corners"]),
        tuple(between["attack"]),
        tuple(between["guard"]),
        tuple(between["line"]),
        tuple(numbers),
        words,
    )


def _items_and_text(value: Written) -> tuple[list[Written], str]:
    """What stands between commas, and the text at the end, which may have commas of its own."""
    at = 0
    items: list[Written] = []
    for piece in value.text.split(","):
        item = value.part(at, at + len(piece))
        at += len(piece) + 1
        if not item.text:
            raise item.fault(f"a mark is missing here; write {WANTED}, or take the comma away")
        if item.words()[0].text == TEXT:
            words = item.part(len(TEXT)).text + value.text[at - 1 :]
            if not words.strip():
                raise item.fault('nothing stands behind "text"; write what the picture is to say')
            return items, " ".join(words.split())
        items.append(item)
    return items, ""


def _two_squares(written: Written) -> tuple[str, str]:
    word = written.alone("two squares, such as e1-e5")
    start, dash, _ = word.text.partition("-")
    if not dash:
        raise word.fault(f'"{word.text}" is not two squares; write them with a dash: e1-e5')
    first, second = word.part(0, len(start)).square(), word.part(len(start) + 1).square()
    if first == second:
        raise word.fault(f"a line from {first} to itself cannot be drawn; name two squares")
    return first, second


def _number(item: Written, rest: list[Written]) -> tuple[str, int]:
    if len(rest) != 2:
        raise item.fault("a square and a number are wanted here: number e5 1")
    square, number = rest
    if not (number.text.isascii() and number.text.isdigit() and 1 <= int(number.text) <= 99):
        raise number.fault(f'"{number.text}" is no number from 1 to 99; write number e5 1')
    return square.square(), int(number.text)
