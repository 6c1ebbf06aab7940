"""Let some clients work with a workbench for a while and see that it does not grow: `make endure`.

Usage: python -m benches.soak [--minutes N] [--every SECONDS] [--store URL] [--most MEGABYTES]

Prints a line for every minute: the server's resident memory, its open files and threads, and how
many answers it gave. Ends with status 1 if the memory grew by more than `--most` from the first
quarter after the warm-up to the last, if files or threads piled up, or if an answer was not as it
should be. The first fifth is the warm-up: caches fill.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from benches import soak_clients
from benches.web import free_port, wait_for
from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.store import open_store
from fastness.workflows.importing import WhoIsWho, bring_in
from fastness.workflows.shelving import shelve
from fastness.workflows.sifting import SiftSettings

MINUTES = 30.0
MOST = 24.0
"""Megabytes that half an hour may add: about a tenth of what the workbench takes."""
PILE = 8
"""Open files, or threads, that may be there more at the end than at the beginning."""
WARM_UP = 0.2
"""The share of the time in which caches fill."""
PAUSE = 1.0
"""Seconds from an answer to the next question of the same client: they read."""
ASKED = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"


@dataclass(frozen=True, slots=True)
class Sample:
    """The server at one moment: `seconds` since the beginning, `memory` resident in megabytes."""

    seconds: float
    memory: float
    files: int
    threads: int


def sample(pid: int, seconds: float) -> Sample:
    """What the kernel tells of a process (Linux, proc(5)); of its children there are none."""
    lines = Path(f"/proc/{pid}/status").read_text("ascii").splitlines()
    told = dict(line.split(":", 1) for line in lines)
    return Sample(
        seconds,
        int(told["VmRSS"].split()[0]) / 1024,
        len(list(Path(f"/proc/{pid}/fd").iterdir())),
        int(told["Threads"]),
    )


@dataclass(frozen=True, slots=True)
class Growth:
    """What was added from the first quarter after the warm-up to the last, by the medians."""

    memory: float
    files: float
    threads: float

    def faults(self, most: float) -> list[str]:
        """What is too much, a sentence each."""
        found = []
        if self.memory > most:
            found.append(f"the memory grew by {self.memory:.1f} MB; {most:g} are allowed")
        for name, grown in (("open files", self.files), ("threads", self.threads)):
            if grown > PILE:
                found.append(f"there are {grown:.0f} {name} more; {PILE} are allowed")
        return found


def growth(samples: Sequence[Sample]) -> Growth:
    """How much a server grew. Raises ValueError for fewer than four samples after the warm-up."""
    warm = samples[int(len(samples) * WARM_UP) :]
    quarter = len(warm) // 4
    if not quarter:
        raise ValueError(f"{len(samples)} samples are too few; let it run longer")
    first, last = warm[:quarter], warm[-quarter:]

    def added(name: str) -> float:
        late, early = (statistics.median(getattr(one, name) for one in some)
                       for some in (last, first))  # fmt: skip
        return float(late - early)

    return Growth(added("memory"), added("files"), added("threads"))


def fill(place: str, folder: Path) -> None:
    """Put the games that the clients bring, their students and some exercises into a store.

    What a store holds is not to grow meanwhile: whoever reads more takes more.
    """
    file = folder / "games.pgn"
    file.write_text("".join(soak_clients.GAMES), "utf-8")
    with closing(open_store(place)) as store:
        who = WhoIsWho(store, lambda _name, _alike: None, "Monday", add=True, dry_run=False)
        for _ in bring_in(store, [file], who, SiftSettings(offer_nodes=0)):
            pass
        shelve(store, list(exercises_of(prove(ASKED))))


def soak(
    place: str, minutes: float, every: float, clients: int = soak_clients.KINDS
) -> tuple[list[Sample], soak_clients.Tally]:
    """Let clients work with a workbench on the store at `place`; the samples and what they got."""
    with tempfile.TemporaryDirectory() as folder:
        fill(place, Path(folder))
    port = free_port()
    start = "from fastness.cli import main; main()"
    words = ["serve", "--no-open", "--port", str(port), "--store", place]
    server = subprocess.Popen([sys.executable, "-c", start, *words], stdout=subprocess.DEVNULL)
    tally, stop = soak_clients.Tally(), threading.Event()
    samples: list[Sample] = []
    try:
        wait_for(port)
        workers = [
            threading.Thread(
                target=soak_clients.work, args=(port, number, tally, stop, PAUSE), daemon=True
            )
            for number in range(clients)
        ]
        for worker in workers:
            worker.start()
        begun = time.monotonic()
        while (now := time.monotonic() - begun) < 60 * minutes:
            if server.poll() is not None:
                raise SystemExit(f"the workbench ended with status {server.returncode}")
            samples.append(sample(server.pid, now))
            tell(samples, tally)
            stop.wait(every)
        stop.set()
        for worker in workers:
            worker.join(60)
    finally:
        stop.set()
        server.terminate()
        server.wait()
    return samples, tally


def tell(samples: Sequence[Sample], tally: soak_clients.Tally) -> None:
    """A line for the last sample, if it is the first of its minute."""
    last = samples[-1]
    minute = int(last.seconds // 60)
    if len(samples) == 1:
        print(f"{'minute':>6}{'memory, MB':>12}{'files':>8}{'threads':>9}{'answers':>9}")
    if len(samples) == 1 or int(samples[-2].seconds // 60) < minute:
        row = f"{minute:>6}{last.memory:>12.1f}{last.files:>8}{last.threads:>9}"
        print(f"{row}{sum(tally.answers.values()):>9}", flush=True)


def main() -> int:
    """Soak a workbench, print the table and the verdict."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=MINUTES)
    parser.add_argument("--every", type=float, default=5.0)
    parser.add_argument("--most", type=float, default=MOST)
    parser.add_argument("--store", help="a PostgreSQL URL; a file of its own if left out")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        place = given.store or str(Path(folder) / "store.sqlite")
        samples, tally = soak(place, given.minutes, given.every)
    grown = growth(samples)
    print(", ".join(f"{count} {kind}" for kind, count in sorted(tally.answers.items())))
    last = samples[-1]
    print(
        f"from the first quarter after the warm-up to the last: {grown.memory:+.1f} MB,"
        f" {grown.files:+.0f} open files, {grown.threads:+.0f} threads; {last.memory:.1f} MB at"
        " the end"
    )
    faults = [*grown.faults(given.most), *tally.faults]
    for fault in faults:
        print(f"fault: {fault}", file=sys.stderr)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
