"""The store: students, their games, and what was found in them. All SQL of it is in here."""

from fastness.store.opening import Store, default_place, open_store

__all__ = ["Store", "default_place", "open_store"]
