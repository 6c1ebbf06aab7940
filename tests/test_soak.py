"""The soak in short: a workbench is worked with for some seconds; and what it would find.

`make endure` lets it run for half an hour.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from benches import soak, soak_clients
from benches.soak import Growth, Sample, growth


def samples(*memory: float) -> list[Sample]:
    return [Sample(float(at), each, 20, 10) for at, each in enumerate(memory)]


def test_growth_is_from_the_first_quarter_after_the_warm_up_to_the_last() -> None:
    # The warm-up is a fifth: the first two of ten.
    grown = growth(samples(100, 200, 300, 300, 310, 310, 320, 320, 330, 330))
    assert grown == Growth(30.0, 0.0, 0.0)
    with pytest.raises(ValueError, match="too few"):
        growth(samples(1, 2, 3))


def test_what_piles_up_is_told() -> None:
    assert Growth(24.0, 8.0, -3.0).faults(24) == []
    assert Growth(24.1, 9.0, 9.0).faults(24) == [
        "the memory grew by 24.1 MB; 24 are allowed",
        "there are 9 open files more; 8 are allowed",
        "there are 9 threads more; 8 are allowed",
    ]


@pytest.mark.slow
def test_some_seconds_of_every_kind_of_work_are_answered_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(soak_clients, "GAMES", soak_clients.GAMES[:1])
    found, tally = soak.soak(str(tmp_path / "store.sqlite"), 0.2, 0.5)
    assert tally.faults == []
    assert set(tally.answers) == {
        "pages", "surveys", "imports", "followed", "jobs", "class boards", "prints",
    }  # fmt: skip
    # In so short a time caches and pools of threads still fill: only a flood is found here.
    assert growth(found).memory < 400
