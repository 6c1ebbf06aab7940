"""Surveys made by hand whose moves are ranked, priced, and given reasons."""

from fastness.core.shapes import PriceItem, ReasonName, Survey
from tests.survey.samples import pinned_down


def item(name: str, squares: str = "", centipawns: int | None = None) -> PriceItem:
    """A cost or gain on squares named with spaces between."""
    return {"name": name, "squares": squares.split(), "centipawns": centipawns}


def ranked() -> Survey:
    """The attacked queen, with the moves that keep it ranked and priced."""
    given = pinned_down()
    given["ranked"], given["values_matter"] = True, True
    ranks = {"Nf6": 1, "Be7": 1, "Ne7": 3, "Qd7": 4, "Qd6": 4, "Bb4+": 6, "f6": 7}
    evaluations = {"Nf6": 0, "Be7": -10, "Ne7": -30, "Qd7": -70, "Qd6": -70, "Bb4+": -300}
    gains = {"Be7": [item("develops", "e7")], "Nf6": [item("develops", "f6")]}
    costs = {
        "f6": [item("weakens the king's shelter", "f6 e8", 40)],
        "Ne7": [item("shuts in a bishop", "e7 f8"), item("loses time", "e7")],
    }
    for move in given["moves"]:
        san = move["san"]
        if move["holds"]:
            move["rank"], move["evaluation"] = ranks[san], evaluations.get(san, -84)
            move["advised"] = ranks[san] < 4
            move["price"] = {"costs": costs.get(san, []), "gains": gains.get(san, [])}
    return given


def explained() -> Survey:
    """The same, with causes of the danger and reasons of the moves that fall."""
    given = ranked()
    given["units"][0]["causes"] = [
        {"mechanism": "less valuable attacker", "squares": ["g5", "d8"]},
    ]
    reasons: dict[str, tuple[ReasonName, list[str]]] = {
        "Qxg5": ("walks into a capture", ["f3", "g5"]),
        "Nc6": ("less valuable attacker", ["g5", "d8"]),
        "Qe7": ("walks into a capture", ["g5", "e7"]),
    }
    for move in given["moves"]:
        if not move["holds"]:
            reason, squares = reasons.get(move["san"], ("does not address it", ["d8"]))
            move["reason"] = reason
            move["reasons"] = [{"reason": reason, "squares": squares}]
            move["natural"] = move["san"] in ("Qxg5", "Nc6", "Bd7")
    return given
