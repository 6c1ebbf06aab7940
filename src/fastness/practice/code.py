"""The word on a student's slip, and the code that brings the answers back."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Collection
from dataclasses import dataclass

from fastness.errors import CodeError
from fastness.practice.letters import (
    ALPHABET,
    BASE,
    as_letters,
    as_number,
    checked,
    checked_once,
    grouped,
    is_checked,
    is_checked_once,
    tidied,
)

HOMEWORK, STUDENT, KEY, SEAL, CHECK = 3, 2, 3, 3, 2
"""Letters of a code or word: the homework's number, the student's, the key, the seal, the check."""
MOST_HOMEWORK = BASE**HOMEWORK
MOST_STUDENTS = BASE**STUDENT


@dataclass(frozen=True, slots=True)
class Code:
    """A code that was read: nothing is mistyped, but whose it is has not been looked at.

    `answers` is the number of `choices.as_one_number`, `seal` what only the student's key makes.
    """

    homework: int
    student: int
    answers: int
    seal: str


def new_number(taken: Collection[int], most: int) -> int:
    """A number below `most` that is not taken, by chance."""
    free = [number for number in range(most) if number not in taken]
    if not free:
        raise CodeError(f"all {most} numbers are in use")
    return secrets.choice(free)


def new_key() -> str:
    """A student's key, by chance."""
    return "".join(secrets.choice(ALPHABET) for _ in range(KEY))


def word_of(student: int, key: str) -> str:
    """The word on the slip: the student's number, the key, and a letter that catches typing errors.

    ``K4HM-7X``
    """
    return grouped(checked_once(as_letters(student, STUDENT) + key))


def read_word(text: str) -> tuple[int, str]:
    """The student's number and key in a word as it was typed. Raises CodeError."""
    letters = tidied(text)
    if len(letters) != STUDENT + KEY + 1 or not is_checked_once(letters):
        raise CodeError(f'"{text.strip()}" is no word of a slip; look at it letter by letter')
    return as_number(letters[:STUDENT]), letters[STUDENT : STUDENT + KEY]


def write_code(homework: int, student: int, key: str, answers: int) -> str:
    """The code of a student's answers, in groups of four.

    The homework's number, the student's, the answers, a seal made with the key, and a check.
    """
    body = as_letters(homework, HOMEWORK) + as_letters(student, STUDENT) + as_letters(answers)
    return grouped(checked(body + seal_of(body, key)))


def read_code(text: str) -> Code:
    """A code as it was typed or pasted, in large or small letters, with or without hyphens.

    Raises CodeError where something was mistyped or left out.
    """
    letters = tidied(text)
    if len(letters) < HOMEWORK + STUDENT + SEAL + CHECK:
        raise CodeError(f'"{text.strip()}" is too short for a code; is a part of it missing?')
    if not is_checked(letters):
        raise CodeError(f"{grouped(letters)} has a letter that is not right; compare them in turn")
    body, seal = letters[: -SEAL - CHECK], letters[-SEAL - CHECK : -CHECK]
    answers = body[HOMEWORK + STUDENT :]
    if answers.startswith(ALPHABET[0]):
        # Numbers are written without leading zeros, so that each has one code.
        raise CodeError(f"{grouped(letters)} is no code that a page gives")
    homework, student = body[:HOMEWORK], body[HOMEWORK : HOMEWORK + STUDENT]
    return Code(as_number(homework), as_number(student), as_number(answers), seal)


def is_sealed_by(code: Code, key: str) -> bool:
    """Whether a code was made with this key."""
    body = as_letters(code.homework, HOMEWORK) + as_letters(code.student, STUDENT)
    return seal_of(body + as_letters(code.answers), key) == code.seal


def seal_of(body: str, key: str) -> str:
    """Three letters of the SHA-256 hash (FIPS 180-4) of a code's letters and the key."""
    digest = hashlib.sha256(f"{key}:{body}".encode("ascii")).digest()
    return as_letters(int.from_bytes(digest[:6]) % BASE**SEAL, SEAL)
