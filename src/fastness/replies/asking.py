"""What a question in a sentence asks, in English or German."""

from __future__ import annotations

import re
from typing import Literal, get_args

from fastness.language import Language, LanguageName, marked

Kind = Literal[
    "why not",
    "what is wrong",
    "what to play",
    "is it safe",
    "was it good",
    "what is threatened",
]
"""The kinds of question: why not this move, what is wrong with it, what to play, is a move or a
piece safe, was a move good, what does the other side threaten."""
KINDS: tuple[Kind, ...] = get_args(Kind)

_WHY = r"\b(why|how come|warum|wieso|weshalb)\b"
_BAD = (
    r"\b(wrong|bad|mistake|error|los(e|es|t|ing)|costs?|worse|fail\w*|schlecht\w*|falsch\w*"
    r"|fehler|verlier\w*|verloren|kostet\w*|schlechter|scheitert)\b"
)
_GOOD = r"\b(good|ok|okay|right|correct|fine|better|best|gut|richtig|in ordnung|besser)\b"
_I = r"(i|we|you|one|white|black|he|she|ich|wir|man|du|weiß|schwarz|er|sie)"
# The first that fits: a sentence that says more comes before one that says less.
_ASKS: tuple[tuple[Kind, str], ...] = (
    (
        "what is threatened",
        r"\bthreat\w*|\bdroh\w*|\bwhat (does|do|is|was) .{1,24}\b(want|plan|up to|after)\b"
        r"|\bwas (will|möchte|plant|hat) .{1,24}(vor)?\b",
    ),
    ("what is wrong", rf"{_WHY}.*({_BAD}|{_GOOD})"),
    (
        "what to play",
        rf"\bwhat (should|can|could|do|must|would|shall|else|did) ({_I}|have)\b(?!.*{_BAD})"
        r"|\bwhat (is|was|'s|s)\b.{0,12}\b(best|right|better)\b|\bwhat to (do|play)\b"
        r"|\b(which|what) moves?\b|\bbest move\b|\b(save|rescue|rette\w*|retten|saved)\b"
        r"|\bhow (do|can|should|could|did) i (keep|defend|protect|guard|answer|meet|stop)\b"
        rf"|\bwas (soll|kann|muss|könnte|mache|spiele|hätte|sollte|tue) {_I}\b(?!.*{_BAD})"
        r"|\bwelche\w* (züge?|zug)\b|\bbeste\w* zug\b|\bwas tun\b"
        r"|\bwas (ist|wäre|war)\b.{0,12}\b(das beste|am besten|besser|richtig)\b"
        r"|\bwie (verteidige|schütze|halte|decke|kann|soll|muss)\b",
    ),
    (
        "was it good",
        rf"\b(was|is|were|isn t|wasn t|war|ist|wäre)\b.*{_GOOD}|\bhow good\b|\bwie gut\b"
        r"|\b(should|shall) i\b|\b(soll|sollte) ich\b",
    ),
    (
        "is it safe",
        r"\b(safe\w*|hang\w*|en prise|protected|guarded|in danger|attacked|be (taken|won|captured)"
        r"|sicher|gedeckt|häng\w*|in gefahr|angegriffen|(geschlagen|genommen|gewonnen) werden)\b"
        rf"|\b(do|does|will|can|could|would) {_I} lose\b|\bverlier\w* {_I}\b",
    ),
    ("what is wrong", _BAD),
    (
        "why not",
        rf"{_WHY}|\b(can|could|may|can t|cannot|couldn t)\b|\bwhat (if|about|happens|then)\b"
        r"|\b(possible|allowed|legal|forbidden)\b|\b(kann|könnte|darf|konnte) (ich|man)\b"
        r"|\bwas (ist|wäre|passiert|geschieht)\b|\b(geht|ging|möglich|erlaubt|verboten)\b",
    ),
)
_WORDS: dict[LanguageName, str] = {
    "en": "a about am after and are at best better can cannot could did do does for good happens"
    " have how i if in is it lose lost me move my not of on play rook safe save should take takes"
    " than that the there threaten threatens to was what when where which why with wrong would"
    " king queen bishop knight pawn castle white black you your",
    "de": "am auf aus bauer bauern besser das dame dem den denn der die doch droht ein eine einen"
    " er es für geht gut hier ich im in ist kann kein könig läufer machen man mein meine meinen"
    " meinem mit nach nehmen nicht oder retten schlagen schlägt schlecht schwarz sicher sie so soll"
    " spielen springer turm und von war warum was weiß welcher wenn wie wieso wird zieht ziehen zu"
    " zug falsch rochieren",
}
_EXAMPLES = (
    marked("Why can't I play Nf6?"),
    marked("What is wrong with taking on e5?"),
    marked("What should I play?"),
    marked("Is my knight on e5 safe?"),
    marked("Was Be7 good?"),
    marked("What does White threaten?"),
)


def plain(text: str) -> str:
    """`text` in small letters, with single blanks for all that is neither a letter nor a figure."""
    return " ".join(re.findall(r"[^\W_]+", text.lower()))


def kind_of(text: str) -> Kind | None:
    """The kind of question that a sentence asks, None where its words tell none."""
    words = plain(text)
    return next((kind for kind, asks in _ASKS if re.search(asks, words)), None)


def language_of(text: str) -> LanguageName:
    """The language that most words of a sentence are of, English where as many are of either."""
    words = plain(text).split()
    count = {code: sum(word in known.split() for word in words) for code, known in _WORDS.items()}
    return "de" if count["de"] > count["en"] else "en"


def examples(language: Language) -> tuple[str, ...]:
    """What can be asked: a question of each kind."""
    return tuple(language.say(one) for one in _EXAMPLES)
