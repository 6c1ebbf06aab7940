"""How much a browser fetches at most: all pages together, compressed."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from pathlib import Path

MOST = 250_000
"""Bytes of all pages, compressed with gzip, without the fonts."""
FONTS = (".woff2",)


def test_the_pages_are_small(pages: Path, record_property: Callable[[str, object], None]) -> None:
    files = [file for file in pages.rglob("*") if file.is_file()]
    assert any(file.suffix == ".js" for file in files)
    fonts = sum(file.stat().st_size for file in files if file.suffix in FONTS)
    rest = [file for file in files if file.suffix not in FONTS]
    size = sum(len(gzip.compress(file.read_bytes())) for file in rest)
    told = f"{size / 1000:.0f} kB compressed are all pages together, fonts {fonts / 1000:.0f} kB"
    record_property("report", told)
    assert size < MOST
