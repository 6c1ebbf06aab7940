"""Which licences a part of fastness may have, and how a package's own words name them.

fastness is free under GPL-3.0-or-later; what stands here may be built into it or used to make and
test it (the list of the Free Software Foundation, from memory). A new licence is added by hand,
after its text was read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import PackageMetadata

ALLOWED = frozenset({
    "0BSD", "Apache-2.0", "BlueOak-1.0.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0",
    "GPL-3.0-or-later", "ISC", "LGPL-3.0-only", "MIT", "MIT-0", "MPL-2.0", "NCSA", "OFL-1.1",
    "PSF-2.0", "Python-2.0", "Unicode-3.0", "Unlicense", "Zlib",
})  # fmt: skip
EXCEPTIONS = frozenset({"LLVM-exception"})
"""What may follow WITH: an exception only ever allows more."""

_CLASSIFIED = {
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "GNU General Public License v3 or later (GPLv3+)": "GPL-3.0-or-later",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
_OLD_FIELD = {"BSD": "BSD-3-Clause"}
_TOKEN = re.compile(r"\(|\)|[A-Za-z0-9.+-]+")


def is_allowed(expression: str) -> bool:
    """Whether an SPDX expression can be fulfilled by licences that are allowed.

    Of licences joined by OR one is enough, of those joined by AND each is needed. What is no
    expression is not allowed.
    """
    # Rust packages of old wrote a stroke for OR.
    tokens = _TOKEN.findall(expression.replace("/", " OR "))
    if not tokens or "".join(tokens) != re.sub(r"\s", "", expression.replace("/", "OR")):
        return False
    reading = iter([*tokens, ""])
    try:
        allowed, following = _either(next(reading), reading)
    except StopIteration:
        return False
    return allowed and following == ""


def _either(token: str, reading: Iterator[str]) -> tuple[bool, str]:
    allowed, token = _both(token, reading)
    while token == "OR":
        other, token = _both(next(reading), reading)
        allowed = allowed or other
    return allowed, token


def _both(token: str, reading: Iterator[str]) -> tuple[bool, str]:
    allowed, token = _one(token, reading)
    while token == "AND":
        other, token = _one(next(reading), reading)
        allowed = allowed and other
    return allowed, token


def _one(token: str, reading: Iterator[str]) -> tuple[bool, str]:
    if token == "(":
        allowed, token = _either(next(reading), reading)
        return allowed and token == ")", next(reading)
    allowed, token = token in ALLOWED, next(reading)
    if token == "WITH":
        return allowed and next(reading) in EXCEPTIONS, next(reading)
    return allowed, token


def of_python_package(metadata: PackageMetadata) -> str:
    """The licence of an installed package as SPDX, from the newest of the fields that name it.

    Where only classifiers or the old field do, as it was translated here; empty where none does.
    """
    for expression in metadata.get_all("License-Expression", []):
        return str(expression)
    named = [line.rsplit(" :: ", 1)[-1] for line in metadata.get_all("Classifier", [])
             if line.startswith("License :: ")]  # fmt: skip
    known = [_CLASSIFIED.get(name, name) for name in named if name != "OSI Approved"]
    if known:
        return " AND ".join(known)
    field = "".join(metadata.get_all("License", [])).strip()
    return _OLD_FIELD.get(field, field)
