"""The benchmark's recorded answers: complete, still true, and able to be wrong."""

import chess
import pytest

from benches import answers, material
from benches.run import GAME_COUNT, REACH
from fastness import core

RECORDED = answers.read_recorded()
FENS = material.positions(200)


def test_every_measured_position_and_game_has_an_answer() -> None:
    games = material.games(material.GAMES, GAME_COUNT)
    wanted = {("survey", fen) for fen in FENS}
    wanted |= {("sift", f"game {game.number} white") for game in games}
    wanted |= {("screen", f"game {game.number}") for game in games}
    assert len(wanted) == 200 + 2 * GAME_COUNT
    assert set(RECORDED) == wanted


def test_recorded_screens_are_still_true() -> None:
    games = material.games(material.GAMES, GAME_COUNT)
    rows = core.screen([(game.start_fen, game.moves) for game in games])
    screened = {
        ("screen", f"game {game.number}"): answers.screen_answer(reaches)
        for game, reaches in zip(games, rows, strict=True)
        if isinstance(reaches, list)
    }
    assert len(screened) == GAME_COUNT
    assert answers.differences(screened, RECORDED) == []


def test_a_smaller_sample_begins_the_larger_one() -> None:
    assert material.positions(10) == FENS[:10]


@pytest.mark.parametrize("fen", FENS[:6])
def test_recorded_answers_are_still_true(fen: str) -> None:
    answer = answers.survey_answer(core.survey(fen, reach=REACH))
    assert answers.differences({("survey", fen): answer}, RECORDED) == []


def test_a_wrong_answer_is_told() -> None:
    fen = FENS[0]
    other = answers.survey_answer(core.survey(chess.STARTING_FEN, reach=1))
    (sentence,) = answers.differences({("survey", fen): other}, RECORDED)
    assert fen in sentence
    assert other in sentence
    assert RECORDED["survey", fen] in sentence
