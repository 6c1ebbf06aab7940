"""One person's names in a text, found as whole words, and taken out."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping

Words = tuple[str, ...]

_WORD = re.compile(r"[^\W_]+(?:['\u2019-][^\W_]+)*")
_BETWEEN = r"[\W_]{0,3}"
_SHORTEST_PART = 3
"""Letters that a part of a name has at least, to be looked for by itself."""


class Naming:
    """The names of one person, and those of others that must be left alone.

    A name is found in any order of its words, in any capitals, with any marks between them, and
    only where it begins and ends with a word; never within another person's name.
    """

    def __init__(self, names: Iterable[str], others: Iterable[str]) -> None:
        """Look for `names`, and pass over `others`."""
        own, foreign = set(map(_words, names)), set(map(_words, others))
        borne = {word.casefold() for words in foreign for word in words}
        parts = {(word,) for words in own for word in words if len(word) >= _SHORTEST_PART}
        self._foreign = {_key(*words) for words in foreign}
        self._own = {_key(*one) for words in own for one in _turned(words)} - self._foreign
        self._parts = {_key(*part) for part in parts if part[0].casefold() not in borne}
        self._pattern = _pattern(own | foreign | parts)

    def without(self, text: str, instead: str, *, parts: bool = False) -> str:
        """The text with another name in place of this one.

        With `parts` also in place of a single word of the name, where it is written with a
        capital and no other person bears it.
        """
        composed = unicodedata.normalize("NFC", text)

        def stands(found: re.Match[str]) -> str:
            key, capital = _key(found[0]), not found[0][0].islower()
            meant = key in self._own or (parts and capital and key in self._parts)
            return instead if meant else found[0]

        changed = self._pattern.sub(stands, composed)
        return text if changed == composed else changed

    def without_in(
        self, tags: Mapping[str, str], instead: str, *, parts: bool = False
    ) -> dict[str, str]:
        """The same for the values of tags."""
        return {key: self.without(tag, instead, parts=parts) for key, tag in tags.items()}


def _words(name: str) -> Words:
    return tuple(_WORD.findall(unicodedata.normalize("NFC", name)))


def _pattern(names: Iterable[Words]) -> re.Pattern[str]:
    """Finds any of the names as whole words, the longest where several begin."""
    spelt = {one for words in names if words for one in _turned(words)}
    # A folded spelling may be a longer one: "Groß" is also "gross".
    spelt |= {tuple(word.casefold() for word in one) for one in spelt}
    longest_first = sorted(spelt, key=lambda one: (-sum(map(len, one)), one))
    body = "|".join(_BETWEEN.join(map(re.escape, one)) for one in longest_first)
    return re.compile(rf"(?<![^\W_])(?:{body or '(?!)'})(?![^\W_])", re.IGNORECASE)


def _turned(words: Words) -> set[Words]:
    """The words from each of them on, round to the one before it."""
    return {words[at:] + words[:at] for at in range(len(words))}


def _key(*words: str) -> str:
    """The same for every way to write a name."""
    return re.sub(r"[\W_]", "", "".join(words)).casefold()
