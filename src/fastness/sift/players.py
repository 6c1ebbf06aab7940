"""Which player is meant by a name."""

import difflib
from collections.abc import Iterable

from fastness.errors import PlayerError

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


def find_player(name: str, known: Iterable[str]) -> list[str]:
    """The names among the known ones that mean this player, in order.

    Raises PlayerError, with the names most alike, if there is none.
    """
    names = sorted(set(known))
    wanted = name_forms(name)
    found = [other for other in names if wanted & name_forms(other)]
    if found and any(wanted):
        return found
    near = _near(wanted, names)
    if near:
        hint = "names like it: " + "; ".join(near)
    elif names:
        hint = "players: " + "; ".join(names[:_NEAR]) + (" and others" if names[_NEAR:] else "")
    else:
        hint = "the games name no players"
    raise PlayerError(f'no game names a player "{name}"; {hint}', tuple(near))


def _near(wanted: frozenset[str], names: list[str]) -> list[str]:
    forms = {form: name for name in names for form in name_forms(name)}
    alike = [
        near
        for form in wanted
        for near in difflib.get_close_matches(form, forms, n=_NEAR, cutoff=0.6)
    ]
    # A single name, such as the family name alone, is near to every name that holds it.
    held = [form for form in forms for part in wanted if part and part in form.split()]
    return list(dict.fromkeys(forms[form] for form in [*held, *alike]))[:_NEAR]
