"""Numbers as letters to be copied by hand, with letters at the end that catch what was mistyped.

A text is a polynomial over the whole numbers modulo 23, a letter a coefficient. Two letters at its
end make it 0 at 5 and at 7 (a Reed-Solomon code, Reed and Solomon 1960); one letter alone makes it
0 at 5. Since 5 and 7 are not 0 modulo 23, one letter changed never goes unnoticed; since they are
not 1, neither do two different neighbours that change places.
"""

from __future__ import annotations

from collections.abc import Sequence

from fastness.errors import CodeError

ALPHABET = "23456789ACDEFHJKMPRTWXY"
"""23 letters, a prime number. Of any that look alike one at most is here: neither 0, O, Q nor 1,
I, L; 2 without Z, 5 without S, 8 without B, 6 without G, M without N, Y without V and U."""
BASE = len(ALPHABET)
GROUP = 4
_AT, _AT_TOO = 5, 7
_HALF = pow(_AT_TOO - _AT, -1, BASE)


def as_letters(number: int, least: int = 0) -> str:
    """A number of 0 or more in letters, the highest first; at least `least` of them."""
    letters = ""
    while number:
        number, digit = divmod(number, BASE)
        letters = ALPHABET[digit] + letters
    return letters.rjust(least, ALPHABET[0])


def as_number(letters: str) -> int:
    """The number that `as_letters` wrote."""
    number = 0
    for letter in letters:
        number = number * BASE + ALPHABET.index(letter)
    return number


def tidied(text: str) -> str:
    """The letters of a code as it was typed, without spaces, hyphens and the like.

    Raises CodeError with a letter that no code has.
    """
    letters = "".join(letter for letter in text.upper() if letter.isalnum())
    for letter in letters:
        if letter not in ALPHABET:
            raise CodeError(
                f'no code has "{letter}" in it; the letters are {ALPHABET}. Look at it again.'
            )
    return letters


def grouped(letters: str) -> str:
    """Letters in groups of four, ``K4HM-7XAC-2``."""
    return "-".join(letters[at : at + GROUP] for at in range(0, len(letters), GROUP))


def checked(letters: str) -> str:
    """`letters` with the two at the end that catch what is mistyped."""
    one = _value(letters, _AT) * _AT * _AT
    other = _value(letters, _AT_TOO) * _AT_TOO * _AT_TOO
    # Of a x + b, added, both values are to be 0.
    first = (one - other) * _HALF
    last = -one - _AT * first
    return letters + ALPHABET[first % BASE] + ALPHABET[last % BASE]


def is_checked(letters: str) -> bool:
    """Whether nothing is mistyped, as far as the two letters at the end can tell."""
    return len(letters) > 2 and _value(letters, _AT) == 0 and _value(letters, _AT_TOO) == 0


def checked_once(letters: str) -> str:
    """`letters` with one at the end that catches what is mistyped."""
    return letters + ALPHABET[-_value(letters, _AT) * _AT % BASE]


def is_checked_once(letters: str) -> bool:
    """Whether nothing is mistyped, as far as the one letter at the end can tell."""
    return len(letters) > 1 and _value(letters, _AT) == 0


def _value(letters: Sequence[str], at: int) -> int:
    value = 0
    for letter in letters:
        value = (value * at + ALPHABET.index(letter)) % BASE
    return value
