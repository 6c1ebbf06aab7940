"""Which picture of a lesson is shown while a sentence is said."""

from fastness.language import ENGLISH
from fastness.lessons.reading import read_lesson
from fastness.publish.lesson_show import show_of

FEN = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"


def said(before: str, claims: str, after: str = "") -> list[tuple[str, str]]:
    """Of each picture the words beside it and what is said."""
    block = f"```position\n{FEN}\n{claims}\n```"
    show = show_of(read_lesson(f"{before}\n\n{block}\n\n{after}\n"), "Lesson", ENGLISH)
    return [(one.step.words, " ".join(part.text for part in one.said)) for one in show.pictures]


def test_a_question_stays_with_the_position_that_it_is_asked_of() -> None:
    for asked in ("Black wants to play Nc6. Yes or no?", "**1.** Re8 looks natural. Show why."):
        pictures = said(asked, "unsafe: e5\nfalls: Re8 because fxe5\nholds: Nc6")
        assert pictures[0] == ("Black to move.", asked.replace("*", ""))
        assert not any(told for _, told in pictures[1:])


def test_what_is_no_question_goes_to_the_picture_of_its_move() -> None:
    pictures = said("Guarding with Re8 is no help.", "unsafe: e5\nfalls: Re8 because fxe5")
    assert [told for _, told in pictures] == ["", "", "Guarding with Re8 is no help.", ""]


def test_what_fails_is_spoken_of_before_what_keeps() -> None:
    told = "It is attacked. 12...Re8 fails: White answers 13.fxe5. Nc6 loses nothing."
    pictures = said("Look.", "unsafe: e5\nfalls: Re8 because fxe5\nholds: Nc6", told)
    assert [one for _, one in pictures] == [
        "Look.",
        "It is attacked.",
        "12...Re8 fails:",
        "White answers 13.fxe5.",
        "Nc6 loses nothing.",
    ]
