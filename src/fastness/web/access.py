"""Who the teacher is, where the workbench is shared: a password, and a signed cookie after it."""

from __future__ import annotations

import base64
import datetime
import hmac
import json
import os
import secrets
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Literal

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerifyMismatchError
from itsdangerous import BadSignature, TimestampSigner

from fastness.errors import InputError, StoreError

COOKIE = "fastness"
HOURS = 12
"""How long the teacher stays logged in."""
SHORTEST = 8
"""Letters that a password has at least."""
LONGEST = 200
DAYS = 60
"""How long a link for students is good."""
FIRST_DAY = datetime.date(2020, 1, 1)
MARK = 8
"""Bytes of the HMAC in a link."""

Kind = Literal["s", "p", "b", "h"]
"""What a link names: a report for a student or for parents, a class board, a student's homework."""
KINDS: tuple[Kind, ...] = ("s", "p", "b", "h")


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
            self._links: str = told.get("links") or secrets.token_hex(32)
        except (OSError, ValueError, AttributeError) as error:
            raise StoreError(f"{place}: the password cannot be read; remove the file") from error

    @property
    def has_password(self) -> bool:
        """Whether there is a password."""
        return self._password is not None

    def set_password(self, password: str) -> None:
        """Keep a new password; whoever is logged in no longer is.

        Raises InputError where it is too short, StoreError where it cannot be kept.
        """
        if not SHORTEST <= len(password) <= LONGEST:
            raise InputError(f"a password has {SHORTEST} to {LONGEST} letters")
        self._password, self._secret = PasswordHasher().hash(password), secrets.token_hex(32)
        self._keep()

    def keep_links(self) -> None:
        """See to it that the words given out are good when the workbench is started again.

        Raises StoreError where that cannot be kept.
        """
        if not self.place.exists():
            self._keep()

    def _keep(self) -> None:
        kept = {"password": self._password, "secret": self._secret, "links": self._links}
        told = json.dumps(kept)
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

    def word(self, kind: Kind, number: int, today: datetime.date | None = None) -> str:
        """A word for an address that shows what has this number to whoever has the word.

        It is short, since it is typed from paper: what it names and the day it was made, with 64
        bits of an HMAC (RFC 2104). It is good for `DAYS` days.
        """
        day = ((today or datetime.date.today()) - FIRST_DAY).days
        told = kind.encode() + day.to_bytes(2, "big") + number.to_bytes(4, "big").lstrip(b"\0")
        letters = base64.b32encode(told + self._mark(told)).decode().rstrip("=").lower()
        return "-".join(letters[at : at + 5] for at in range(0, len(letters), 5))

    def named(self, word: str, today: datetime.date | None = None) -> tuple[Kind, int] | None:
        """What a word names; None where it was not made here, or is too old."""
        letters = word.replace("-", "").upper()
        try:
            data = base64.b32decode(letters + "=" * (-len(letters) % 8))
        except ValueError:
            return None
        # Letters may differ in bits that stand for nothing; then it is another word.
        if base64.b32encode(data).decode().rstrip("=") != letters:
            return None
        told, mark = data[:-MARK], data[-MARK:]
        kind = next((one for one in KINDS if one.encode() == told[:1]), None)
        if kind is None or not hmac.compare_digest(mark, self._mark(told)):
            return None
        made = FIRST_DAY + datetime.timedelta(int.from_bytes(told[1:3], "big"))
        if not 0 <= ((today or datetime.date.today()) - made).days <= DAYS:
            return None
        return kind, int.from_bytes(told[3:], "big")

    def withdraw(self) -> None:
        """Let no word given out be good any more. Raises StoreError if that cannot be kept."""
        self._links = secrets.token_hex(32)
        self._keep()

    def _mark(self, told: bytes) -> bytes:
        return hmac.digest(bytes.fromhex(self._links), told, "sha256")[:MARK]
