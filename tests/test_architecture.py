"""The invariants of ARCHITECTURE.md have tests, and the source keeps to the walls it describes."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "fastness"
FOLDERS = ("src", "tests", "scripts", "benches")
PYTHON_FILES = sorted(path for folder in FOLDERS for path in (ROOT / folder).rglob("*.py"))
MANIFESTS = sorted((ROOT / "crates").glob("*/Cargo.toml"))
RUST_FILES = sorted((ROOT / "crates").rglob("*.rs"))
# A test is named as pytest or as cargo would: `tests/x.py::test_y`, `crates/x/src/y.rs::z`.
TEST_NAME = re.compile(r"`((?:tests|crates)/[\w./-]+)::(\w+)`")


def invariants() -> list[str]:
    text = (ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line.startswith("Invariant:")]


def test_there_are_invariants() -> None:
    assert len(invariants()) >= 5


@pytest.mark.parametrize("line", invariants())
def test_each_invariant_names_a_test_that_exists(line: str) -> None:
    names = TEST_NAME.findall(line)
    assert names, "the line names no test"
    for file, function in names:
        assert (ROOT / file).is_file(), f"{file} is not there"
        assert function in named_tests(ROOT / file), f"{file} has no test {function}"


def named_tests(file: Path) -> set[str]:
    text = file.read_text(encoding="utf-8")
    if file.suffix == ".rs":
        return set(re.findall(r"#\[test\]\s*(?:#\[[^\]]*\]\s*)*fn (\w+)", text))
    return {
        node.name
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    }


@pytest.mark.parametrize("file", PYTHON_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_only_core_imports_the_compiled_part(file: Path) -> None:
    if file.is_relative_to(SOURCE / "core"):
        return
    assert [name for name in imported(file) if "_native" in name.split(".")] == []


def imported(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module or ''}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize(
    "file",
    [
        path
        for folder in ("survey", "sift", "record")
        for path in sorted((SOURCE / folder).rglob("*.py"))
    ],
    ids=lambda path: str(path.relative_to(SOURCE)),
)
def test_survey_and_sift_neither_open_nor_print(file: Path) -> None:
    # The imports that could do it are forbidden by the import rules in pyproject.toml.
    called = {
        node.func.id
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert called.isdisjoint({"open", "print", "input", "exec", "eval", "__import__"})


@pytest.mark.parametrize("manifest", MANIFESTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_crate_takes_the_lints_of_the_workspace(manifest: Path) -> None:
    assert tomllib.loads(manifest.read_text(encoding="utf-8")).get("lints") == {"workspace": True}


@pytest.mark.parametrize("file", RUST_FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_rust_test_is_passed_over(file: Path) -> None:
    assert "#[ignore" not in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "file", PYTHON_FILES + RUST_FILES, ids=lambda path: str(path.relative_to(ROOT))
)
def test_a_file_can_be_read_in_one_sitting(file: Path) -> None:
    assert len(file.read_text(encoding="utf-8").splitlines()) < 300
