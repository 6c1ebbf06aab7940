"""Long work in the tests: waited for through the API, as a page would."""

from __future__ import annotations

import time
from typing import Any

from fastapi.testclient import TestClient

WAIT = 60
"""Seconds."""


def ended(client: TestClient, job: dict[str, Any]) -> dict[str, Any]:
    """A job when it is over."""
    until = time.monotonic() + WAIT
    while time.monotonic() < until:
        told: dict[str, Any] = client.get(f"/api/jobs/{job['id']}").json()
        if told["state"] not in ("waiting", "running"):
            return told
        time.sleep(0.02)
    raise TimeoutError(f"job {job} is not over after {WAIT} seconds")


def done(client: TestClient, job: dict[str, Any]) -> dict[str, Any]:
    """The result of a job that ends well."""
    told = ended(client, job)
    assert told["state"] == "done", told["problem"]
    result: dict[str, Any] = told["result"]
    return result


def brought(client: TestClient, *files: tuple[str, bytes]) -> dict[str, Any]:
    """An upload, with what was found in it."""
    answer = client.post("/api/uploads", files=[("files", file) for file in files])
    assert answer.status_code == 201, answer.text
    upload: dict[str, Any] = answer.json()
    return {**upload, "look": done(client, upload["job"])["found"]}


def imported(client: TestClient, games: str, group: str = "Monday") -> dict[str, Any]:
    """Games brought into the store, every name that is nobody's a new student's."""
    upload = brought(client, ("games.pgn", games.encode()))
    names = [
        {"name": one["name"], "means": "new"}
        for one in upload["look"]["names"]
        if one["student"] is None
    ]
    how = {"names": names, "group": group, "offers": False}
    answer = client.post(f"/api/uploads/{upload['id']}/import", json=how)
    assert answer.status_code == 202, answer.text
    return done(client, answer.json())
