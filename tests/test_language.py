"""The texts for people: every language has every text, with the same values."""

import re
from collections import Counter
from string import Formatter

import pytest
from babel.messages.catalog import Message

from fastness.errors import OptionError
from fastness.language import ENGLISH, LANGUAGES, language, preferred
from fastness.survey.nouns import CASES
from scripts.words import catalogue, collected

OTHERS = [code for code in LANGUAGES if code != ENGLISH.code]


def forms(text: str | tuple[str, ...] | list[str]) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text)


def values(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def key(message: Message) -> tuple[object, object]:
    return message.context, forms(message.id)


def texts(code: str) -> list[Message]:
    return [message for message in catalogue(code) if message.id]


def test_texts_are_collected() -> None:
    found = Counter(message.context is None for message in collected() if message.id)
    assert found[True] > 200
    assert found[False] > 20


@pytest.mark.parametrize("code", OTHERS)
def test_a_catalogue_has_every_text_and_no_other(code: str) -> None:
    wanted = {key(message) for message in collected() if message.id}
    assert {key(message) for message in texts(code)} == wanted


@pytest.mark.parametrize("code", OTHERS)
def test_every_text_is_translated_with_the_same_values(code: str) -> None:
    for message in texts(code):
        assert not message.fuzzy
        given = forms(message.string)
        assert len(given) == len(forms(message.id)), message.id
        wanted = set.union(*(values(form) for form in forms(message.id)))
        for form in given:
            assert form.strip(), message.id
            # One form of a plural need not tell the number.
            assert values(form) | {"number"} == wanted | {"number"}, message.id
            assert values(form) <= wanted, message.id


@pytest.mark.parametrize("code", OTHERS)
def test_cases_are_written_as_nouns_know_them(code: str) -> None:
    for message in texts(code):
        for form in forms(message.string):
            cases = {spec for _, _, spec, _ in Formatter().parse(form) if spec}
            assert cases <= set(CASES), form
            assert form.count("|") == forms(message.id)[0].count("|"), form


@pytest.mark.parametrize("code", OTHERS)
def test_a_text_ends_as_the_english_one_does(code: str) -> None:
    for message in texts(code):
        for one, other in zip(forms(message.id), forms(message.string), strict=True):
            if message.context != "decimal point":
                assert one.endswith(".") == other.endswith("."), other
                assert one.endswith(":") == other.endswith(":"), other


@pytest.mark.parametrize("code", OTHERS)
def test_what_is_compiled_is_what_is_written(code: str) -> None:
    compiled = language(code).catalogue
    for message in texts(code):
        one, *many = forms(message.id)
        if many:
            said = tuple(compiled.ngettext(one, many[0], number) for number in (1, 2))
        elif message.context:
            said = (compiled.pgettext(message.context, one),)
        else:
            said = (compiled.gettext(one),)
        assert said == forms(message.string)


def test_german_is_german() -> None:
    german = language("de")
    assert german.say("White") == "Weiß"
    assert german.say_many("looking {number} move ahead", "looking {number} moves ahead", 1) == (
        "1 Zug voraus gerechnet"
    )
    assert german.say_as("decimal point", ".") == ","
    english = re.compile(r"\b(?:the|is|and|with)\b")
    said = [form for message in texts("de") for form in forms(message.string)]
    assert not [form for form in said if english.search(form)]


def test_english_is_the_source() -> None:
    assert language("en") is ENGLISH
    assert ENGLISH.say("{unit} on {square}", unit="the knight", square="c6") == "the knight on c6"


def test_a_language_without_texts_is_refused() -> None:
    with pytest.raises(OptionError, match="There are no texts in 'xx'; there are in en, de"):
        language("xx")


@pytest.mark.parametrize(
    ("environment", "code"),
    [
        ({}, "en"),
        ({"LANG": "de_DE.UTF-8"}, "de"),
        ({"LANG": "de"}, "de"),
        ({"LANG": "C.UTF-8"}, "en"),
        ({"LANG": "fr_FR.UTF-8"}, "en"),
        ({"LANG": "en_GB.UTF-8", "LC_MESSAGES": "de_AT@euro"}, "de"),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": "C"}, "en"),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": ""}, "de"),
    ],
)
def test_the_environment_chooses(environment: dict[str, str], code: str) -> None:
    assert preferred(environment) == code
