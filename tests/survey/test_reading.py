"""The survey part by part says what the page says, and its lines replay."""

from __future__ import annotations

import chess
import pytest

from fastness import core
from fastness.language import language
from fastness.survey import page
from fastness.survey.reading import Reading, ToldLine, reading

POSITIONS = (
    "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12",
    "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1",  # a fork to come
    "4k3/8/8/8/8/8/4q3/4K3 w - - 0 1",  # in check
    "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1",  # zugzwang
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r1bqkb1r/1ppp1ppp/p1B2n2/4p3/4P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 1",  # a trade
    "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1",  # stalemate
    "R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1",  # mate
    "6k1/5ppp/8/8/8/8/r4PPP/1R4K1 w - - 0 1",  # mate to give
)


def lines(read: Reading) -> list[ToldLine]:
    found = [line for told in (*read.dangers, *read.takings) for line in told.lines]
    found += [line for move in read.keeping for line in move.lines]
    found += [move.line for move in read.failing]
    return [*found, *(read.nothing_holds.lines if read.nothing_holds else ())]


@pytest.mark.parametrize("ranks", [0, 5000])
@pytest.mark.parametrize("code", ["en", "de"])
@pytest.mark.parametrize("fen", POSITIONS)
def test_every_sentence_is_on_the_page(fen: str, code: str, ranks: int) -> None:
    survey, words = core.survey(fen, firm=True, rank_nodes=ranks), language(code)
    told = " ".join(page(survey, language=words).split())
    read = reading(survey, language=words)
    sentences = [read.head, read.danger_title, *(one.told for one in read.dangers)]
    sentences += [one.told for one in read.takings] + list(read.notes)
    sentences += [read.nothing_holds.told] if read.nothing_holds else []
    sentences += [line.told for one in (*read.dangers, *read.takings) for line in one.lines]
    sentences += [one.told for one in read.keeping] if ranks and read.needs_remedy else []
    sentences += [read.rest] if any(one.tries for one in read.failing) else []
    for sentence in sentences:
        assert " ".join(sentence.split()) in told


@pytest.mark.parametrize("fen", POSITIONS)
def test_lines_go_through_the_positions_they_show(fen: str) -> None:
    survey = core.survey(fen, rank_nodes=5000)
    for line in lines(reading(survey)):
        board = chess.Board(survey["fen"])
        for step in line.steps:
            move = chess.Move.from_uci(step.uci)
            assert not move or board.is_legal(move)
            board.push(move)
            assert board.fen() == step.fen


def test_every_legal_move_is_told_once() -> None:
    survey = core.survey(POSITIONS[0])
    read = reading(survey)
    told = [move.uci for move in read.keeping] + [move.uci for move in read.failing]
    assert sorted(told) == sorted(move["uci"] for move in survey["moves"])
