"""Who the teacher is, where the workbench is shared: a password, and a signed cookie after it."""

from __future__ import annotations

import json
import os
import secrets
from http.cookies import CookieError, SimpleCookie
from pathlib import Path

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerifyMismatchError
from itsdangerous import BadSignature, TimestampSigner, URLSafeTimedSerializer

from fastness.errors import InputError, StoreError

COOKIE = "fastness"
HOURS = 12
"""How long the teacher stays logged in."""
SHORTEST = 8
"""Letters that a password has at least."""
LONGEST = 200
DAYS = 60
"""How long a link for students is good."""


class Access:
    """The password and the secret of one workbench, kept in a file that only its owner may read."""

    def __init__(self, place: Path) -> None:
        """Kept at `place`, which need not be there yet.

        Raises StoreError where it cannot be read.
        """
        self.place = place
        try:
            told = json.loads(place.read_text("utf-8")) if place.exists() else {}
            self._password: str | None = told.get("password")
            self._secret: str = told.get("secret") or secrets.token_hex(32)
        except (OSError, ValueError, AttributeError) as error:
            raise StoreError(f"{place}: the password cannot be read; remove the file") from error

    @property
    def has_password(self) -> bool:
        """Whether there is a password."""
        return self._password is not None

    def set_password(self, password: str) -> None:
        """Keep a new password; whoever is logged in no longer is, and no link is good any more.

        Raises InputError where it is too short, StoreError where it cannot be kept.
        """
        if not SHORTEST <= len(password) <= LONGEST:
            raise InputError(f"a password has {SHORTEST} to {LONGEST} letters")
        self._password, self._secret = PasswordHasher().hash(password), secrets.token_hex(32)
        told = json.dumps({"password": self._password, "secret": self._secret})
        part = self.place.with_name(f"{self.place.name}.part")
        try:
            self.place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            part.unlink(missing_ok=True)
            with os.fdopen(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w") as file:
                file.write(told)
            part.replace(self.place)
        except OSError as error:
            raise StoreError(f"{self.place}: {error.strerror}") from error

    def is_password(self, password: str) -> bool:
        """Whether this is the password; it takes some hundredths of a second in any case."""
        hasher = PasswordHasher()
        if self._password is None or len(password) > LONGEST:
            return False
        try:
            return hasher.verify(self._password, password)
        except (VerifyMismatchError, InvalidHashError):
            return False

    def cookie(self) -> str:
        """What the teacher's browser shows from now on."""
        return TimestampSigner(self._secret, salt="teacher").sign("teacher").decode()

    def is_teacher(self, cookies: str) -> bool:
        """Whether the Cookie header of a request shows the teacher's cookie."""
        try:
            shown = SimpleCookie(cookies).get(COOKIE)
        except CookieError:
            return False
        if shown is None:
            return False
        try:
            TimestampSigner(self._secret, salt="teacher").unsign(shown.value, HOURS * 3600)
        except BadSignature:
            return False
        return True

    def link(self, what: dict[str, str | int]) -> str:
        """A word for an address that shows what it names to whoever has it, for `DAYS` days."""
        signed = URLSafeTimedSerializer(self._secret, salt="shared").dumps(what)
        return str(signed)

    def linked(self, word: str) -> dict[str, str | int] | None:
        """What a word names; None where it was not made here, or is too old."""
        try:
            told = URLSafeTimedSerializer(self._secret, salt="shared").loads(word, DAYS * 86400)
        except BadSignature:
            return None
        return told if isinstance(told, dict) else None
