"""The lesson to begin with: small, and every claim of it true."""

from __future__ import annotations

from fastness.language import LanguageName

_POSITIONS = (
    """\
```position
r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12
unsafe: e5
danger: 3
mechanism: e5 less valuable attacker
holds: Nc6, Ng4, Nc4
falls: Re8 because fxe5
```
""",
    """\
```position
4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1
unsafe: e6
mechanism: e6 pin
falls: f6 because f5
line: pass f5
```
""",
)

_ENGLISH = (
    """\
# Millrace Chess Club: guard it, or move it?

A piece that is attacked by a pawn is seldom saved by a guard. Black is to move:

""",
    """\

Guarding with 12...Re8 does not help: the pawn takes all the same. The knight has to go.

In the next position the bishop cannot go: its king stands behind it.

""",
    """\

Say what is in danger before you look for a move.
""",
)
_GERMAN = (
    """\
# Schachklub Millrace: decken oder wegziehen?

Eine Figur, die ein Bauer angreift, wird selten durch Deckung gerettet. Schwarz ist am Zug:

""",
    """\

Mit 12...Te8 zu decken hilft nicht: Der Bauer schlägt trotzdem. Der Springer muss weg. In den
Blöcken stehen die Züge mit den englischen Buchstaben K, Q, R, B, N.

In der nächsten Stellung kann der Läufer nicht weg: Hinter ihm steht sein König.

""",
    """\

Sage erst, was in Gefahr ist, bevor du einen Zug suchst.
""",
)


def _lesson(prose: tuple[str, str, str]) -> str:
    first, second, last = prose
    return first + _POSITIONS[0] + second + _POSITIONS[1] + last


EXAMPLES: dict[LanguageName, str] = {"en": _lesson(_ENGLISH), "de": _lesson(_GERMAN)}
"""The lesson by the language of its prose."""
