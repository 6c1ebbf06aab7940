"""Which player is meant by a name."""

import pytest

from fastness.errors import PlayerError
from fastness.sift.players import Names


def find_player(name: str, known: list[str]) -> list[str]:
    names = Names(name)
    found = [one for one in known if names.is_meant(one)]
    names.check()
    return found


KNOWN = ["Weber, Anna", "weber,  ANNA ", "Anna Weber", "Lopez, Ben", "Weber, Otto", "?"]


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("Weber, Anna", ["Weber, Anna", "weber,  ANNA ", "Anna Weber"]),
        ("anna weber", ["Weber, Anna", "weber,  ANNA ", "Anna Weber"]),
        ("LOPEZ,BEN", ["Lopez, Ben"]),
        ("Lopez Ben", ["Lopez, Ben"]),
        (" Ben   Lopez ", ["Lopez, Ben"]),
    ],
)
def test_same_name_in_other_writing(name: str, found: list[str]) -> None:
    assert find_player(name, KNOWN) == found


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("Webber, Anna", ("Weber, Anna",)),
        ("Weber", ("Weber, Otto",)),
        ("Lopes, Ben", ("Lopez, Ben",)),
        ("lopes", ("Lopez, Ben",)),
    ],
)
def test_an_unknown_name_lists_the_near_ones(name: str, near: tuple[str, ...]) -> None:
    with pytest.raises(PlayerError) as caught:
        find_player(name, ["Weber, Anna", "Lopez, Ben", "Weber, Otto"])
    assert set(near) <= set(caught.value.near)
    assert f'no game names a player "{name}"; names like it: ' in str(caught.value)
    assert all(one in str(caught.value) for one in near)


def test_a_name_like_none_lists_some_players() -> None:
    with pytest.raises(PlayerError) as caught:
        find_player("Xqz", ["Weber, Anna", "Lopez, Ben"])
    assert str(caught.value).endswith("players: Lopez, Ben; Weber, Anna")
    assert caught.value.near == ()


@pytest.mark.parametrize("name", ["", " ", ","])
def test_an_empty_name_is_nobody(name: str) -> None:
    with pytest.raises(PlayerError):
        find_player(name, ["", " ", "Lopez, Ben"])


def test_games_without_names() -> None:
    with pytest.raises(PlayerError, match="the games name no players"):
        find_player("Weber, Anna", [])
