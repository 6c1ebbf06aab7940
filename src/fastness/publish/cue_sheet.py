"""What the teacher reads while recording: the cue sheet, and the script as Markdown."""

from __future__ import annotations

from collections.abc import Iterator

from fastness.language import Language
from fastness.publish.captions import chapters, clock
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Document,
    Grid,
    Heading,
    Paper,
    Paragraph,
)
from fastness.publish.lesson_pictures import picture_name
from fastness.publish.lesson_show import Picture, Show


def cue_sheet(show: Show, *, paper: Paper = "a4", large: bool = False) -> Document:
    """Each picture with its number, what is said with it, when it changes, and the time so far."""
    say = show.language.say
    title = say("Cue sheet: {title}", title=show.title)
    return Document(title, list(_blocks(show)), show.language.code, paper, large, footer=title)


def _blocks(show: Show) -> Iterator[Block]:
    say = show.language.say
    yield Paragraph(
        say(
            "{pictures} pictures, {time} at {words} words a minute. A picture of which nothing is"
            " said stands for 3 seconds.",
            pictures=len(show.pictures),
            time=clock(show.length),
            words=show.words_a_minute,
        )
    )
    rows = tuple((clock(start), title) for start, title in chapters(show))
    yield Grid((say("Time"), say("Begins")), rows, numbers=2)
    position = 0
    for picture in show.pictures:
        if picture.position != position:
            position = picture.position
            yield Heading(say("Position {number}", number=position))
        yield _cue(picture, show.language)


def _cue(picture: Picture, language: Language) -> Beside:
    step, say = picture.step, language.say
    times = say(
        "Picture {number}, from {start} to {end}",
        number=picture_name(picture.number),
        start=clock(picture.start),
        end=clock(picture.end),
    )
    shown = " ".join(filter(None, (step.words, step.line)))
    told = [one.text for one in picture.said]
    spoken = " ".join(told) if told else say("(Nothing is said.)")
    change = (
        say("Change after “{words}”", words=_last_words(told[-1]))
        if told
        else say("Change after 3 seconds")
    )
    drawn = Diagram(step.fen, "", step.ringed, sketch=step.sketch)
    return Beside(drawn, (times, *([shown] if shown else []), spoken, change))


def _last_words(sentence: str) -> str:
    words = sentence.split()
    return ("… " if len(words) > 4 else "") + " ".join(words[-4:])


def script(show: Show) -> str:
    """What is said, picture by picture, as Markdown."""
    parts = [f"# {_one_line(show.title)}"]
    for picture in show.pictures:
        headings = [picture.chapter, *(one.chapter for one in picture.said)]
        parts += [f"## {_one_line(one)}" for one in headings if one and one != show.title]
        shown = " ".join(filter(None, (picture.step.words, picture.step.line)))
        parts.append(
            f"**{picture_name(picture.number)}** ({clock(picture.start)}) {shown}".rstrip()
        )
        if picture.said:
            parts.append(" ".join(one.text for one in picture.said))
    return "\n\n".join(parts) + "\n"


def _one_line(text: str) -> str:
    return " ".join(text.split())
