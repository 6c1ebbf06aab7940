"""The texts of the pages are there in every language, with the same values."""

from __future__ import annotations

import pytest

from scripts.page_words import CATALOGUES, PLACES, catalogue, collected, updated

LANGUAGES = sorted(CATALOGUES)
TEXTS = collected()


def test_there_are_texts() -> None:
    assert len(TEXTS) > 300
    assert TEXTS["One game is new."] == ("One game is new.", "{number} games are new.")
    assert TEXTS["Copied"] == ("Copied",)


def forms(translated: str | list[str]) -> list[str]:
    return [translated] if isinstance(translated, str) else translated


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_text_is_translated(language: str) -> None:
    there = catalogue(language)
    missing = [text for text in TEXTS if not all(forms(there.get(text, "")))]
    assert missing == [], "run make words, and fill them in"


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_has_the_same_values(language: str) -> None:
    there = catalogue(language)
    for text, english in TEXTS.items():
        german = forms(there[text])
        assert len(german) == len(english), text
        values = [set(PLACES.findall(form)) for form in (german[-1], english[-1])]
        assert values[0] == values[1], text


def test_a_new_text_is_left_empty_and_an_old_one_goes() -> None:
    made = updated({"Copied": "Kopiert", "said no more": "nicht mehr gesagt"})
    assert made["Copied"] == "Kopiert"
    assert made["Contents"] == ""
    assert made["One game is new."] == ["", ""]
    assert "said no more" not in made
