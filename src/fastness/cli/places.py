"""Where the store is, for every command that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fastness.store import Store, open_store

StorePlace = str | None
"""A file, a PostgreSQL URL, or None for the default place."""


@contextmanager
def opened(place: StorePlace) -> Iterator[Store]:
    """An open store, closed again at the end."""
    store = open_store(place)
    try:
        yield store
    finally:
        store.close()
