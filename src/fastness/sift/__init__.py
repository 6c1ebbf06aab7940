"""From a game and the looks at its moves to occasions and episodes. No input or output here."""

from fastness.sift.occasion import GameLabel, Occasion, occasions, published
from fastness.sift.outcome import Outcome
from fastness.sift.page import occasions_page
from fastness.sift.players import Names, name_forms
from fastness.sift.summary import PlayerSummary, Summaries, Tally
from fastness.sift.summary_page import counted, summaries_page, summary_page
from fastness.sift.version import SIFT_VERSION

__all__ = [
    "SIFT_VERSION",
    "GameLabel",
    "Names",
    "Occasion",
    "Outcome",
    "PlayerSummary",
    "Summaries",
    "Tally",
    "counted",
    "name_forms",
    "occasions",
    "occasions_page",
    "published",
    "summaries_page",
    "summary_page",
]
