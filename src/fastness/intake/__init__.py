"""Games from PGN files, one after another, with flat memory. `read_games` is the way in."""

from fastness.intake.game import Game, Problem
from fastness.intake.pgn import Stretch, read_games, read_stretch
from fastness.intake.source import measure

__all__ = ["Game", "Problem", "Stretch", "measure", "read_games", "read_stretch"]
