"""Which player is meant by a name."""

import difflib
from collections.abc import Iterable

from fastness.errors import PlayerError

MOST = 20_000
"""Names remembered for telling which are near to one that is not found; memory stays flat."""
_NEAR = 5


def name_forms(name: str) -> frozenset[str]:
    """The ways to write a name that count as the same: "Weber, Anna" is also "anna weber".

    Capitals, spaces and commas do not matter; a comma may mean that the family name is first.
    """
    family, comma, given = name.partition(",")
    forms = [name.replace(",", " ")]
    if comma:
        forms.append(f"{given.replace(',', ' ')} {family}")
    return frozenset(" ".join(form.casefold().split()) for form in forms)


class Names:
    """The names of the games that go by, and whether one is the player who is looked for."""

    def __init__(self, player: str) -> None:
        """Look for this player."""
        self._player = player
        self._wanted = name_forms(player) - {""}
        self._found = False
        self._others: set[str] = set()

    def is_meant(self, name: str) -> bool:
        """Whether this name of a game means the player."""
        if self._wanted & name_forms(name):
            self._found = True
            self._others.clear()
            return True
        if not self._found and len(self._others) < MOST and name.strip(" ?"):
            self._others.add(" ".join(name.split()))
        return False

    def check(self) -> None:
        """Raise PlayerError, with the names most alike, if no name has meant the player."""
        if not self._found:
            raise _unknown(self._player, self._wanted, sorted(self._others))


def _unknown(player: str, wanted: Iterable[str], names: list[str]) -> PlayerError:
    near = _near(wanted, names)
    if near:
        hint = "names like it: " + "; ".join(near)
    elif names:
        hint = "players: " + "; ".join(names[:_NEAR]) + (" and others" if names[_NEAR:] else "")
    else:
        hint = "the games name no players"
    return PlayerError(f'no game names a player "{player}"; {hint}', tuple(near))


def _near(wanted: Iterable[str], names: list[str]) -> list[str]:
    """The names most alike, or alike in one word, such as the family name."""
    named: dict[str, list[str]] = {}
    for name in names:
        for form in name_forms(name):
            for key in {form, *form.split()}:
                named.setdefault(key, []).append(name)
    alike = [
        name
        for form in wanted
        for key in difflib.get_close_matches(form, named, n=_NEAR, cutoff=0.7)
        for name in named[key]
    ]
    # A single word, such as the family name alone, is near to every name that holds it.
    held = [name for form in wanted for name in named.get(form, ())]
    return list(dict.fromkeys([*held, *alike]))[:_NEAR]
