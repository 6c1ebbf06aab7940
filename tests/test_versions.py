"""One version everywhere, and locks that agree."""

import re
import tomllib
from importlib.metadata import version
from pathlib import Path

import fastness
from fastness import core

ROOT = Path(__file__).parents[1]


def test_package_core_and_metadata_have_one_version() -> None:
    workspace = tomllib.loads((ROOT / "Cargo.toml").read_text())["workspace"]
    assert (
        fastness.__version__
        == core.version()
        == version("fastness")
        == workspace["package"]["version"]
    )


def test_locks_agree_on_every_version() -> None:
    pins: dict[str, set[str]] = {}
    for lock in sorted((ROOT / "requirements").glob("*.txt")):
        for name, pinned in re.findall(r"^([\w.-]+)==([\w.]+)", lock.read_text(), re.MULTILINE):
            pins.setdefault(name, set()).add(pinned)
    assert "chess" in pins
    assert {name for name, versions in pins.items() if len(versions) > 1} == set()


def test_locks_hold_hashes_and_no_address() -> None:
    for lock in sorted((ROOT / "requirements").glob("*.txt")):
        text = lock.read_text()
        for block in re.split(r"\n(?=\S)", text):
            assert block.startswith("#") or "--hash=sha256:" in block, f"{lock.name}: {block}"
        assert not re.search(r"://|--(extra-)?index|--find-links|-f ", text), lock.name
