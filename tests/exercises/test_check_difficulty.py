"""The comparison of the estimate with failures: what counts, and the bands, worked by hand."""

from typing import Any

import numpy as np
import pytest

from scripts.check_difficulty import counts, in_bands, tau

OCCASION = {
    "kind": "danger",
    "danger": 300,
    "owed": 0,
    "recapture": False,
    "holding": ["Nf3"],
    "outcome": "let fall",
}


@pytest.mark.parametrize(
    ("change", "counted"),
    [
        ({}, True),
        ({"outcome": "held"}, True),
        ({"outcome": "lessened"}, True),
        ({"outcome": "exposed"}, False),
        ({"kind": "taking"}, False),
        ({"danger": None}, False),
        ({"owed": 100}, False),
        ({"recapture": True}, False),
        ({"holding": []}, False),
    ],
)
def test_what_counts(change: dict[str, Any], counted: bool) -> None:
    assert counts({**OCCASION, **change}) is counted


def test_bands_and_tau_by_hand() -> None:
    estimates = np.array([3.0, 0.0, 2.0, 1.0, 5.0, 4.0])
    failures = np.array([0.0, 0.0, 1.0, 0.0, 1.0, 1.0])
    means, shares = in_bands(estimates, failures, bands=3)
    assert means.tolist() == [0.5, 2.5, 4.5]
    assert shares.tolist() == [0.0, 0.5, 1.0]
    assert tau(means, shares) == pytest.approx(1)
    # 9 pairs of a failure with none: 8 agree, 1 (2.0 failed, 3.0 not) does not; tau-b divides by
    # the root of 15 pairs times the 9 that are not tied.
    assert tau(estimates, failures) == pytest.approx(7 / (15 * 9) ** 0.5)
