"""The teacher's manual at its address, and what is said where it was not built."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from fastapi.testclient import TestClient

from fastness.web.application import create_app
from fastness.web.settings import Settings


def test_the_manual_is_served_or_it_is_said_how_to_build_it(
    settings: Settings, tmp_path: Path
) -> None:
    manual = tmp_path / "manual.pdf"
    app = create_app(replace(settings, manual=manual))
    with TestClient(app, base_url="http://127.0.0.1:8620") as client:
        missing = client.get("/manual.pdf")
        assert missing.status_code == 404
        assert "make manual" in missing.text
        manual.write_bytes(b"%PDF-1.7")
        answer = client.get("/manual.pdf")
        assert answer.content == b"%PDF-1.7"
        assert answer.headers["content-type"] == "application/pdf"
