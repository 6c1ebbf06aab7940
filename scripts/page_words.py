"""Collects the texts of the pages and brings their catalogues in other languages up to date.

`make words` runs it after texts were changed. A text that is new in a catalogue is left empty for
the translator, and told in English until then.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "frontend" / "src"
CATALOGUES = {"de": SOURCE / "words" / "de.json"}

STRING = r'"((?:[^"\\]|\\.)*)"'
ONE = re.compile(rf"\bsay\(\s*{STRING}")
MANY = re.compile(rf"\bsayMany\(\s*{STRING},\s*{STRING}")
PLACES = re.compile(r"\{(\w+)\}")

Catalogue = dict[str, str | list[str]]
"""A text to its translation; for texts that depend on a number, the first form to two forms."""


def collected() -> dict[str, tuple[str, ...]]:
    """The texts of the pages in English: each by its first form, with all its forms."""
    found: dict[str, tuple[str, ...]] = {}
    for forms in _said():
        found.setdefault(forms[0], forms)
    return dict(sorted(found.items()))


def _said() -> Iterator[tuple[str, ...]]:
    for file in sorted(SOURCE.rglob("*")):
        if file.suffix in (".svelte", ".ts") and not file.name.endswith(".d.ts"):
            text = file.read_text(encoding="utf-8")
            for pattern in (ONE, MANY):
                for forms in pattern.finditer(text):
                    yield tuple(json.loads(f'"{form}"') for form in forms.groups())


def catalogue(language: str) -> Catalogue:
    """The catalogue of a language as it stands."""
    read: Catalogue = json.loads(CATALOGUES[language].read_text(encoding="utf-8"))
    return read


def updated(before: Catalogue) -> Catalogue:
    """A catalogue with every text of the pages and no other."""
    empty = {first: "" if len(forms) == 1 else ["", ""] for first, forms in collected().items()}
    return {first: before.get(first, none) for first, none in empty.items()}


def main() -> None:
    """Writes the catalogues."""
    for language, file in CATALOGUES.items():
        told = json.dumps(updated(catalogue(language)), ensure_ascii=False, indent=1)
        file.write_text(f"{told}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
