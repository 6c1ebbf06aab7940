"""Prose is what is spoken: cut into sentences, and each position has its own."""

import pytest

from fastness.lessons.prose import passages, sentences, title_of
from fastness.lessons.reading import read_lesson
from fastness.lessons.script import sections

BLOCK = "```position\n6k1/8/8/8/8/8/8/R5K1 w - - 0 1\n```\n"


def test_markdown_is_read_as_plain_text() -> None:
    text = "# The *pin*\n\nA [pin](x) is\na `pin`. <b>Look</b>!\n\n- one\n- two\n\n<!-- mine -->\n"
    assert [(one.kind, one.text) for one in passages(text)] == [
        ("heading", "The pin"),
        ("paragraph", "A pin is a pin. Look!"),
        ("point", "one"),
        ("point", "two"),
    ]


SENTENCES = [
    ("One. Two! Three? Four", ["One.", "Two!", "Three?", "Four"]),
    ("Not 12. Nf3 but 12...Re8. Now.", ["Not 12. Nf3 but 12...Re8.", "Now."]),
    ("It was 7. Kd2. Now.", ["It was 7. Kd2.", "Now."]),
    ("Figuren, z. B. Springer. Über sie.", ["Figuren, z. B. Springer.", "Über sie."]),
    ("He said “No.” Then he went.", ["He said “No.”", "Then he went."]),
    ("", []),
]


@pytest.mark.parametrize(("text", "cut"), SENTENCES)
def test_a_paragraph_is_cut_where_sentences_end(text: str, cut: list[str]) -> None:
    assert list(sentences(text)) == cut


def spoken(text: str) -> list[tuple[str, list[str], list[str]]]:
    return [
        (one.chapter, [said.text for said in one.before], [said.text for said in one.after])
        for one in sections(read_lesson(text))
    ]


def test_the_last_paragraph_before_a_position_belongs_to_it() -> None:
    text = f"Begin.\n\nAgain.\n\n{BLOCK}\nAfter.\n\nBefore.\n\n{BLOCK}\nThe end.\n"
    assert spoken(text) == [
        ("", ["Begin.", "Again."], ["After."]),
        ("", ["Before."], ["The end."]),
    ]


def test_a_heading_parts_what_is_said() -> None:
    text = f"# All\n\n{BLOCK}\nAfter.\n\nToo.\n\n## Next\n\nBefore.\n\nAgain.\n\n{BLOCK}"
    found = sections(read_lesson(text))
    assert [one.chapter for one in found] == ["All", ""]
    assert [said.text for said in found[0].after] == ["After.", "Too."]
    assert [(said.text, said.chapter) for said in found[1].before] == [
        ("Before.", "Next"),
        ("Again.", ""),
    ]


def test_other_fenced_blocks_are_not_spoken() -> None:
    text = f"Say this.\n\n```text\nNot this.\n```\n\n{BLOCK}"
    assert spoken(text) == [("", ["Say this."], [])]


def test_the_title_is_the_first_heading() -> None:
    assert title_of(read_lesson(f"{BLOCK}\n## Late\n"), "name") == "Late"
    assert title_of(read_lesson(BLOCK), "name") == "name"
