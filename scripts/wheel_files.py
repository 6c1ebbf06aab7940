"""The files that a wheel must hold, and those that it does.

Usage: python -m scripts.wheel_files WHEEL

Prints the wheel's size, and ends with status 1 where a file is missing or too many.
"""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"
BUILT = ("fastness/web/static/", "fastness/web/manual.pdf")
"""What is built before the wheel and not committed; a folder ends with a stroke."""
COMPILED = "fastness/core/_native.abi3.so"


def committed() -> set[str]:
    """The files of the package that git knows, as a wheel names them."""
    listed = subprocess.run(
        ["git", "ls-files", "src/fastness"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return {line.removeprefix("src/") for line in listed.stdout.splitlines()}


def built() -> set[str]:
    """The files of the package that are built before the wheel is."""
    found = [path for one in BUILT for path in [SOURCE / one, *(SOURCE / one).rglob("*")]]
    return {path.relative_to(SOURCE).as_posix() for path in found if path.is_file()}


def faults(wheel: Path) -> list[str]:
    """What is missing in a wheel, and what is too many; empty where all is right."""
    with zipfile.ZipFile(wheel) as files:
        held = {name for name in files.namelist() if ".dist-info/" not in name}
    wanted = committed() | built() | {COMPILED}
    lacking = [one for one in BUILT if not any(name.startswith(one) for name in held)]
    return [
        *(f"nothing of {one} is in it; build it first" for one in lacking),
        *(f"{name} is missing" for name in sorted(wanted - held)),
        *(f"{name} should not be there" for name in sorted(held - wanted)),
    ]


def main() -> None:
    """Tells them."""
    wheel = Path(sys.argv[1])
    found = faults(wheel)
    print("\n".join(found) or f"{wheel}: {wheel.stat().st_size / 1e6:.1f} MB, nothing is missing")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
