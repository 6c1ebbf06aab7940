"""What a wheel must hold; `make test-wheel` builds one and tries it."""

import tomllib
import zipfile
from pathlib import Path

from scripts.wheel_files import BUILT, COMPILED, ROOT, SOURCE, built, committed, faults

PACKAGE = "/src/fastness/"


def wheel(folder: Path, names: set[str]) -> Path:
    path = folder / "fastness-0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as files:
        for name in {*names, "fastness-0.dist-info/METADATA"}:
            files.writestr(name, "x")
    return path


def test_all_that_is_built_and_not_committed_is_taken_in() -> None:
    lines = (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()
    ignored = {line.removeprefix("/src/") for line in lines if line.startswith(PACKAGE)}
    assert ignored == set(BUILT)
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    taken = {one["path"] for one in settings["tool"]["maturin"]["include"]}
    assert taken == {f"src/{one}**/*" if one.endswith("/") else f"src/{one}" for one in BUILT}


def test_no_module_looks_outside_the_package() -> None:
    for path in (SOURCE / "fastness").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert "__file__).parents" not in text, path
        assert "__file__).parent.parent" not in text, path


def test_what_is_missing_or_too_many_is_told(tmp_path: Path) -> None:
    right = committed() | built() | {COMPILED, "fastness/web/manual.pdf"}
    missing = wheel(tmp_path, right - {"fastness/publish/document.typ"} | {"fastness/notes.txt"})
    told = faults(missing)
    assert "fastness/publish/document.typ is missing" in told
    assert any(one.startswith("fastness/notes.txt should not") for one in told)
    no_manual = wheel(tmp_path, right - {"fastness/web/manual.pdf"})
    assert "nothing of fastness/web/manual.pdf is in it; build it first" in faults(no_manual)
