"""The homework's page as a file: its policy, what is in it, and what is not."""

import base64
import hashlib
import json
import re

import pytest

from fastness.exercises.exercise import KINDS, Kind
from fastness.exercises.overruling import Overruling
from fastness.language import ENGLISH, LANGUAGES, language
from fastness.practice.sealed import unseal
from fastness.publish.homework_page import FINISHED, ROOM, PageExercise, homework_page, script_text
from tests.exercises.asked import QUIET, asked

SALT = "5a" * 16
EVIL = "</script><script>alert(1)</script> & <b>pins</b>"


def page(title: str = "Pins", code: str = "en", kinds: tuple[Kind, ...] = KINDS) -> str:
    exercises = [PageExercise(asked(kind)) for kind in kinds]
    return homework_page(title, 205, SALT, "2026-12-03", exercises, language(code))


def data(text: str) -> dict[str, object]:
    found = re.search(
        r'<script type="application/json" id="homework">(.*?)</script>', text, re.DOTALL
    )
    assert found is not None
    return dict(json.loads(found[1]))


def test_the_policy_lets_its_own_script_and_style_run_and_nothing_else() -> None:
    text = page()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', text)
    assert policy is not None
    for tag in ("script", "style"):
        inside = re.findall(rf"<{tag}>(.*?)</{tag}>", text, re.DOTALL)
        assert len(inside) == 1
        digest = hashlib.sha256(inside[0].encode()).digest()
        assert f"{tag}-src 'sha256-{base64.b64encode(digest).decode()}'" in policy[1]
    assert policy[1].startswith("default-src 'none';")
    assert "unsafe" not in policy[1]
    for reach_out in (
        "fetch(",
        "XMLHttpRequest",
        "WebSocket",
        "import(",
        "crypto.",
        "localStorage",
    ):
        assert reach_out not in text


def test_the_script_is_whole() -> None:
    text = script_text()
    assert "import " not in text
    assert "export " not in text
    names = re.findall(r"^(?:function|const|let) (\w+)", text, re.MULTILINE)
    assert len(names) == len(set(names)), sorted({one for one in names if names.count(one) > 1})


def test_a_title_is_no_markup() -> None:
    text = page(EVIL, kinds=("is it safe",))
    assert "alert(1)</script>" not in text
    assert text.count("<script") == 2
    assert data(text)["title"] == EVIL


def test_the_same_homework_is_the_same_page() -> None:
    assert page() == page()


@pytest.mark.parametrize("code", LANGUAGES)
def test_each_answer_has_an_explanation_of_one_length(code: str) -> None:
    told = data(page(code=code))["exercises"]
    assert isinstance(told, list)
    for at, one in enumerate(told):
        wanted = {*one["choices"], *(["none"] if one["nothing"] else [])}
        assert set(one["sealed"]) == wanted
        assert len({len(text) for text in one["sealed"].values()}) == 1
        finished = base64.b64decode(one["finished"])
        assert len(finished) % ROOM == 0
        opened = json.loads(unseal(one["finished"], SALT, at, FINISHED))
        assert opened["right"] == list(asked(KINDS[at]).accepted)
        for answer, sealed in one["sealed"].items():
            assert unseal(sealed, SALT, at, answer)[0] in "rwn"


def test_what_the_teacher_says_is_sealed_too() -> None:
    said = (Overruling("Your teacher", "Look at the pin."),)
    exercises = [PageExercise(asked("which unit", QUIET), said)]
    text = homework_page("Pins", 1, SALT, "2026-12-03", exercises, ENGLISH)
    assert "Look at the pin" not in text
    told = data(text)["exercises"]
    assert isinstance(told, list)
    assert "Look at the pin" in unseal(told[0]["finished"], SALT, 0, FINISHED)
