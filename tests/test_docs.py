"""The commands in the documents run.

In a fenced block marked `console`, each line that begins with `$ ` is run in the checkout, the
others show what it prints and are not compared. `make` itself is left to whoever runs the tests.
Those of the teacher's manual are one story, which test_manual.py runs.
A command meant to end with another status than 0 says so: `$ command  # exit status 2`.
"""

import os
import re
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[1]
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
STATUS = re.compile(r"\s+# exit status (\d+)$")


class Command(NamedTuple):
    document: str
    text: str
    status: int


def commands_in(document: str, text: str) -> list[Command]:
    found = []
    for block in BLOCK.findall(text):
        for line in block.splitlines():
            if not line.startswith("$ ") or line.startswith("$ make"):
                continue
            status = STATUS.search(line)
            found.append(
                Command(document, STATUS.sub("", line[2:]), int(status[1]) if status else 0)
            )
    return found


def documents() -> list[Path]:
    return [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]


COMMANDS = [
    command
    for path in documents()
    if path.parent.name != "manual"
    for command in commands_in(str(path.relative_to(ROOT)), path.read_text(encoding="utf-8"))
]


def test_the_readme_has_commands() -> None:
    assert any(command.document == "README.md" for command in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: f"{command[0]}: {command[1]}")
def test_command_ends_as_the_document_says(command: Command, tmp_path: Path) -> None:
    programs = str(Path(sys.executable).parent)
    done = subprocess.run(
        ["bash", "-c", command.text],
        cwd=ROOT,
        env={
            **os.environ,
            "PATH": programs + os.pathsep + os.environ["PATH"],
            "XDG_CACHE_HOME": str(tmp_path),
        },
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert done.returncode == command.status, done.stdout + done.stderr


def test_commands_are_found() -> None:
    block = "```console\n$ one --two\nits answer\n$ make demo\n$ three  # exit status 2\n```\n"
    assert commands_in("x.md", block + "$ four\n") == [
        Command("x.md", "one --two", 0),
        Command("x.md", "three", 2),
    ]


@pytest.mark.parametrize("path", documents(), ids=lambda path: str(path.relative_to(ROOT)))
def test_links_lead_to_files(path: Path) -> None:
    for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8")):
        assert (path.parent / target).exists(), target


def test_every_picture_is_shown_and_made_by_a_script() -> None:
    scripts = "".join(path.read_text("utf-8") for path in (ROOT / "scripts").glob("*_pictures.py"))
    tests = (ROOT / "tests" / "cli" / "test_lesson_build.py").read_text(encoding="utf-8")
    shown = "".join(path.read_text(encoding="utf-8") for path in documents())
    for path in (ROOT / "docs" / "pictures").iterdir():
        assert f"pictures/{path.name}" in shown, path
        # A script may put a name together, of a beginning that is its own and the rest.
        stem = path.stem.split("-")
        names = [f'"{path.stem}', path.name]
        names += [f'"{"-".join(stem[:at])}-{{' for at in range(1, len(stem))]
        assert any(name in scripts + tests for name in names), path
