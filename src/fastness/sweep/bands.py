"""The rating bands of players, by the ratings that games give in their tags."""

BANDS = ((1, "under 1400"), (1400, "1400-1799"), (1800, "1800-2199"), (2200, "2200 and over"))
"""The lowest rating of each band, lowest first, and its name."""
UNRATED = "unrated"
NAMES = (*(name for _, name in BANDS), UNRATED)


def rating(text: str) -> int | None:
    """A rating as a tag has it; None for what is no number, or 0."""
    # A tag may hold anything; no rating has more digits.
    points = int(text) if text.isascii() and text.isdecimal() and len(text) <= 4 else 0
    return points or None


def band(text: str) -> str:
    """The band of a rating as a tag has it; what is no number, or 0, is unrated."""
    points = rating(text) or 0
    return next((name for least, name in reversed(BANDS) if points >= least), UNRATED)
