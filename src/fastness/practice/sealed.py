"""Explanations that do not stand in the page in plain: each opens with the answer it belongs to.

This keeps them from whoever looks at the page's source. It keeps nothing from one who writes a
program to try every answer: whatever a page can open, its reader can.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping

_BLOCK = 32
"""Bytes of a SHA-256 hash (FIPS 180-4)."""


def seal_all(texts: Mapping[str, str], salt: str, place: int) -> dict[str, str]:
    """Each text sealed with its answer, in base64; all of the same length, filled with spaces.

    `salt` is the homework's, `place` that of the exercise in it.
    """
    plain = {answer: text.encode() for answer, text in texts.items()}
    longest = max(map(len, plain.values()), default=0)
    return {
        answer: base64.b64encode(
            _combined(text.ljust(longest), key_of(salt, place, answer))
        ).decode("ascii")
        for answer, text in plain.items()
    }


def unseal(sealed: str, salt: str, place: int, answer: str) -> str:
    """What `seal_all` sealed with this answer; with another it is nothing that can be read."""
    plain = _combined(base64.b64decode(sealed), key_of(salt, place, answer))
    return plain.decode(errors="replace").rstrip(" ")


def key_of(salt: str, place: int, answer: str) -> bytes:
    """The key of an answer."""
    return hashlib.sha256(f"{salt}:{place}:{answer}".encode()).digest()


def _combined(data: bytes, key: bytes) -> bytes:
    """Data combined with the hashes of the key and 0, 1, 2 and so on; twice gives it back."""
    stream = b"".join(
        hashlib.sha256(key + block.to_bytes(4)).digest()
        for block in range((len(data) + _BLOCK - 1) // _BLOCK)
    )
    return bytes(one ^ other for one, other in zip(data, stream, strict=False))
