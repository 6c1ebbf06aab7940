"""What tells one position from another."""


def position_key(fen: str) -> str:
    """A position without its counts of moves, which change nothing about what stands in it."""
    return " ".join(fen.split()[:4])
