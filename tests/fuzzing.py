"""How many tries the Python fuzzers make: few and always the same, or as many as one asks for.

`make fuzz` sets FASTNESS_TRIES, and then every run tries other things.
"""

import os

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

ASKED = os.environ.get("FASTNESS_TRIES", "")
MOST = 20
"""Changes made to a text."""

TRIES = settings(
    max_examples=int(ASKED or 80),
    derandomize=not ASKED,
    database=None,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


def spoilt(texts: list[str], pieces: list[str]) -> st.SearchStrategy[str]:
    """Texts with pieces put in, letters put in and parts taken out, anywhere."""
    changes = st.tuples(
        st.integers(0, 10_000),
        st.sampled_from([0, 0, 0, 1, 3, 20]),
        st.one_of(st.sampled_from(pieces), st.text(max_size=3)),
    )

    def change(text: str, wanted: list[tuple[int, int, str]]) -> str:
        for at, taken, put in wanted:
            place = at % (len(text) + 1)
            text = text[:place] + put + text[place + taken :]
        return text

    return st.builds(change, st.sampled_from(texts), st.lists(changes, max_size=MOST))
