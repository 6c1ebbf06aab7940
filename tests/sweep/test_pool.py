"""Processes that end under their work cost their own batch only, which is begun again."""

import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from fastness.sweep.batches import Batch
from fastness.sweep.pool import TRIES, Tables, in_processes
from tests.sweep.material import archive, cut


def dies(batch: Batch, marks: Path, times: dict[int, int]) -> Tables:
    """The work on a batch, which kills its process so many times first."""
    mark = marks / f"{batch.number}"
    before = len(mark.read_bytes()) if mark.exists() else 0
    with mark.open("ab") as file:
        file.write(b"x")
    if before < times.get(batch.number, 0):
        os.kill(os.getpid(), signal.SIGKILL)
    return {"games": batch.name.encode()}


def test_a_killed_process_is_replaced_and_one_batch_left_out(tmp_path: Path) -> None:
    found = cut(archive(tmp_path / "a.pgn", 12), 2)
    marks = tmp_path / "marks"
    marks.mkdir()
    work = partial(dies, marks=marks, times={1: 1, 3: TRIES, 4: TRIES - 1})
    done = {batch.number: tables for batch, tables in in_processes(found, work, 2)}
    assert sorted(done) == [0, 1, 2, 3, 4, 5]
    assert [number for number, tables in done.items() if tables is None] == [3]
    begun = [len((marks / str(number)).read_bytes()) for number in range(6)]
    assert begun == [1, 2, 1, TRIES, TRIES, 1]


def test_no_more_batches_are_taken_than_there_are_processes(tmp_path: Path) -> None:
    taken = 0

    def counted() -> Iterator[Batch]:
        nonlocal taken
        for batch in cut(archive(tmp_path / "a.pgn", 8), 1):
            taken += 1
            yield batch

    done = in_processes(counted(), partial(dies, marks=tmp_path, times={}), 1)
    ahead = [taken - number for number, _ in enumerate(done)]
    assert max(ahead) == 1


def test_a_process_killed_while_it_has_nothing_to_do_loses_nothing(tmp_path: Path) -> None:
    found = cut(archive(tmp_path / "a.pgn", 6), 2)

    def slowly() -> Iterator[Batch]:
        for batch in found:
            for child in multiprocessing.active_children():
                child.kill()
                child.join()
            yield batch

    done = in_processes(slowly(), partial(dies, marks=tmp_path, times={}), 1)
    assert [batch.number for batch, _ in done] == [0, 1, 2]


def large(batch: Batch) -> Tables:
    """An answer that a pipe does not hold, and whose process is killed while it is given."""
    mark = Path(batch.stretch.file + f".{batch.number}")
    if not mark.exists():
        mark.touch()
        threading.Timer(0.3, os.kill, (os.getpid(), signal.SIGKILL)).start()
    return {"games": bytes(50_000_000)}


def test_a_process_killed_in_the_middle_of_an_answer_is_noticed(tmp_path: Path) -> None:
    found = cut(archive(tmp_path / "a.pgn", 4), 2)
    answers = in_processes(found, large, 1)
    sizes = [len((tables or {}).get("games", b"")) for _, tables in answers]
    assert sizes == [50_000_000] * 2
