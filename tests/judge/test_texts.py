"""Every text is made from claims: it names nothing that no claim names."""

from collections.abc import Callable
from importlib import import_module

import pytest

from fastness import core
from fastness.core.shapes import Survey
from fastness.survey import for_student, in_one_line, page
from fastness.survey.claim import Claim, Reach
from fastness.survey.claims import claims
from tests.judge import positions
from tests.judge.named import Named

MOST_WORDS = 79
"""A student's text has fewer than 80 words."""
ROWS = positions.rows()
PARTS = 4
TEXTS: dict[str, Callable[..., str]] = {
    "page": page,
    "for_student": for_student,
    "in_one_line": in_one_line,
}
MODULES = {"page": "page", "for_student": "student", "in_one_line": "one_line"}
PIN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"


def body(text: str) -> str:
    """A text without its diagram and its FEN."""
    rows = [row for row in text.splitlines() if "|" not in row and not row.startswith("FEN")]
    return " ".join(" ".join(rows).split())


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
def test_texts_name_only_what_claims_name(part: int) -> None:
    rows = ROWS[part::PARTS]
    false: list[str] = []
    surveys = core.survey_many(rows, reach=1, firm=part == 1, rank_nodes=200 * (part == 2))
    for row, survey in zip(rows, surveys, strict=True):
        assert isinstance(survey, dict), survey
        given = bool(row[1])
        named = Named(survey["fen"], claims(survey, moves_given=given))
        texts = {name: body(make(survey, moves_given=given)) for name, make in TEXTS.items()}
        for name, text in texts.items():
            false += [f"{survey['fen']} {name}: {fault}: {text}" for fault in named.faults(text)]
        if len(texts["for_student"].split()) > MOST_WORDS:
            false.append(f"{survey['fen']}: too many words: {texts['for_student']}")
    assert not false, "\n".join(false)


@pytest.mark.parametrize("name", TEXTS)
def test_a_text_without_claims_names_nothing(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def only_the_position(survey: Survey, **_: object) -> list[Claim]:
        return [claim for claim in claims(survey) if isinstance(claim, Reach)]

    survey, make = core.survey(PIN, reach=1), TEXTS[name]
    nothing = Named(PIN, only_the_position(survey))
    assert nothing.faults(body(make(survey)))
    module = import_module(f"fastness.survey.{MODULES[name]}")
    monkeypatch.setattr(module, "claims", only_the_position)
    assert not nothing.faults(body(make(survey)))


@pytest.mark.parametrize(("true", "false"), [("Qd7", "Qe7"), ("on g5", "on g4"), ("Qxg5", "Qxg4")])
def test_a_false_name_is_found(true: str, false: str) -> None:
    survey = core.survey(PIN, reach=1)
    text = body(for_student(survey))
    assert true in text
    named = Named(PIN, [claim for claim in claims(survey) if "d8e7" not in str(claim)])
    assert not named.faults(text)
    assert named.faults(text.replace(true, false))
