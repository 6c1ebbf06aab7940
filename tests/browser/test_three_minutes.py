"""The way of docs/workbench.md: an unsafe piece, its remedies and a sheet within three minutes."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page

from scripts.workbench_pictures import PICTURES, way

pytestmark = [pytest.mark.xdist_group("browser: keyboard"), pytest.mark.slow]
DOCUMENT = Path(__file__).parents[2] / "docs" / "workbench.md"
MINUTES = 3
LARGEST = 150_000
"""Bytes of a picture."""


def test_the_way_takes_three_minutes(
    page: Page, record_property: Callable[[str, object], None]
) -> None:
    seen: list[str] = []
    began = time.monotonic()
    sheet = way(page, seen.append)
    took = time.monotonic() - began
    record_property("report", f"from a pasted game to a sheet in {took:.0f} s, without reading")
    assert took < MINUTES * 60
    assert sheet.startswith(b"PK")
    shown = re.findall(r"pictures/(workbench-\w[\w-]*)\.png", DOCUMENT.read_text("utf-8"))
    assert shown == seen


def test_the_pictures_are_there_and_small() -> None:
    pictures = sorted(PICTURES.glob("workbench-*.png"))
    assert pictures
    assert all(file.stat().st_size < LARGEST for file in pictures)
