"""Sifting files: order, players, problems and flat memory."""

import gzip
import tracemalloc
from pathlib import Path

import pytest

from fastness.errors import OptionError, PlayerError
from fastness.intake import Problem
from fastness.workflows.sifting import Sifted, sift_files

PIN = "1. d4 d5 2. Nf3 e6 3. Bg5"


def write(path: Path, *games: tuple[str, str, str]) -> Path:
    text = "".join(
        f'[White "{white}"]\n[Black "{black}"]\n[Result "*"]\n\n{moves} *\n\n'
        for white, black, moves in games
    )
    path.write_text(text, encoding="utf-8")
    return path


def sifted(*paths: Path, player: str | None = None, reach: int = 1) -> list[Sifted]:
    items = list(sift_files(paths, player, reach=reach))
    assert not [item for item in items if isinstance(item, Problem)]
    return [item for item in items if isinstance(item, Sifted)]


def test_games_come_in_order_of_files_and_numbers(tmp_path: Path) -> None:
    first = write(tmp_path / "a.pgn", *[("Weber, Anna", "Lopez, Ben", PIN)] * 15)
    second = write(tmp_path / "b.pgn", ("Weber, Anna", "Lopez, Ben", "1. e4"))
    told = [(Path(item.game.file).name, item.game.number) for item in sifted(first, second)]
    assert told == [*(("a.pgn", number) for number in range(1, 16)), ("b.pgn", 1)]


def test_only_the_games_and_moves_of_the_player(tmp_path: Path) -> None:
    file = write(
        tmp_path / "a.pgn",
        ("Weber, Anna", "Lopez, Ben", f"{PIN} h6"),
        ("Sand, Eva", "Weber, Otto", PIN),
        ("Lopez, Ben", "Anna Weber", f"{PIN} h6"),
    )
    items = sifted(file, player="anna weber")
    assert [(item.game.number, item.players) for item in items] == [
        (1, ("Weber, Anna",)),
        (3, ("Anna Weber",)),
    ]
    assert {one["colour"] for one in items[0].occasions} <= {"white"}
    assert [(one["played"]["san"], one["outcome"]) for one in items[1].occasions] == [
        ("h6", "let fall")
    ]
    both = sifted(file)[0]
    assert both.players == ("Weber, Anna", "Lopez, Ben")
    assert {one["player"] for one in both.occasions} == {"Lopez, Ben"}


def test_an_unknown_player_is_told_last_with_the_near_names(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", ("Weber, Anna", "Lopez, Ben", PIN))
    with pytest.raises(PlayerError, match="Lopez, Ben") as caught:
        list(sift_files([file], "Lopes, Ben"))
    assert caught.value.near == ("Lopez, Ben",)


def test_bad_settings_are_told_before_any_work() -> None:
    with pytest.raises(OptionError):
        next(sift_files(["there-is-no-such-file.pgn"], reach=9))
    with pytest.raises(OptionError):
        next(sift_files(["there-is-no-such-file.pgn"], values="none"))


def test_a_problem_comes_before_its_game_and_the_moves_before_it_count(tmp_path: Path) -> None:
    file = write(
        tmp_path / "a.pgn",
        ("Weber, Anna", "Lopez, Ben", "1. e4"),
        ("Weber, Anna", "Lopez, Ben", f"{PIN} h6 4. Ke5 a6"),
    )
    first, problem, second = sift_files([file], reach=1)
    assert isinstance(first, Sifted)
    assert isinstance(problem, Problem)
    assert isinstance(second, Sifted)
    assert (problem.game, problem.kind, problem.code) == (2, "error", "game")
    assert "Ke5" in problem.message
    assert [one["played"]["san"] for one in second.occasions] == ["h6"]


def test_progress_counts_the_bytes_of_all_files(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", ("Weber, Anna", "Lopez, Ben", PIN))
    told: list[int] = []
    list(sift_files([file, file], reach=1, on_progress=told.append))
    assert told == sorted(told)
    assert told[-1] == 2 * file.stat().st_size


def test_memory_does_not_grow_with_the_file(tmp_path: Path) -> None:
    def peak(games: int) -> int:
        file = tmp_path / f"{games}.pgn.gz"
        text = f'[White "Weber, Anna"]\n[Black "Lopez, Ben"]\n\n{PIN} h6 *\n\n' * games
        file.write_bytes(gzip.compress(text.encode()))
        tracemalloc.start()
        for _ in sift_files([file], reach=1, threads=2):
            pass
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return most

    # Both files fill the piece of text that is read at a time.
    first = peak(1000)
    assert peak(5000) < 1.5 * first, first


def test_trades_of_the_exchange_variation(tmp_path: Path) -> None:
    """Common practice, no source: the knight taken on c6 is owed until it is taken back."""
    ruy = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Bxc6"
    replies = {"h6": "let fall", "dxc6": "held", "bxc6": "held"}
    file = write(
        tmp_path / "a.pgn", *(("Weber, Anna", "Lopez, Ben", f"{ruy} {move}") for move in replies)
    )
    for item in sifted(file, player="Lopez, Ben", reach=3):
        last = item.occasions[-1]
        move = last["played"]["san"]
        assert (last["ply"], last["owed"], last["outcome"]) == (8, 300, replies[move])
        assert last["recapture"] == (move != "h6")
        assert last["holding"] == ["bxc6", "dxc6"]


EVEN_TRADES = (
    "1. e4 e5 2. Nf3 Nc6 3. d4 exd4 4. Nxd4 Nxd4 5. Qxd4 d6 6. Nc3 Nf6 7. Bb5+ Bd7 8. Bxd7+ Qxd7"
    " 9. Bg5 Be7 10. Bxf6 Bxf6 11. Qd3 Bxc3+ 12. Qxc3 O-O 13. O-O Rfe8 14. Rfe1 Re6"
)


def test_even_trades_are_recaptures_and_no_faults(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", ("Weber, Anna", "Lopez, Ben", EVEN_TRADES))
    (item,) = sifted(file, reach=3)
    assert {(one["kind"], one["outcome"]) for one in item.occasions} == {("danger", "held")}
    recaptures = [one["played"]["san"] for one in item.occasions if one["recapture"]]
    assert recaptures == ["Nxd4", "Qxd4", "Qxd7", "Qxc3"]
