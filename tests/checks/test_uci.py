"""`fastness uci` driven by the client of PyPI `chess`, which speaks UCI and judges the moves."""

import csv
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import chess
import chess.engine
import pytest

PROGRAM = Path(sys.executable).with_name("fastness")
TABLE = Path(__file__).parents[1] / "data" / "checks" / "uci-scores.csv"
NODES = chess.engine.Limit(nodes=5_000)

with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))


@pytest.fixture
def program() -> Iterator[chess.engine.SimpleEngine]:
    with chess.engine.SimpleEngine.popen_uci([str(PROGRAM), "uci"], timeout=60) as program:
        yield program


def legal_move(played: chess.engine.PlayResult, board: chess.Board) -> chess.Move:
    assert played.move is not None
    assert played.move in board.legal_moves
    return played.move


def self_play(program: chess.engine.SimpleEngine, plies: int) -> list[str]:
    """The moves of a game against itself."""
    board = chess.Board()
    game = object()
    for _ in range(plies):
        board.push(legal_move(program.play(board, NODES, game=game), board))
    return [move.uci() for move in board.move_stack]


def test_it_tells_its_name_and_options(program: chess.engine.SimpleEngine) -> None:
    assert program.id["name"].startswith("fastness ")
    assert program.id["author"]
    hash_size = program.options["Hash"]
    assert (hash_size.type, hash_size.min, hash_size.max) == ("spin", 1, 1024)
    assert program.options["Clear Hash"].type == "button"


def test_it_plays_itself_legally_and_the_same_again(program: chess.engine.SimpleEngine) -> None:
    first = self_play(program, 20)
    assert len(first) == 20
    assert self_play(program, 20) == first


def test_the_same_nodes_give_the_same_move_in_another_process() -> None:
    answers = []
    for _ in range(2):
        with chess.engine.SimpleEngine.popen_uci([str(PROGRAM), "uci"], timeout=60) as program:
            info = program.analyse(chess.Board(), NODES)
            answers.append((info["pv"], info["score"], info["depth"], info["nodes"]))
    assert answers[0] == answers[1]


def test_depth_is_kept(program: chess.engine.SimpleEngine) -> None:
    for depth in (1, 4):
        info = program.analyse(chess.Board(), chess.engine.Limit(depth=depth))
        assert info["depth"] == depth
        assert {"score", "nodes", "nps", "time", "pv"} <= info.keys()


@pytest.mark.parametrize("nodes", [1, 10, 1_000, 20_000])
def test_nodes_are_not_exceeded(program: chess.engine.SimpleEngine, nodes: int) -> None:
    info = program.analyse(chess.Board(), chess.engine.Limit(nodes=nodes))
    assert info["nodes"] <= nodes
    assert info["pv"][0] in chess.Board().legal_moves


def test_time_for_the_move_is_kept(program: chess.engine.SimpleEngine) -> None:
    begun = time.monotonic()
    info = program.analyse(chess.Board(), chess.engine.Limit(time=0.3))
    # Nothing else would end it. Tests run beside each other, so more time is allowed here.
    assert 0.3 <= time.monotonic() - begun <= 3
    assert info["depth"] > 1


def test_it_plays_by_the_clock(program: chess.engine.SimpleEngine) -> None:
    clock = chess.engine.Limit(
        white_clock=1, black_clock=1, white_inc=0.01, black_inc=0.01, remaining_moves=20
    )
    played = program.play(chess.Board(), clock, info=chess.engine.INFO_ALL)
    assert legal_move(played, chess.Board())
    assert played.info["time"] <= 0.9


def test_an_endless_analysis_ends_when_stopped(program: chess.engine.SimpleEngine) -> None:
    board = chess.Board()
    with program.analysis(board, chess.engine.Limit()) as analysis:
        for info in analysis:
            if info.get("depth", 0) >= 3:
                break
        program.ping()
        analysis.stop()
        best = analysis.wait().move
    assert best is not None
    assert best in board.legal_moves
    program.ping()


def test_only_the_moves_asked_for_are_played(program: chess.engine.SimpleEngine) -> None:
    board = chess.Board("r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1")
    for text in ("e1g1", "e1c1", "a1b1"):
        move = chess.Move.from_uci(text)
        played = program.play(board, chess.engine.Limit(depth=2), root_moves=[move])
        assert played.move == move


def test_a_mate_asked_for_is_given(program: chess.engine.SimpleEngine) -> None:
    board = chess.Board("kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1")
    info = program.analyse(board, chess.engine.Limit(mate=2))
    assert info["score"] == chess.engine.PovScore(chess.engine.Mate(2), chess.WHITE)


@pytest.mark.parametrize("hash_size", [1, 64])
def test_the_size_of_the_table_can_be_set(
    program: chess.engine.SimpleEngine, hash_size: int
) -> None:
    program.configure({"Hash": hash_size, "Clear Hash": None})
    assert legal_move(program.play(chess.Board(), NODES), chess.Board())


@pytest.mark.parametrize("row", ROWS, ids=[row["position"] for row in ROWS])
def test_scores_and_moves_of_known_positions(
    program: chess.engine.SimpleEngine, row: dict[str, str]
) -> None:
    board = chess.Board(row["position"])
    limit = chess.engine.Limit(depth=int(row["depth"]))
    played = program.play(board, limit, info=chess.engine.INFO_ALL)
    kind, value = row["score"].split()
    expected = chess.engine.Mate(int(value)) if kind == "mate" else chess.engine.Cp(int(value))
    assert played.info["score"].relative == expected
    if row["best"] == "none":
        assert played.move == chess.Move.null()
    else:
        move = legal_move(played, board).uci()
        assert row["best"] == "any" or move in row["best"].split()


def test_it_plays_on_when_a_game_repeats(program: chess.engine.SimpleEngine) -> None:
    board = chess.Board()
    for text in ["g1f3", "g8f6", "f3g1", "f6g8"] * 3:
        board.push_uci(text)
    assert legal_move(program.play(board, NODES), board)
