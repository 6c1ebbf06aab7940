"""Backups that only a passphrase opens: AES-256 in Galois/counter mode, NIST SP 800-38D."""

from __future__ import annotations

import os
from pathlib import Path

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from fastness.errors import StoreError

# A file begins with these bytes, then the salt, the nonce, and the sealed store.
SEALED = b"fastness sealed store 1\n"
_SALT, _NONCE = 16, 12
# Memory 64 MiB: Percival and Josefsson 2016 (RFC 7914) with N = 2**16, r = 8, p = 1.
_SCRYPT = {"length": 32, "n": 2**16, "r": 8, "p": 1}


def _key(passphrase: str, salt: bytes) -> bytes:
    return Scrypt(salt=salt, **_SCRYPT).derive(passphrase.encode("utf-8"))


def seal(data: bytes, passphrase: str) -> bytes:
    """A store's bytes, to be read with the passphrase alone."""
    salt, nonce = os.urandom(_SALT), os.urandom(_NONCE)
    return SEALED + salt + nonce + AESGCM(_key(passphrase, salt)).encrypt(nonce, data, SEALED)


def unseal(data: bytes, passphrase: str | None, backup: Path) -> bytes:
    """The store in a sealed backup.

    Raises StoreError where the passphrase is missing or wrong, or the file is damaged.
    """
    if passphrase is None:
        raise StoreError(f"{backup} is sealed; give the passphrase it was made with")
    start = len(SEALED)
    salt, nonce = data[start : start + _SALT], data[start + _SALT : start + _SALT + _NONCE]
    try:
        return AESGCM(_key(passphrase, salt)).decrypt(nonce, data[start + _SALT + _NONCE :], SEALED)
    except (InvalidTag, ValueError) as error:
        raise StoreError(f"{backup}: the passphrase is wrong, or the file is damaged") from error
