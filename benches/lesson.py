"""Measure how long the check of a long lesson takes: `python -m benches.lesson`.

The lesson, `benches/lesson.md`, has thirty positions of historic games with three claims each; of
ten positions one claim is about the better ways. Exit status 1 if a claim is not true, since the
measure would be of something else.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from fastness import core
from fastness.workflows.lessons import check_lessons, count_claims, open_lesson

LESSON = Path(__file__).with_name("lesson.md")
TARGET = 20.0
"""Seconds on one core."""


def main() -> int:
    """Check the lesson and print the time that one core was busy."""
    lesson = open_lesson(LESSON)
    rate = core.moves_a_second()
    started, busy = time.perf_counter(), time.process_time()
    found = [one.found for one in check_lessons([(str(LESSON), lesson)])]
    busy, passed = time.process_time() - busy, time.perf_counter() - started
    wrong = [one for one in found if getattr(one, "verdict", "") != "true"]
    print(
        f"check of a lesson, {len(lesson.blocks)} positions, {count_claims([lesson])} claims: "
        f"{busy:.1f} s on one core (target {TARGET:.0f} s), {passed:.1f} s by the clock; "
        f"moves a second on this machine: {rate / 1e6:.0f} million"
    )
    for one in wrong:
        print(one)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
