"""Mining: the screen against the search, the filters, and a run that goes on where it stopped."""

import dataclasses
from contextlib import closing
from itertools import islice
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.errors import InputError, PositionError
from fastness.intake import Game, Problem, read_games
from fastness.survey.position import position_key
from fastness.workflows import mining
from fastness.workflows.mining import (
    Mined,
    Wanted,
    candidates,
    is_wanted,
    mine_files,
    named,
)
from fastness.workflows.mining_to import ExerciseFile

DEMO = Path(__file__).parents[2] / "demo" / "millrace.pgn"


def games(number: int) -> list[Game]:
    return list(islice((one for one in read_games(DEMO) if isinstance(one, Game)), number))


def some(
    number: int, wanted: Wanted | None = None, known: frozenset[str] = frozenset()
) -> list[Mined]:
    found = mine_files([DEMO], wanted, rank_nodes=500, threads=1, known=known)
    kept = list(islice((one for one in found if isinstance(one, Mined)), number))
    found.close()
    return kept


def test_what_is_chosen_is_looked_at_without_a_screen() -> None:
    """But not where a trade has cost something, which the bare position does not tell."""
    game = games(1)[0]
    board, keys, owing = chess.Board(game.start_fen), [], []
    start, begun = board.fen(), 0
    for ply, uci in enumerate(game.moves):
        keys.append(position_key(board.fen()))
        if core.survey(start, moves=game.moves[begun:ply], reach=1)["owed"]:
            owing.append(keys[-1])
        traded = board.is_capture(chess.Move.from_uci(uci))
        board.push_uci(uci)
        if not traded:
            start, begun = board.fen(), ply + 1
    assert owing
    found = [position_key(one.fen) for one in mining.chosen([game], keys)]
    assert found == [key for key in keys if key not in owing]
    assert [one.ply for one in mining.chosen([game], keys[4:5])] == [5]


def test_the_screen_says_what_the_search_says() -> None:
    game = games(1)[0]
    (reaches,) = core.screen([(game.start_fen, game.moves)])
    assert isinstance(reaches, list)
    board = chess.Board(game.start_fen)
    for uci, reach in zip(game.moves[:40], reaches, strict=False):
        if not board.is_check():
            danger = core.survey(board.fen(), reach=2)["danger"] or []
            shows = [
                value == "mate" or (isinstance(value, int) and value >= 50) for value in danger
            ]
            assert reach == (shows.index(True) + 1 if True in shows else 0)
        board.push_uci(uci)


def test_a_bad_game_is_told_and_the_rest_is_screened() -> None:
    bad, good = core.screen([("no fen", ()), (chess.STARTING_FEN, ("e2e4",))])
    assert isinstance(bad, PositionError)
    assert good == [0]


def test_no_candidate_stands_in_the_middle_of_a_trade_or_in_check() -> None:
    game = games(1)[0]
    for one in candidates([game]):
        board = chess.Board(game.start_fen)
        for uci in game.moves[: one.ply - 2]:
            board.push_uci(uci)
        assert not board.is_capture(chess.Move.from_uci(game.moves[one.ply - 2]))
        board.push_uci(game.moves[one.ply - 2])
        assert board.fen() == one.fen
        assert not board.is_check()


@pytest.mark.slow
def test_what_is_mined_has_its_source_and_what_was_wanted() -> None:
    wanted = Wanted(kinds=frozenset({"every move"}), quiet=False, most=4)
    for one in some(2, wanted):
        assert {exercise.kind for exercise in one.exercises} == {"every move"}
        assert "millrace.pgn, game " in one.proved.source.game
        assert is_wanted(one.proved, wanted)
        assert 1 <= sum(move["holds"] for move in one.proved.survey["moves"]) <= 4
        assert not is_wanted(one.proved, Wanted(ways=frozenset({"no such way"})))


@pytest.mark.slow
def test_a_run_goes_on_where_it_stopped(tmp_path: Path) -> None:
    file = ExerciseFile(tmp_path / "mined.jsonl")
    first = some(2)
    for one in first:
        file.keep(one)
    with file.path.open("a") as cut:
        cut.write('{"version": 1, "sur')
    known = file.known()
    assert known == {position_key(one.proved.fen) for one in first}
    (more,) = some(1, known=known)
    assert position_key(more.proved.fen) not in known


def test_what_gave_nothing_is_told_and_then_passed_over() -> None:
    wanted, nothing = Wanted(mechanisms=frozenset({"no such cause"}), quiet=False), set[str]()
    found = mine_files([DEMO], wanted, threads=1, on_nothing=nothing.add, rank_nodes=500)
    with closing(found), pytest.MonkeyPatch.context() as patch:
        patch.setattr(mining, "mined", lambda *_, **__: None)
        assert list(found) == []
    assert len(nothing) > 50
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(mining, "mined", lambda *_, **__: pytest.fail("looked at again"))
        assert list(mine_files([DEMO], wanted, threads=1, known=nothing)) == []


def test_a_file_with_another_line_is_refused_by_number(tmp_path: Path) -> None:
    path = tmp_path / "mined.jsonl"
    path.write_text("nonsense\n")
    with pytest.raises(InputError, match="line 1"):
        ExerciseFile(path).known()


def test_a_file_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    (found,) = mine_files([tmp_path / "no.pgn"])
    assert isinstance(found, Problem)


@pytest.mark.parametrize(
    ("date", "told"),
    [
        ("1857.11.08", "Blunt, Ann - ?, 1857.11.08 (club.pgn, game 3)"),
        ("1857.??.??", "Blunt, Ann - ?, 1857 (club.pgn, game 3)"),
        ("????.??.??", "Blunt, Ann - ? (club.pgn, game 3)"),
    ],
)
def test_a_game_is_named_by_what_is_known(date: str, told: str) -> None:
    tags = {"White": "Blunt,  Ann ", "Date": date}
    game = dataclasses.replace(games(1)[0], tags=tags, file="games/club.pgn", number=3)
    assert named(game) == told
