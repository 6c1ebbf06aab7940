# The docstrings stand in crates/python, where the functions are written.

__all__ = [
    "exchange_counts",
    "look",
    "measure",
    "measure_holds",
    "moves_a_second",
    "screen",
    "survey",
    "survey_many",
    "uci",
    "unsafe_units",
    "values_names",
    "version",
]

def version() -> str: ...
def values_names() -> list[str]: ...
def survey(
    fen: str,
    moves: list[str],
    reach: int,
    firm: bool,
    values: str,
    rank_nodes: int,
    square: str,
) -> str: ...
def survey_many(
    rows: list[tuple[str, list[str]]],
    reach: int,
    firm: bool,
    values: str,
    rank_nodes: int,
    threads: int,
) -> list[tuple[bool, str, str]]: ...
def screen(
    games: list[tuple[str, list[str]]], values: str, threads: int
) -> list[tuple[list[int], str, str]]: ...
def look(
    start: str, moves: list[str], side: str, reach: int, values: str, offer_nodes: int
) -> str: ...
def measure(fens: list[str], reach: int, values: str) -> list[tuple[int, float]]: ...
def measure_holds(fens: list[str], reach: int, values: str) -> list[tuple[int, float]]: ...
def moves_a_second(plies: int) -> float: ...
def exchange_counts(fen: str, values: str) -> list[tuple[str, int]]: ...
def unsafe_units(fen: str, reach: int, values: str) -> list[str]: ...
def uci() -> None: ...
