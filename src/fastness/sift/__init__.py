"""From a game and the looks at its moves to occasions and episodes. No input or output here."""

from fastness.sift.occasion import GameLabel, Occasion, occasions
from fastness.sift.outcome import Outcome
from fastness.sift.page import game_page, occasion_page, page, summary_page
from fastness.sift.players import find_player, name_forms
from fastness.sift.summary import PlayerSummary, Summaries, Tally

__all__ = [
    "GameLabel",
    "Occasion",
    "Outcome",
    "PlayerSummary",
    "Summaries",
    "Tally",
    "find_player",
    "game_page",
    "name_forms",
    "occasion_page",
    "occasions",
    "page",
    "summary_page",
]
