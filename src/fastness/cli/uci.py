"""`fastness uci`: the core for a program that speaks UCI."""

from fastness import core
from fastness.cli.interrupt import stop_at_once


def uci() -> None:
    """Think about moves for a chess program that speaks UCI.

    Reads UCI commands from standard input and answers on standard output, until quit or the end
    of the input. It takes no options here: the client sets them.
    """
    stop_at_once()
    core.uci()
