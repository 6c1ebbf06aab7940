"""The audit of the parts: what is in order passes, and each kind of fault is noticed."""

import json
import re
import shutil
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest

from scripts.audit import ROOT, Audit, audited, npm, python, rust, vulnerabilities
from scripts.licences import is_allowed

NOWHERE = "http://127.0.0.1:9/v1/querybatch"
HASH = "--hash=sha256:" + "0" * 64


@pytest.mark.parametrize(
    "expression",
    [
        "MIT",
        "MIT OR Secret",
        "MIT/Apache-2.0",
        "(MIT OR Apache-2.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception",
        "Secret OR (MIT AND 0BSD)",
    ],
)
def test_licences_that_can_be_fulfilled(expression: str) -> None:
    assert is_allowed(expression)


@pytest.mark.parametrize(
    "expression",
    [
        "",
        "Secret",
        "MIT AND Secret",
        "(MIT OR Secret) AND Secret",
        "Apache-2.0 WITH Secret",
        "MIT OR",
        "(MIT",
        "MIT)",
        "MIT MIT",
        "MIT; see the file",
        "AND",
    ],
)
def test_licences_that_cannot(expression: str) -> None:
    assert not is_allowed(expression)


def test_the_parts_are_in_order_and_what_was_not_checked_is_said() -> None:
    audit = audited(database=NOWHERE)
    assert audit.faults == []
    assert len(audit.packages) > 250
    assert "known vulnerabilities (127.0.0.1:9 gave no answer)" in audit.unchecked
    assert all(re.search(r"\d", words) for words in audit.checked)


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("rich>=15", "rich>=15 is not pinned"),
        ("rich==15.0.0", "rich has no hash"),
        (f"rich @ https://example.org/rich.whl {HASH}", "not pinned to one version"),
        ("--extra-index-url https://example.org/simple", "not pinned to one version"),
        (f"rich==1.0 {HASH}", "is installed, 1.0 is locked"),
    ],
)
def test_a_python_lock_that_is_not_right(line: str, fault: str, tmp_path: Path) -> None:
    (tmp_path / "run.txt").write_text(f"# a remark\n{line}\n")
    audit = Audit()
    python(audit, tmp_path)
    assert len(audit.faults) == 1
    assert fault in audit.faults[0]


def test_two_locks_that_differ(tmp_path: Path) -> None:
    for name, version in (("dev", "1.0"), ("run", "2.0")):
        (tmp_path / f"{name}.txt").write_text(f"no-such-package=={version} \\\n    {HASH}\n")
    audit = Audit()
    python(audit, tmp_path)
    assert audit.faults == ["run.txt: no-such-package 2.0, elsewhere 1.0"]
    assert audit.unchecked == ["licences of no-such-package (not installed here)"]


def test_a_crate_from_elsewhere(tmp_path: Path) -> None:
    lock = tmp_path / "Cargo.lock"
    written = (ROOT / "Cargo.lock").read_text()
    audit = Audit()
    lock.write_text(written)
    assert rust(audit, lock)
    assert audit.faults == []
    lock.write_text(written.replace("registry+https://github.com", "git+https://example.org", 1))
    rust(audit, lock)
    lock.write_text(re.sub(r'checksum = ".*"\n', "", written, count=1))
    rust(audit, lock)
    lock.write_text(written + '\n[[package]]\nname = "borrowed"\nversion = "1.0.0"\n')
    rust(audit, lock)
    assert [fault.split(": ", 1)[1].split(" ", 1)[1] for fault in audit.faults] == [
        "does not come from crates.io by its checksum",
        "does not come from crates.io by its checksum",
        "comes from a folder",
    ]


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"resolved": "https://example.org/x.tgz"}, "comes from https://example.org"),
        ({"integrity": "sha1-0"}, "has no hash"),
        ({"hasInstallScript": True}, "runs a script"),
        ({"license": "Secret"}, '"Secret"'),
        ({"license": ""}, "no licence that can be read"),
    ],
)
def test_an_npm_package_that_is_not_right(
    change: dict[str, object], fault: str, tmp_path: Path
) -> None:
    told = json.loads((ROOT / "frontend" / "package-lock.json").read_text())
    told["packages"]["node_modules/svelte"] |= change
    lock = tmp_path / "package-lock.json"
    lock.write_text(json.dumps(told))
    audit = Audit()
    npm(audit, lock)
    assert len(audit.faults) == 1
    assert "svelte" in audit.faults[0]
    assert fault in audit.faults[0]


def test_a_licence_that_is_not_allowed_is_noticed_in_the_whole(tmp_path: Path) -> None:
    for name in ("requirements", "fuzz", "frontend"):
        (tmp_path / name).mkdir()
    shutil.copy(ROOT / "Cargo.lock", tmp_path)
    shutil.copy(ROOT / "fuzz" / "Cargo.lock", tmp_path / "fuzz")
    entry = {"version": "1.0", "integrity": "sha512-0", "license": "Secret"}
    lock = {"packages": {"": {}, "node_modules/borrowed": entry}}
    (tmp_path / "frontend" / "package-lock.json").write_text(json.dumps(lock))
    audit = audited(tmp_path, NOWHERE)
    assert len(audit.faults) == 1
    assert "licences of crates (cargo metadata has no answer)" in audit.unchecked


class Database(BaseHTTPRequestHandler):
    """Knows one thing against one package."""

    def do_POST(self) -> None:
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))["queries"]
        results = [
            {"vulns": [{"id": "X-2026-1"}]} if one["package"]["name"] == "rich" else {}
            for one in asked
        ]
        told = json.dumps({"results": results}).encode()
        self.send_response(200)
        self.end_headers()
        self.wfile.write(told if self.path == "/whole" else told[:-3])

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Nothing."""


@pytest.fixture
def database() -> Iterator[str]:
    server = HTTPServer(("127.0.0.1", 0), Database)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


def test_what_is_known_against_a_package_is_a_fault(database: str) -> None:
    audit = Audit(packages={("PyPI", "rich", "15.0.0"), ("npm", "svelte", "5.0.0")})
    vulnerabilities(audit, f"{database}/whole")
    assert audit.faults == ["PyPI: rich 15.0.0 is known for X-2026-1"]
    assert audit.checked == ["known vulnerabilities of 2 packages"]
    assert not audit.unchecked


def test_half_an_answer_is_none(database: str) -> None:
    audit = Audit(packages={("PyPI", "rich", "15.0.0")})
    vulnerabilities(audit, f"{database}/half")
    assert audit.faults == audit.checked == []
    assert len(audit.unchecked) == 1
