"""Captions are WebVTT as the standard has it, and say every word at its time."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.language import ENGLISH
from fastness.publish.captions import LONGEST, chapters, clock, moment, vtt
from fastness.publish.lesson_show import Picture, Show, Timed
from fastness.publish.lesson_steps import Step
from tests.publish.webvtt import read

FEN = "6k1/8/8/8/8/8/8/R5K1 w - - 0 1"


def show(*texts: str) -> Show:
    """A show of one picture for each text, a second a word."""
    pictures, now = [], 0
    for number, text in enumerate(texts, 1):
        end = now + 1000 * len(text.split())
        pictures.append(Picture(number, 1, Step(FEN, ""), (Timed(text, now, end),), now, end, text))
        now = end
    return Show("A & B --> C", ENGLISH, 60, tuple(pictures), ())


words = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=20)
texts = st.lists(words, min_size=1, max_size=60).map(" ".join).filter(lambda one: one.split())


@settings(max_examples=200, deadline=None)
@given(st.lists(texts, min_size=1, max_size=4))
def test_any_text_becomes_captions_as_the_standard_has_them(said: list[str]) -> None:
    cues = read(vtt(show(*said)).encode())
    assert [word for cue in cues for word in cue.text.split()] == " ".join(said).split()
    assert cues[0].start == 0
    for cue in cues:
        assert cue.end - cue.start == 1000 * len(cue.text.split())
        assert len(cue.text) <= LONGEST or len(cue.text.split()) == 1


def test_what_would_be_a_tag_is_escaped() -> None:
    (cue,) = read(vtt(show("a <b> & --> c")).encode())
    assert cue.text == "a <b> & --> c"


def test_times_are_written_as_the_standard_has_them() -> None:
    assert moment(3_723_004) == "01:02:03.004"
    assert (clock(62_900), clock(3_723_004)) == ("1:02", "1:02:03")


def test_chapters_have_their_times() -> None:
    assert chapters(show("One two", "Three")) == ((0, "One two"), (2000, "Three"))


WRONG = (
    "WEBVTT\n1\n00:00.000 --> 00:01.000\ntext\n",
    "WEBVTT\n\n00:00.000 --> 00:00.000\ntext\n",
    "WEBVTT\n\n00:00.00 --> 00:01.000\ntext\n",
    "WEBVTT\n\n00:00.000-->00:01.000\ntext\n",
    "WEBVTT\n\n00:00.000 --> 00:01.000\na & b\n",
    "WEBVTT\n\n00:00.000 --> 00:01.000\n",
    "WEBVTT\n\n00:02.000 --> 00:03.000\na\n\n00:01.000 --> 00:03.000\nb\n",
)


@pytest.mark.parametrize("text", WRONG)
def test_the_reader_is_strict(text: str) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        read(text.encode())
