"""What is kept of the erased: enough to know their games again, and not their names."""

from __future__ import annotations

import dataclasses
import functools
import hashlib
import re
import secrets
import unicodedata
from collections.abc import Iterable

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.intake import Game
from fastness.store import tables
from fastness.store.naming import Naming
from fastness.store.students import find_student, forms
from fastness.store.tables import Alias, Erased, Student

NOBODY = "A former student"
"""Stands, with a number, in games that another student also played, in place of the name."""
SIDES: tuple[tuple[Side, str], ...] = (("white", "White"), ("black", "Black"))
# 4 MiB and some milliseconds a guess (RFC 7914): a name is known again at once, but whoever
# tries a list of names has to wait for it.
_SCRYPT = {"n": 2**12, "r": 8, "p": 1, "dklen": 32}


def is_nobody(name: str) -> bool:
    """Whether a name stands for an erased student."""
    return re.fullmatch(rf"{NOBODY} \d+", " ".join(name.split())) is not None


def remember(session: Session, names: Iterable[str]) -> int:
    """Keep marks of the names of one student; the number by which the games call that one."""
    names = list(names)
    known = [number for name in names if (number := number_of(session, name)) is not None]
    number = known[0] if known else _next_number(session)
    salt = session.scalar(select(Erased.salt)) or secrets.token_hex(16)
    marks = {_mark(form, salt) for name in names for form in forms(name)}
    marks -= set(session.scalars(select(Erased.mark)))
    session.add_all(Erased(number=number, salt=salt, mark=mark) for mark in sorted(marks))
    session.flush()
    return number


def number_of(session: Session, name: str) -> int | None:
    """The number of the erased student of this name, or None if nobody of it was erased."""
    salts = session.scalars(select(Erased.salt).distinct()).all()
    marks = [_mark(form, salt) for salt in salts for form in forms(name)]
    return session.scalar(select(Erased.number).where(Erased.mark.in_(marks))) if marks else None


def _next_number(session: Session) -> int:
    """One that no erased student has, in games from before there were marks either."""
    told = session.execute(select(tables.Game.white, tables.Game.black)).all()
    used = [int(name.split()[-1]) for names in told for name in names if is_nobody(name)]
    used += [session.scalar(select(func.max(Erased.number))) or 0]
    used += [session.scalar(select(func.max(Student.id))) or 0]
    return max(used) + 1


@functools.lru_cache(maxsize=1 << 14)
def _mark(form: str, salt: str) -> str:
    text = unicodedata.normalize("NFC", form).encode("utf-8")
    return hashlib.scrypt(text, salt=bytes.fromhex(salt), **_SCRYPT).hex()


def unnamed(session: Session, game: Game) -> Game:
    """A game that comes in, without the names of the erased who are not students again."""
    for side, tag in SIDES:
        name = game.tags.get(tag, "?")
        number = _erased(session, name)
        if number is not None:
            known = session.scalars(select(Alias.name)).all()
            game = without_player(game, side, Naming([name], known), f"{NOBODY} {number}")
    annotator = game.tags.get("Annotator", "?")
    number = _erased(session, annotator)
    if number is not None:
        game = without_name(game, Naming([annotator], ()), f"{NOBODY} {number}")
    return game


def _erased(session: Session, name: str) -> int | None:
    if not name.strip(" ?") or find_student(session, name) is not None:
        return None
    return number_of(session, name)


def without_player(game: Game, side: Side, naming: Naming, nobody: str) -> Game:
    """A game without the name of the player of a side, and without that side's other tags.

    These tell a rating, a title, a team or a number in somebody's list.
    """
    tag = dict(SIDES)[side]
    tags = {key: value for key, value in game.tags.items() if not _is_about(key, tag)}
    clean = without_name(dataclasses.replace(game, tags=tags), naming, nobody, parts=True)
    # The other player's own name stays as it is, whatever words the two share.
    kept = {key: value for key, value in tags.items() if key in ("White", "Black")}
    return dataclasses.replace(clean, tags={**clean.tags, **kept, tag: nobody})


def _is_about(key: str, player: str) -> bool:
    """Whether a tag tells something of a player besides the name."""
    return key.startswith(player) and key != player


def without_name(game: Game, naming: Naming, nobody: str, *, parts: bool = False) -> Game:
    """A game with a name taken out of all its tags and comments."""

    def told(comment: re.Match[str]) -> str:
        return naming.without(comment[0], nobody, parts=parts)

    beside = tuple(re.sub(r"\{[^}]*\}", told, text) for text in game.beside)
    tags = naming.without_in(game.tags, nobody, parts=parts)
    return dataclasses.replace(game, tags=tags, beside=beside)
