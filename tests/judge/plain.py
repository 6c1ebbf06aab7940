"""The plain reference as a process: it answers what a position is worth, slowly and surely."""

import json
import os
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import chess

ROOT = Path(__file__).parents[2]
MATE = 100_000
"""A mate in `Plain.value`, less the plies to it: beyond any material."""
PASS = "0000"


def mating(value: int) -> bool:
    """Whether a value is a mate for the attacker."""
    return value > MATE // 2


class Plain:
    """Questions to one running process of the plain reference."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        self.process = process
        self.asked = 0

    def value(
        self, fen: str, moves: Sequence[str], plies: int, attacker: chess.Color, base: int
    ) -> int:
        """What the attacker wins beyond `base` (centipawns) after `moves`, in so many plies.

        Fewer than 0 plies are so many plies of the quiescence that have been played.
        """
        more = {"played": -plies} if plies < 0 else {}
        answer = self._ask(fen, moves, max(plies, 0), attacker, base, **more)
        if "centipawns" in answer:
            return int(answer["centipawns"])
        if "mates" in answer:
            return MATE - int(answer["mates"])
        return int(answer["mated"]) - MATE

    def attains(
        self,
        fen: str,
        moves: Sequence[str],
        plies: int,
        attacker: chess.Color,
        base: int,
        least: int,
        values: str = "classical",
    ) -> bool:
        """Whether that value is at least `least`; quicker than the number."""
        answer = self._ask(fen, moves, plies, attacker, base, least=least, values=values)
        return bool(answer["attains"])

    def unsafe(self, fen: str, reach: int, values: str = "classical") -> list[str]:
        """The squares of the units of the side to move that can be won, alone or together."""
        answer = self._answer({"fen": fen, "unsafe_at": reach, "values": values})
        return [str(square) for square in answer["unsafe"]]

    def _ask(
        self,
        fen: str,
        moves: Sequence[str],
        plies: int,
        attacker: chess.Color,
        base: int,
        **more: int | str,
    ) -> dict[str, Any]:
        question: dict[str, Any] = {
            "fen": fen,
            "moves": list(moves),
            "plies": plies,
            "attacker": "white" if attacker else "black",
            "base": base,
            "values": "classical",
            **more,
        }
        return self._answer(question)

    def _answer(self, question: dict[str, Any]) -> dict[str, Any]:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(question) + "\n")
        self.process.stdin.flush()
        answer: dict[str, Any] = json.loads(self.process.stdout.readline())
        assert "error" not in answer, f"{question}: {answer['error']}"
        self.asked += 1
        return answer


def built(program: str = "reference") -> Path:
    """A program of the reference, built by cargo where it is not there yet.

    Fails plainly without cargo.
    """
    cargo = os.environ.get("CARGO", "cargo")
    command = [cargo, "build", "--release", "--locked", "--message-format=json-render-diagnostics"]
    command += ["-p", "fastness-reference", "--bin", program]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    except OSError as error:
        raise AssertionError(
            f"{cargo} cannot be run ({error}). The plain reference is built by cargo, from Rust."
        ) from error
    assert done.returncode == 0, f"the plain reference does not build:\n{done.stderr}"
    for row in done.stdout.splitlines():
        told = json.loads(row)
        if told.get("executable"):
            return Path(told["executable"])
    raise AssertionError("cargo named no program")


@contextmanager
def running() -> Iterator[Plain]:
    """The reference, running until the block ends."""
    with subprocess.Popen(
        [built()], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        yield Plain(process)
        assert process.stdin is not None
        process.stdin.close()
