"""The tables and position lists inside the source archive of the PyPI package chess 1.11.2."""

import os
from collections.abc import Iterator
from pathlib import Path

CHESS = "chess-1.11.2"
ROOT = Path(__file__).parents[2]


def archive(part: str) -> Path:
    """A file or folder of the archive; a missing one is a failure with what to do, no skip."""
    folder = Path(os.environ.get("FASTNESS_CHESS_SOURCE") or ROOT / ".cache" / CHESS)
    path = folder / part
    if not path.exists():
        raise AssertionError(
            f"{path} is not there. `make test` fetches the source archive of PyPI chess 1.11.2 "
            f"into .cache/{CHESS}; or name its unpacked folder in FASTNESS_CHESS_SOURCE."
        )
    return path


def epd_rows(part: str) -> Iterator[tuple[str, int]]:
    """FEN and `dm` of each row: moves to mate, negative when mated, 0 when drawn."""
    for line in archive(part).read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            placed, distance = line.rstrip(";").split(" dm ")
            yield f"{placed} 0 1", int(distance)


def perft_fens(name: str) -> list[str]:
    """The FEN of each row of a perft list, in the order of the list."""
    lines = archive(f"examples/perft/{name}").read_text(encoding="utf-8").splitlines()
    return [line.removeprefix("epd ").strip() for line in lines if line.startswith("epd ")]
