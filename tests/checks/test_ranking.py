"""Ranks of the moves that hold, and offers told from faults, on facts of the trade."""

import csv
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.claim import AtAPrice, Better
from fastness.survey.claims import claims
from tests.checks.positions import historic, sample

DATA = Path(__file__).parents[1] / "data" / "checks"


def table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def played(text: str) -> list[str]:
    board = chess.Board()
    words = [word.split(".")[-1] for word in text.split()]
    return [board.push_san(word).uci() for word in words]


def ranked(moves: str) -> Survey:
    return core.survey(chess.STARTING_FEN, moves=played(moves), rank_nodes=core.RANK_NODES)


def as_listed(survey: Survey) -> list[str]:
    """The holding moves in SAN in the order of the page."""
    found = claims(survey, moves_given=True)
    moves = [uci for claim in found if isinstance(claim, Better | AtAPrice) for uci in claim.moves]
    names = {move["uci"]: move["san"] for move in survey["moves"]}
    return [names[uci] for uci in moves]


@pytest.mark.parametrize(
    "row", table("ranking.csv"), ids=lambda row: f"{row['move']} {row['game']}"
)
def test_ranking(row: dict[str, str]) -> None:
    survey = ranked(row["game"])
    order = as_listed(survey)
    verdict = next(move for move in survey["moves"] if move["san"] == row["move"])
    assert verdict["holds"]
    match row["check"]:
        case "listed first":
            assert order[0] == row["move"]
        case "listed above":
            assert order.index(row["move"]) < order.index(row["other"])
        case "advised":
            assert verdict["advised"] is True
        case "not advised":
            assert verdict["advised"] is False
        case other:
            raise AssertionError(f"unknown check {other}")


@pytest.mark.parametrize("row", table("offers.csv"), ids=lambda row: str(row["game"]))
def test_offers(row: dict[str, str]) -> None:
    looks = core.look(chess.STARTING_FEN, played(row["game"]), offer_nodes=core.OFFER_NODES)
    assert (looks[-1]["offered"] is True) == (row["offered"] == "yes")
    if row["offered"] == "yes":
        assert not looks[-1]["played"]["holds"]


def flipped(square: str) -> str:
    return chess.square_name(chess.square_mirror(chess.parse_square(square)))


def flipped_uci(uci: str) -> str:
    return flipped(uci[:2]) + flipped(uci[2:4]) + uci[4:]


NODES = 3_000
FENS = sample(historic(), 60, seed=41)


def rank_facts(move: MoveVerdict) -> tuple[object, ...]:
    price = move["price"] or {"costs": [], "gains": []}
    names = [item["name"] for item in [*price["costs"], *price["gains"]]]
    return move["evaluation"], move["rank"], move["advised"], names


def test_a_colour_flip_changes_no_rank() -> None:
    mirrored = [chess.Board(fen).mirror().fen() for fen in FENS]
    one = core.survey_many([(fen, ()) for fen in FENS], reach=2, rank_nodes=NODES)
    two = core.survey_many([(fen, ()) for fen in mirrored], reach=2, rank_nodes=NODES)
    compared = 0
    for survey, mirror in zip(one, two, strict=True):
        assert not isinstance(survey, Exception)
        assert not isinstance(mirror, Exception)
        theirs = {move["uci"]: rank_facts(move) for move in mirror["moves"]}
        for move in survey["moves"]:
            assert rank_facts(move) == theirs[flipped_uci(move["uci"])], (survey["fen"], move)
            compared += move["rank"] is not None
    assert compared > 500


def test_ranks_are_the_same_on_any_thread_and_run() -> None:
    rows: list[tuple[str, list[str]]] = [(fen, []) for fen in FENS[:20]]
    first = core.survey_many(rows, reach=2, rank_nodes=NODES, threads=1)
    assert core.survey_many(rows[::-1], reach=2, rank_nodes=NODES, threads=2)[::-1] == first


def test_ranks_follow_from_nets_and_evaluations() -> None:
    for answer in core.survey_many([(fen, ()) for fen in FENS], reach=2, rank_nodes=NODES):
        assert not isinstance(answer, Exception)
        holding = [move for move in answer["moves"] if move["holds"]]
        for move in answer["moves"]:
            assert (move["rank"] is not None) == move["holds"]
        firsts = [move["uci"] for move in holding if move["rank"] == 1]
        assert answer["best"] == (firsts[0] if len(firsts) == 1 else None)
