"""Which occasions a game gives: told by a number, so that stored ones are known to be old."""

SIFT_VERSION = 6
"""Raised with every change after which a game may give other occasions than before.

What the store found with another number is computed again when the game is brought in. What each
number finds in a few games stands in `tests/data/sift/versions.csv`.
"""
