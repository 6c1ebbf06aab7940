"""The clock is set back, or on: nothing fails, and nobody gets in who should not."""

from __future__ import annotations

import datetime
import time
from pathlib import Path

import pytest
from itsdangerous import TimestampSigner

from fastness.classroom.preparing import begin, given
from fastness.practice.scheduling import Tried, schedule
from fastness.store import open_store, shelf, students
from fastness.web.access import COOKIE, DAYS, HOURS, Access
from fastness.web.class_desk import Classes
from fastness.web.jobs import Jobs
from fastness.web.results import Result
from fastness.web.surveyor import Surveyor
from fastness.workflows.practising import practice_for
from tests.store.material import IVY
from tests.store.test_shelf import entry

TODAY = datetime.date(2026, 11, 26)
QUIET = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"


def test_practice_takes_answers_of_days_to_come(tmp_path: Path) -> None:
    later = TODAY + datetime.timedelta(400)
    tried = [Tried("p", day, right) for right, day in ((True, later), (False, TODAY))]
    (one,) = schedule(tried).values()
    assert one.last == later
    for day in (TODAY - datetime.timedelta(400), TODAY, later + datetime.timedelta(4000)):
        assert 0 <= one.recall(day) <= 1
    store = open_store(tmp_path / "store.sqlite")
    with store.writing() as session:
        ivy = students.add_student(session, IVY)
        exercise, _ = shelf.put(session, entry())
        for day in (later, TODAY):
            shelf.record_attempt(session, ivy, exercise, ["a1a2"], "wrong", made=day)
    assert practice_for(store, IVY, 10, week=TODAY).student == IVY
    store.close()


def test_a_link_of_a_day_to_come_is_none_until_then(tmp_path: Path) -> None:
    access = Access(tmp_path / "access.json")
    word = access.word("s", 7, TODAY)
    for days, good in ((-1, False), (0, True), (DAYS, True), (DAYS + 1, False)):
        named = access.named(word, TODAY + datetime.timedelta(days))
        assert named == (("s", 7) if good else None)


def test_a_log_in_of_an_hour_to_come_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    access = Access(tmp_path / "access.json")
    now = int(time.time())
    cookie = f"{COOKIE}={access.cookie()}"
    for seconds, good in ((60, True), (-3600, False), (HOURS * 3600 + 60, False)):
        monkeypatch.setattr(TimestampSigner, "get_timestamp", lambda _, at=now + seconds: at)
        assert access.is_teacher(cookie) is good


def test_no_class_board_has_another_ones_number(monkeypatch: pytest.MonkeyPatch) -> None:
    classes, numbers = Classes(Surveyor(), None), []
    for now in (1_800_000_000.0, 1_700_000_000.0, 1_700_000_000.0, 1_900_000_000.0):
        monkeypatch.setattr(time, "time", lambda at=now: at)
        numbers.append(classes.number())
        classes.add(begin(numbers[-1], "Monday", [given(QUIET)]))
    assert len(set(numbers)) == 4


def test_a_job_takes_no_less_than_no_time(monkeypatch: pytest.MonkeyPatch) -> None:
    jobs, wall = Jobs(), iter(range(2_000_000_000, 0, -1_000_000))
    monkeypatch.setattr(time, "time", lambda: float(next(wall)))

    def work(_: object) -> Result:
        raise OSError("the disk is full")

    job = jobs.begin("sift", "", work)
    until = time.monotonic() + 30
    while not job.is_over:
        assert time.monotonic() < until
        time.sleep(0.01)
    assert (job.told().state, job.told().problem) == ("failed", "the disk is full")
    assert 0 <= job.told().seconds < 30
    jobs.close()
