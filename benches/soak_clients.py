"""What the clients of a soak do: read pages, ask for surveys, import games, teach a class."""

from __future__ import annotations

import http.client
import json
import random
import threading
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote, urlencode

from benches import material

HEADERS = {"x-fastness": "1", "content-type": "application/json"}
WAIT = 60
"""Seconds that an answer may take."""
FEW = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"
POSITIONS = 2000
"""Positions that are asked about, many more than the workbench keeps answers for."""
MOST_GAMES = 8
MOST_FAULTS = 20


@dataclass
class Tally:
    """The answers by kind of work, and the answers that should not be, a sentence each."""

    answers: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


class Client:
    """One browser; what it does is drawn by its own dice."""

    def __init__(self, port: int, number: int, tally: Tally, stop: threading.Event) -> None:
        self.dice, self.tally, self.stop = random.Random(number), tally, stop
        self._port = port

    def ask(self, method: str, path: str, kind: str, body: object = None) -> Any:
        """The answer, read as JSON where it is that; what is not well answered is a fault."""
        sent = None if body is None else json.dumps(body)
        # The workbench closes a connection that rests for some seconds, so each has its own.
        link = http.client.HTTPConnection("127.0.0.1", self._port, timeout=WAIT)
        try:
            link.request(method, path, sent, HEADERS)
            answer = link.getresponse()
            data = answer.read()
        finally:
            link.close()
        self.tally.answers[kind] += 1
        if answer.status >= 400 and len(self.tally.faults) < MOST_FAULTS:
            self.tally.faults.append(f"{method} {path}: {answer.status} {data[:200]!r}")
        is_json = "json" in (answer.getheader("content-type") or "")
        return json.loads(data) if data and is_json else data

    def get(self, path: str, kind: str) -> Any:
        """Read something."""
        return self.ask("GET", path, kind)

    def follow(self, path: str, kind: str, events: int) -> None:
        """Read a stream's first events over a connection of its own, and go away."""
        link = http.client.HTTPConnection("127.0.0.1", self._port, timeout=WAIT)
        try:
            link.request("GET", path, headers=HEADERS)
            answer = link.getresponse()
            seen = 0
            while seen < events and (line := answer.readline()):
                seen += line.startswith(b"data:")
            self.tally.answers[kind] += 1
        finally:
            link.close()

    def until_over(self, job: dict[str, Any], kind: str) -> None:
        """Wait for a job as a page does; stop it where the soak is over."""
        while job["state"] in ("waiting", "running"):
            if self.stop.wait(0.1):
                self.ask("DELETE", f"/api/jobs/{job['id']}", kind)
                return
            job = self.get(f"/api/jobs/{job['id']}", kind)
        if job["state"] == "failed" and len(self.tally.faults) < MOST_FAULTS:
            self.tally.faults.append(f"a job failed: {job['problem']}")


def read_pages(client: Client) -> None:
    """Students, reports, plans, games, places, the shelf, and the pages themselves."""
    kind = "pages"
    for student in client.get("/api/students", kind)[:3]:
        number = student["id"]
        client.get(f"/api/students/{number}", kind)
        client.get(f"/api/students/{number}/reports/{client.dice.choice(READERS)}", kind)
        client.get(f"/api/students/{number}/plan", kind)
    for path in ("/", "/api/games", "/api/places", "/api/shelf", "/api/groups", "/api/homework"):
        client.get(path, kind)
    client.get("/api/groups/1/report", kind)
    client.get(f"/api/games/{client.dice.randint(1, len(GAMES))}", kind)


READERS = ("student", "parents", "teacher")


def ask_surveys(client: Client) -> None:
    """Some positions, each looked at and answered."""
    for fen in client.dice.sample(FENS, 5):
        words = urlencode({"fen": fen, "reach": client.dice.choice((1, 2, 3))})
        client.get(f"/api/survey?{words}", "surveys")
        client.get(f"/api/position?fen={quote(fen)}", "surveys")


def bring_games(client: Client) -> None:
    """A game pasted, looked over, brought in, and gone through once more without being kept."""
    text = client.dice.choice(GAMES)
    upload = client.ask("POST", "/api/uploads/text", "imports", {"name": "games", "text": text})
    client.follow(f"/api/jobs/{upload['job']['id']}/events", "followed", 1)
    client.until_over(upload["job"], "imports")
    how = {"names": [], "group": "Monday", "offers": False}
    path = f"/api/uploads/{upload['id']}"
    client.until_over(client.ask("POST", f"{path}/import", "imports", how), "imports")
    for stopped in (True, False):
        job = client.ask("POST", f"{path}/sift", "jobs", {"offers": False})
        if stopped:
            client.ask("DELETE", f"/api/jobs/{job['id']}", "jobs")
        client.until_over(job, "jobs")
    client.get("/api/jobs", "jobs")


def teach_a_class(client: Client) -> None:
    """A class board from its beginning to its end, with a screen that follows it."""
    kind = "class boards"
    here = client.ask("POST", "/api/classes", kind, {"fen": FEW, "title": "Monday"})
    path = f"/api/classes/{here['told']['number']}"
    for move in ("Ba7", "Rf8", "Kd5"):
        client.ask("POST", f"{path}/tries", kind, {"move": move})
    client.ask("PUT", f"{path}/shown", kind, {"what": "answer"})
    client.follow(f"/api/shared/boards/{here['link']['word']}/events", "followed", 1)
    client.follow(f"{path}/events", "followed", 1)
    client.ask("DELETE", path, kind)


def print_things(client: Client) -> None:
    """Reports and sheets as PDF."""
    body = {"form": "pdf"}
    client.ask("POST", "/api/groups/1/report/file", "prints", body)
    order = {"theme": "Monday", "exercises": [1], "form": "pdf"}
    client.ask("POST", "/api/sheets/file", "prints", order)


WORK: tuple[Callable[[Client], None], ...] = (
    read_pages,
    ask_surveys,
    bring_games,
    teach_a_class,
    print_things,
)
KINDS = len(WORK)
"""Clients at once: each begins with another kind of work, and goes on with the next."""
FENS = material.positions(POSITIONS)


def _games() -> list[str]:
    """The first games of the invented club's terms."""
    text = (material.ROOT / "demo" / "millrace-terms.pgn").read_text("utf-8")
    return [f"[Event {one}" for one in text.split("[Event ")[1 : MOST_GAMES + 1]]


GAMES = _games()


def work(port: int, number: int, tally: Tally, stop: threading.Event, pause: float) -> None:
    """Do one kind of work after the other until told to stop."""
    client, turn = Client(port, number, tally, stop), number
    while not stop.is_set():
        try:
            WORK[turn % KINDS](client)
        except (OSError, http.client.HTTPException, KeyError, TypeError) as error:
            if not stop.is_set() and len(tally.faults) < MOST_FAULTS:
                tally.faults.append(f"{WORK[turn % KINDS].__name__}: {error!r}")
        turn += 1
        stop.wait(pause)
