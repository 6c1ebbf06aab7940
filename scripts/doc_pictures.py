"""Writes docs/examples.md, three positions of historic games, with its pictures and a reply's.

Usage: python -m scripts.doc_pictures

Run it after the words of a page or the look of the diagram were changed. The positions are rows
of tests/data/historic-positions.fen.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from fastness.publish import svg_diagram
from fastness.workflows.answering import answer_question
from fastness.workflows.surveying import survey_position, text_for

DOCS = Path(__file__).parents[1] / "docs"


@dataclass(frozen=True, slots=True)
class Example:
    """One position: the file name of its picture, and the words that stand around it.

    `picture` says in a few words what is to be seen, for who cannot see it.
    """

    name: str
    title: str
    picture: str
    fen: str
    game: str
    reading: str


EXAMPLES = (
    Example(
        "outnumbered",
        "Attacked twice, guarded once",
        "the pawn on e4 in a broken ring, two attackers, one guard",
        "r2q1rk1/p1p1bppp/2bp1n2/2p5/4PP2/2N4P/PPP1N1P1/R1BQ1RK1 w - - 1 12",
        "Morphy against de Rivière, Paris 1863. White to move.",
        "The pawn on e4 stands in a broken ring: it is not safe. Two dashed lines come from what"
        " attacks it, one double line from what guards it, and two against one is not enough."
        " A second guard, 12.Ng3, was played. Putting the knight in the way by 12.Nd5 shuts"
        " out the bishop, but that knight was the only guard, and the other attacker takes.",
    ),
    Example(
        "pinned-guard",
        "A guard that may not take back",
        "the pawn on b5 in a broken ring, attacked by a knight, guarded by the pawn on c6",
        "r1b1k2r/p1q1bpp1/1npp3p/1p6/3PP3/1PN2N2/P1Q2PPP/R1B2RK1 b kq - 1 14",
        "Morphy against Thomas, Philadelphia 1859. Black to move.",
        "One attacker, one guard: a knight does not take a pawn if it is retaken. But the guard,"
        " the pawn on c6, is pinned to its queen. The picture counts what bears on the square now,"
        " pinned units included; the page says what the guard is worth. Black played 14...a6, a"
        " second guard that is free to take.",
    ),
    Example(
        "guarding-fails",
        "Where guarding is no help",
        "the bishop on g4 in a broken ring, attacked by a pawn, guarded by a knight",
        "rn1q1rk1/pp3pp1/2pb1n1p/3p4/3P2bB/2NB1N1P/PPP2PP1/R2Q1RK1 b - - 0 10",
        "Morphy against Löwenthal, London 1858. Black to move.",
        "A pawn attacks the bishop, so no number of guards will do: read the rows under"
        ' "Natural tries that fail", where each way of guarding it loses to the same capture.'
        " The bishop has to move or to take. Black took: 10...Bxf3.",
    ),
)

QUESTION = "Why can't I play Nxe5?"
ASKED_OF = "rn1qkbnr/ppp2p1p/3p2p1/4p3/2B1P1b1/2N2N2/PPPP1PPP/R1BQK2R w KQkq - 0 5"
"""The example of docs/replies.md."""

HEAD = """\
# Three examples

Three positions of historic games: the picture, the page that the command prints, and how to read them. All the words of a page are explained in [survey.md](survey.md).

In the pictures dark squares are hatched. A broken ring is around what is not safe, a dashed line comes from each unit that attacks it and a double line from each that guards it. Corners stand around what can be taken now. `scripts/doc_pictures.py` made the pictures and this file.
"""  # noqa: E501 - a paragraph of the document is one line.


def documents() -> dict[Path, str]:
    """What belongs in each file under docs that this script writes."""
    made = {}
    text = HEAD
    for example in EXAMPLES:
        survey = survey_position(example.fen, firm=True, ranks=True)
        made[DOCS / "pictures" / f"{example.name}.svg"] = svg_diagram(survey)
        text += _section(example, text_for("teacher", survey))
    made[DOCS / "examples.md"] = text
    reply = answer_question(QUESTION, position=ASKED_OF)
    made[DOCS / "pictures" / "reply.svg"] = reply.pictures[0].svg
    return made


def _section(example: Example, page: str) -> str:
    return (
        f"\n## {example.title}\n\n{example.game}\n\n"
        f"![The position: {example.picture}.](pictures/{example.name}.svg)\n\n"
        f"{example.reading}\n\n"
        f'```console\n$ fastness survey "{example.fen}"\n{page}```\n'
    )


def main() -> None:
    """Writes the files."""
    for path, text in documents().items():
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
