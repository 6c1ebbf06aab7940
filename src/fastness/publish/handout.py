"""The lesson on paper: for the students without answers, and the page with the answers."""

from __future__ import annotations

from collections.abc import Iterator

from fastness.language import Language
from fastness.lessons.lesson import Block as PositionBlock
from fastness.lessons.lesson import Lesson, Prose, Twin
from fastness.lessons.prose import Passage, passages
from fastness.lessons.seen import Seen
from fastness.lessons.words import claims_in_words, to_move
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Diagrams,
    Document,
    Heading,
    Paper,
    Paragraph,
    Points,
)
from fastness.publish.lesson_show import Show
from fastness.publish.lesson_steps import endangered, takeable
from fastness.publish.sketch import Sketch, changed_squares


def handout(lesson: Lesson, show: Show, *, paper: Paper = "a4", large: bool = False) -> Document:
    """The prose as it is written, and each position with a ring around what is not safe.

    Which moves keep it, which fall and why stands there only where the prose says so.
    """
    blocks = list(_blocks(lesson, show))
    return Document(show.title, blocks, show.language.code, paper, large, footer=show.title)


def _blocks(lesson: Lesson, show: Show) -> Iterator[Block]:
    number = 0
    titled = False
    for part in lesson.parts:
        if isinstance(part, Prose):
            found = passages(part.text)
            for one in _grouped(found):
                # The first heading is the title, which stands above already.
                if isinstance(one, Heading) and not titled and one.text == show.title:
                    titled = True
                    continue
                yield one
        elif part.place is not None:
            number += 1
            yield Diagrams((_diagram(number, part, show),), across=1)


def _grouped(found: tuple[Passage, ...]) -> Iterator[Block]:
    points: list[str] = []
    for one in found:
        if one.kind == "point":
            points.append(one.text)
            continue
        if points:
            yield Points(tuple(points))
            points = []
        if one.kind == "heading":
            yield Heading(one.text, 1 if one.level < 3 else 2)
        else:
            yield Paragraph(one.text)
    if points:
        yield Points(tuple(points))


def _diagram(number: int, block: PositionBlock, show: Show) -> Diagram:
    seen = show.seen[number]
    sketch = Sketch(corners=takeable(block, seen))
    told = to_move(seen.place.fen, show.language)
    return Diagram(seen.place.fen, told, endangered(block, seen), label=f"{number}.", sketch=sketch)


def handout_answers(show: Show, *, paper: Paper = "a4", large: bool = False) -> Document:
    """For each position all that the lesson claims of it, every claim of which was proved."""
    say = show.language.say
    title = say("Answers: {title}", title=show.title)
    blocks = [
        one for section in show.sections for one in _answer(section.number, section.block, show)
    ]
    blocks.append(
        Paragraph(
            say("What stands here was searched 3 moves ahead, and once more 4 moves ahead."),
            small=True,
        )
    )
    return Document(title, blocks, show.language.code, paper, large, footer=title)


def _answer(number: int, block: PositionBlock, show: Show) -> Iterator[Block]:
    seen, language = show.seen[number], show.language
    first = f"{number}. {to_move(seen.place.fen, language)}"
    yield Beside(
        _bare(_diagram(number, block, show)), (first, *claims_in_words(block, seen, language))
    )
    for claim in block.claims:
        if isinstance(claim, Twin):
            yield _twin(claim, seen, language)


def _bare(one: Diagram) -> Diagram:
    return Diagram(one.fen, "", one.ringed, sketch=one.sketch)


def _twin(claim: Twin, seen: Seen, language: Language) -> Beside:
    sketch = Sketch(corners=changed_squares(seen.place.fen, claim.fen))
    told = language.say("One thing is different.") + f" {to_move(claim.fen, language)}"
    return Beside(Diagram(claim.fen, "", sketch=sketch), (told,))
