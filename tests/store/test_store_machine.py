"""The store worked with at random; `make endure` does it for longer."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.store.store_machine import StoreMachine

LONG = "FASTNESS_ENDURE"
"""Set by `make endure`."""


def test_a_store_holds_what_was_done_with_it() -> None:
    long = bool(os.environ.get(LONG))
    run_state_machine_as_test(
        StoreMachine,
        settings=settings(
            max_examples=300 if long else 8,
            stateful_step_count=50 if long else 20,
            deadline=None,
            derandomize=not long,
            database=None,
            # To look for the shortest way to a fault takes longer than to read a long one.
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        ),
    )
