import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

START = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
PIN = "1.d4 d5 2.Nf3 e6 3.Bg5"


def run(
    *words: str, given: bytes = b"", lang: str = "C.UTF-8"
) -> subprocess.CompletedProcess[bytes]:
    program = str(Path(sys.executable).with_name("fastness"))
    return subprocess.run(
        [program, "survey", *words],
        input=given,
        capture_output=True,
        timeout=60,
        env={**os.environ, "LC_ALL": lang},
    )


def test_a_page_is_printed() -> None:
    done = run(START, "--moves", PIN)
    text = done.stdout.decode()
    assert done.returncode == 0, done.stderr
    assert text.startswith("Black to move (move 3)\n")
    assert "The queen on d8 is not safe" in text
    assert "3...Qxg5 4.Nxg5" in text
    assert "middle of a trade" not in text


def test_the_better_ways_are_told_unless_it_is_not_wanted() -> None:
    text = run(START, "--moves", PIN, "--reach", "2").stdout.decode()
    assert "\nThe better way" in text
    assert "Moves that make it safe" not in text
    plain = run(START, "--moves", PIN, "--reach", "2", "--no-ranks").stdout.decode()
    assert "\nMoves that make it safe (7 of 30)" in plain
    assert "The better way" not in plain


def test_a_student_is_told_in_a_few_sentences() -> None:
    done = run(START, "--moves", PIN, "--reach", "2", "--for", "student")
    text = done.stdout.decode()
    assert done.returncode == 0, done.stderr
    assert text.startswith("Your queen on d8 is in danger.")
    assert len(text.split()) < 80


def test_a_list_has_one_line_for_each_position() -> None:
    done = run("-", "--reach", "1", "--for", "line", given=f"{START}\n\njunk\n{START}\n".encode())
    assert done.returncode == 2
    assert done.stdout.decode().splitlines() == [
        "1: White to move: nothing is in danger.",
        "4: White to move: nothing is in danger.",
    ]


def test_the_language_is_chosen_by_the_option_or_by_the_environment() -> None:
    words = (START, "--reach", "1", "--for", "line", "--no-ranks")
    german = "Weiß am Zug: nichts ist in Gefahr.\n"
    assert run(*words, "--language", "de").stdout.decode() == german
    assert run(*words, lang="de_DE.UTF-8").stdout.decode() == german
    english = run(*words, "--language", "en", lang="de_DE.UTF-8").stdout.decode()
    assert english == "White to move: nothing is in danger.\n"


def test_json_holds_ranks_where_they_are_asked_for() -> None:
    given = f"{START}\n".encode()
    one = json.loads(run(START, "--json", "--reach", "1").stdout)
    many = json.loads(run("-", "--json", "--reach", "1", given=given).stdout)
    asked = json.loads(run("-", "--json", "--ranks", "--reach", "1", given=given).stdout)
    assert (one["ranked"], many["ranked"], asked["ranked"]) == (True, False, True)


def test_a_fen_needs_no_quotes() -> None:
    loose = run(*START.split(), "--json", "--reach", "1")
    quoted = run(START, "--json", "--reach", "1")
    assert loose.returncode == 0, loose.stderr
    assert loose.stdout == quoted.stdout
    assert json.loads(loose.stdout)["reach"] == 1


def test_lines_are_answered_in_order_and_bad_ones_said() -> None:
    lines = [
        START.encode(),
        b"",
        b"junk",
        b"8/8/8/3Kp3/4Pk2/8/8/8 w - - bm Kd6;",
        b"\xff\x00 binary",
        b"8/8/8/8/8/8/8/K7 w - - 0 1",
        b"4k3/8/8/8/8/8/8/4K2R w K - 0 1",
    ]
    done = run("-", "--json", "--reach", "1", given=b"\n".join(lines))
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.returncode == 2
    assert [one.get("line") for one in answers] == [None, 3, None, 5, 6, None]
    assert [one["fen"][:3] for one in answers if "fen" in one] == ["rnb", "8/8", "4k3"]
    for one in answers:
        if "line" in one:
            assert set(one["error"]) == {"code", "message"}
    assert done.stderr == b""


def test_pages_of_many_positions_are_parted_by_a_rule() -> None:
    done = run("-", "--reach", "1", given=f"{START}\njunk\n{START}\n".encode())
    text = done.stdout.decode()
    assert done.returncode == 2
    assert text.count("=" * 88) == 1
    assert text.startswith("Line 1\n")
    assert "\nLine 3\n" in text
    assert b"line 2" in done.stderr


def test_no_line_gives_no_answer() -> None:
    done = run("-", "--json")
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "No position given"),
        (["junk"], "fields of a FEN"),
        ([START, "--reach", "6"], "--reach"),
        ([START, "--reach", "0"], "--reach"),
        ([START, "--values", "guess"], "--values"),
        ([START, "--for", "nobody"], "--for"),
        ([START, "--language", "xx"], "--language"),
        ([START, "--moves", "1.e4 e5 2.Nf6"], 'Move 3 of the list, "Nf6"'),
        ([START, "--deep"], "--deep"),
        (["-", "--moves", "e4"], "--moves goes with one position"),
        (["8/8/8/8/8/8/8/K7 w - - 0 1"], "king"),
        (["8/8/8/8/8/8/8/K7 w - - 0 1", "--moves", "Kb1"], "king"),
    ],
)
def test_bad_use_is_told_without_a_traceback(words: list[str], told: str) -> None:
    done = run(*words)
    assert done.returncode == 2
    assert told in done.stderr.decode()
    assert b"Traceback" not in done.stderr
    assert done.stdout == b""


def test_a_reader_who_leaves_is_no_error() -> None:
    program = str(Path(sys.executable).with_name("fastness"))
    lines = f"{START}\n" * 300
    done = subprocess.run(
        ["bash", "-c", f"'{program}' survey - --reach 1 --json | head -1"],
        input=lines.encode(),
        capture_output=True,
        timeout=60,
    )
    assert len(done.stdout.splitlines()) == 1
    assert b"Traceback" not in done.stderr


def started(*words: str) -> subprocess.Popen[bytes]:
    program = str(Path(sys.executable).with_name("fastness"))
    pipe = subprocess.PIPE
    return subprocess.Popen([program, "survey", *words], stdin=pipe, stdout=pipe, stderr=pipe)


def test_each_line_is_answered_before_the_next_is_given() -> None:
    with started("-", "--json", "--reach", "1") as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write(f"{START}\n".encode())
        running.stdin.flush()
        assert json.loads(running.stdout.readline())["fen"] == START
        assert running.poll() is None
        running.stdin.close()
        assert running.wait(timeout=60) == 0


def test_ctrl_c_stops_in_the_middle_of_a_search_without_a_word() -> None:
    middle = "r1bq1rk1/ppp2ppp/2np4/4n1NQ/2BbP3/2N4P/PP3PP1/R1B2RK1 b - - 2 11"
    with started("-", "--json", "--reach", "5", "--firm") as running:
        assert running.stdin is not None
        assert running.stdout is not None
        assert running.stderr is not None
        # The first is answered at once; the second takes minutes.
        running.stdin.write(f"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1\n{middle}\n".encode())
        running.stdin.flush()
        assert b"7k/5Q2" in running.stdout.readline()
        begun = time.monotonic()
        running.send_signal(signal.SIGINT)
        assert running.wait(timeout=60) == -signal.SIGINT  # a shell reports 130
        assert time.monotonic() - begun < 5
        assert running.stderr.read() == b""


def test_the_preferred_way_is_listed_first_among_equals() -> None:
    given = [START, "--moves", PIN]
    texts = [run(*given, *more).stdout.decode() for more in ([], ["--ways", "counterattack"])]
    firsts = [text.split("The better ways")[1].splitlines()[1].split()[0] for text in texts]
    assert firsts == ["Be7", "Bb4+"]


def test_an_unknown_way_is_told_with_those_there_are() -> None:
    done = run(START, "--ways", "hope")
    assert done.returncode == 2
    assert '"hope"' in done.stderr.decode()
    assert "counterattack" in done.stderr.decode()
