"""Looks over what the program is made of: where it comes from, under which licence, what is known.

`make lint` runs it. Every package of the lock files has to come from the registry of its language
by its hash, in one version, under a licence that is allowed. Known vulnerabilities are asked of the
open database osv.dev where it can be reached; where not, that is said, and is no failure.
"""

from __future__ import annotations

import argparse
import importlib.metadata
import json
import re
import subprocess
import sys
import tomllib
import urllib.request
from dataclasses import dataclass, field
from pathlib import Path

from scripts.licences import is_allowed, of_python_package

ROOT = Path(__file__).parents[1]
DATABASE = "https://api.osv.dev/v1/querybatch"
PATIENCE = 5
"""Seconds that the database is waited for."""
CRATES = "registry+https://github.com/rust-lang/crates.io-index"
NPM = "https://registry.npmjs.org/"
SCRIPTS = {"node_modules/fsevents"}
"""npm packages that may run a script of their own when they are installed; this one on macOS."""

_PINNED = re.compile(r"([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==([^\s;\\]+)")


@dataclass
class Audit:
    """What was found, what was looked at, and what could not be."""

    faults: list[str] = field(default_factory=list)
    checked: list[str] = field(default_factory=list)
    unchecked: list[str] = field(default_factory=list)
    packages: set[tuple[str, str, str]] = field(default_factory=set)
    """Ecosystem (as osv.dev names it), name and version."""

    def licence(self, where: str, package: str, expression: str) -> None:
        """Notes a licence that is not allowed."""
        if not is_allowed(expression):
            named = f'"{expression}"' if expression else "no licence that can be read"
            self.faults.append(f"{where}: {package} has {named}; see scripts/licences.py")


def python(audit: Audit, folder: Path) -> None:
    """The lock files of Python: pinned with hashes, no other source, licences as installed."""
    pinned: dict[str, str] = {}
    for path in sorted(folder.glob("*.txt")):
        for name, version in _locked(audit, path):
            if pinned.setdefault(name, version) != version:
                audit.faults.append(f"{path.name}: {name} {version}, elsewhere {pinned[name]}")
    audit.packages |= {("PyPI", name, version) for name, version in pinned.items()}
    absent = []
    for name, version in sorted(pinned.items()):
        try:
            found = importlib.metadata.distribution(name)
        except importlib.metadata.PackageNotFoundError:
            absent.append(name)
            continue
        if found.version != version:
            audit.faults.append(f"{name} {found.version} is installed, {version} is locked")
        audit.licence("Python", f"{name} {version}", of_python_package(found.metadata))
    audit.checked.append(f"{len(pinned)} Python packages ({len(pinned) - len(absent)} licences)")
    if absent:
        audit.unchecked.append(f"licences of {', '.join(absent)} (not installed here)")


def _locked(audit: Audit, path: Path) -> list[tuple[str, str]]:
    found = []
    joined = re.sub(r"\\\n", " ", path.read_text(encoding="utf-8"))
    for line in joined.splitlines():
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        pinned = _PINNED.match(line)
        if not pinned or "://" in line or " @ " in line:
            audit.faults.append(f"{path.name}: {line.split()[0]} is not pinned to one version")
        elif "--hash=sha256:" not in line:
            audit.faults.append(f"{path.name}: {pinned[1]} has no hash")
        else:
            found.append((re.sub(r"[-_.]+", "-", pinned[1]).lower(), pinned[2]))
    return found


def rust(audit: Audit, lock: Path) -> set[tuple[str, str]]:
    """A lock file of Cargo: each package from crates.io with its checksum, or our own."""
    packages = set()
    for package in tomllib.loads(lock.read_text(encoding="utf-8"))["package"]:
        name, version = package["name"], package["version"]
        if "source" not in package:
            if not name.startswith("fastness-"):
                audit.faults.append(f"{lock}: {name} comes from a folder")
            continue
        if package["source"] != CRATES or "checksum" not in package:
            audit.faults.append(f"{lock}: {name} does not come from crates.io by its checksum")
        packages.add((name, version))
    audit.packages |= {("crates.io", name, version) for name, version in packages}
    return packages


def rust_licences(audit: Audit, packages: set[tuple[str, str]], folder: Path) -> None:
    """The licences of the crates that are built on this machine."""
    host = re.search(r"host: (\S+)", _run(["rustc", "-vV"], folder))
    command = ["cargo", "metadata", "--locked", "--offline", "--format-version", "1"]
    told = _run([*command, "--filter-platform", host[1] if host else ""], folder)
    if not told:
        audit.unchecked.append("licences of crates (cargo metadata has no answer)")
        return
    read = set()
    for package in json.loads(told)["packages"]:
        name, version = package["name"], package["version"]
        if (name, version) in packages:
            read.add((name, version))
            audit.licence("Rust", f"{name} {version}", package.get("license") or "")
    audit.checked.append(f"{len(packages)} crates ({len(read)} licences)")
    if absent := sorted(name for name, _ in packages - read):
        audit.unchecked.append(f"licences of {', '.join(absent)} (not built here)")


def _run(command: list[str], folder: Path) -> str:
    try:
        done = subprocess.run(
            command, cwd=folder, capture_output=True, text=True, timeout=50, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout if done.returncode == 0 else ""


def npm(audit: Audit, lock: Path) -> None:
    """The lock file of npm: each package from its registry by its hash, no scripts, licences."""
    packages = json.loads(lock.read_text(encoding="utf-8"))["packages"]
    count = 0
    for path, package in packages.items():
        if not path:
            continue
        name, count = path.rpartition("node_modules/")[2], count + 1
        version = package.get("version", "")
        if not package.get("resolved", NPM).startswith(NPM) or package.get("link"):
            audit.faults.append(f"{lock.name}: {name} comes from {package.get('resolved')}")
        if not package.get("integrity", "").startswith("sha512-"):
            audit.faults.append(f"{lock.name}: {name} has no hash")
        if package.get("hasInstallScript") and path not in SCRIPTS:
            audit.faults.append(f"{lock.name}: {name} runs a script when it is installed")
        audit.licence(lock.name, f"{name} {version}", package.get("license", ""))
        audit.packages.add(("npm", name, version))
    audit.checked.append(f"{count} npm packages ({count} licences)")


def vulnerabilities(audit: Audit, database: str = DATABASE) -> None:
    """What osv.dev knows of the packages, where it can be reached."""
    packages = sorted(audit.packages)
    queries = [
        {"package": {"ecosystem": kind, "name": name}, "version": version}
        for kind, name, version in packages
    ]
    request = urllib.request.Request(
        database,
        json.dumps({"queries": queries}).encode(),
        {"Content-Type": "application/json", "User-Agent": "fastness-audit"},
    )
    try:
        with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
            results = json.load(answer)["results"]
        known = [[one["id"] for one in result.get("vulns", [])] for result in results]
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        known = []
    if len(known) != len(packages):
        host = database.split("/")[2]
        audit.unchecked.append(f"known vulnerabilities ({host} gave no answer)")
        return
    for (kind, name, version), ids in zip(packages, known, strict=True):
        if ids:
            audit.faults.append(f"{kind}: {name} {version} is known for {', '.join(ids)}")
    audit.checked.append(f"known vulnerabilities of {len(packages)} packages")


def audited(root: Path = ROOT, database: str = DATABASE) -> Audit:
    """Everything together, for the checkout in `root`."""
    audit = Audit()
    python(audit, root / "requirements")
    rust_licences(audit, rust(audit, root / "Cargo.lock"), root)
    fuzzing = rust(audit, root / "fuzz" / "Cargo.lock")
    audit.checked.append(f"{len(fuzzing)} crates of fuzz/ (no licences: not built here)")
    npm(audit, root / "frontend" / "package-lock.json")
    vulnerabilities(audit, database)
    audit.unchecked.append("whether a release was withdrawn")
    return audit


def main() -> int:
    """Prints what was found; 1 if anything was."""
    argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None).parse_args()
    audit = audited()
    for fault in audit.faults:
        print(f"audit: {fault}", file=sys.stderr)
    unchecked = f" Not checked: {'; '.join(audit.unchecked)}." if audit.unchecked else ""
    print(f"audit: checked {'; '.join(audit.checked)}.{unchecked}")
    return 1 if audit.faults else 0


if __name__ == "__main__":
    sys.exit(main())
