"""The columns of the tables that a sweep makes, and their rows as Parquet."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pyarrow  # type: ignore[import-untyped]

Row = Mapping[str, Any]

KEY = {"archive": "int32", "batch": "int32", "game": "int32"}
"""What every table begins with: the archive, the batch of it, and the game's number in the file."""
_SIDE = {
    "rating": "int32",
    "band": "string",
    "moves": "int32",
    "moves_unsafe": "int32",
    "units": "int32",
    "units_unsafe": "int32",
}

COLUMNS: dict[str, dict[str, str]] = {
    "games": {
        **KEY,
        "line": "int64",
        "event": "string",
        "site": "string",
        "date": "string",
        "white": "string",
        "black": "string",
        "result": "string",
        "plies": "int32",
        "start_fen": "string",
        **{f"{side}_{name}": kind for side in ("white", "black") for name, kind in _SIDE.items()},
    },
    "occasions": {
        **KEY,
        "ply": "int32",
        "move_number": "int32",
        "colour": "string",
        "rating": "int32",
        "band": "string",
        "kind": "string",
        "fen": "string",
        "owed": "int32",
        "danger": "int32",
        "danger_mate": "string",
        "net": "int32",
        "net_mate": "string",
        "best_net": "int32",
        "best_net_mate": "string",
        "played": "string",
        "played_san": "string",
        "outcome": "string",
        "recapture": "bool",
        "episode": "int32",
        "units": "strings",
        "mechanisms": "strings",
        "reach": "int32",
        "way": "string",
        "holding": "strings",
        "holding_ways": "strings",
        "tried": "string",
        "reason": "string",
        "taken": "bool",
        "clock": "double",
        "proof": "strings",
    },
    "exercises": {
        **KEY,
        "ply": "int32",
        "fen": "string",
        "kind": "string",
        "asked": "string",
        "accepted": "strings",
        "not_judged": "strings",
        "pattern": "string",
        "estimate": "double",
        "level": "string",
        "proof": "string",
    },
    "problems": {**KEY, "line": "int64", "kind": "string", "message": "string"},
}
"""Each table with its columns and their kinds; "strings" is a list of texts."""


def parquet(table: str, rows: Iterable[Row]) -> bytes:
    """The rows of a table as a Parquet file; the same rows give the same bytes."""
    import pyarrow
    from pyarrow import parquet as files

    made = pyarrow.Table.from_pylist(list(rows), schema=_schema(table))
    file = io.BytesIO()
    files.write_table(made, file, compression="zstd")
    return file.getvalue()


def _schema(table: str) -> pyarrow.Schema:
    import pyarrow

    kinds = {
        "int32": pyarrow.int32(),
        "int64": pyarrow.int64(),
        "double": pyarrow.float64(),
        "bool": pyarrow.bool_(),
        "string": pyarrow.string(),
        "strings": pyarrow.list_(pyarrow.string()),
    }
    return pyarrow.schema([(name, kinds[kind]) for name, kind in COLUMNS[table].items()])
