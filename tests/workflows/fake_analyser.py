"""A program that speaks UCI and misbehaves as it is told to: fake_analyser.py MODE [MOVE] [SCORE].

It plays MOVE with SCORE ("cp 30", "mate 2") whatever it is asked; of another move asked for alone
it says "cp -250". Modes: good, slow, silent, mute, dies, dies-once:FILE, never-starts, garbage,
flood, no-newline, illegal, null, nothing, no-score, other, stays, stubborn.
"""

import signal
import sys
import time
from pathlib import Path


def say(*lines: str) -> None:
    sys.stdout.write("".join(f"{line}\n" for line in lines))
    sys.stdout.flush()


def answer(asked: str | None, move: str, score: str) -> None:
    if asked and asked != move:
        move, score = asked, "cp -250"
    say(f"info depth 1 score {score} nodes 10 pv {move}", f"bestmove {move}")


def misbehave(mode: str, asked: str | None, move: str, score: str) -> None:  # noqa: C901
    if mode == "slow":
        time.sleep(0.3)
    elif mode in ("silent", "stubborn"):
        return
    elif mode == "mute":
        time.sleep(600)
    elif mode == "dies":
        sys.exit(3)
    elif mode.startswith("dies-once:"):
        once = Path(mode.split(":", 1)[1])
        if not once.exists():
            once.touch()
            sys.exit(3)
    elif mode == "garbage":
        sys.stdout.buffer.write(
            b"\xff\xfe\x00 info\ninfo score cp joho pv e9e9\ninfo depth\ninfo pv\n"
        )
        say("info score mate", "info string \u2603", "option", "readyok readyok")
        say("bestmove joho")
        return
    elif mode == "flood":
        while True:
            sys.stdout.write("info string and so on\n" * 1000)
    elif mode == "no-newline":
        while True:
            sys.stdout.write("x" * 100_000)
    elif mode == "illegal":
        asked, move = None, "a1a8"
    elif mode == "null":
        asked, move = None, "0000"
    elif mode == "nothing":
        say("bestmove (none)")
        return
    elif mode == "no-score":
        say(f"bestmove {asked or move}")
        return
    elif mode == "other":
        asked = None
    answer(asked, move, score)


def main() -> None:
    given, usual = sys.argv[1:], ["good", "e2e4", "cp 30"]
    mode, move, score = given + usual[len(given) :]
    if mode == "never-starts":
        sys.exit(1)
    if mode == "stubborn":
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
    for line in sys.stdin:
        words = line.split()
        if words[:1] == ["uci"]:
            say("id name fake", "uciok")
        elif words[:1] == ["isready"]:
            say("readyok")
        elif words[:1] == ["go"]:
            alone = words[words.index("searchmoves") + 1] if "searchmoves" in words else None
            misbehave(mode, alone, move, score)
        elif words[:1] == ["quit"] and mode not in ("stays", "stubborn"):
            return
    while mode in ("stays", "stubborn"):
        time.sleep(1)


if __name__ == "__main__":
    main()
