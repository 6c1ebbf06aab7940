"""Drawings of numbers, in the ink and the paper of the diagrams."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from fastness.language import ENGLISH, Language
from fastness.publish.document import Grid, Plot
from fastness.publish.silhouettes import INK

if TYPE_CHECKING:
    import altair as alt

FACE = "DejaVu Sans"
KEPT = 64
"""Drawings kept, some ten kilobytes each."""
LETTERS = 12
"""The size of the labels where the drawing is some 350 wide, the width of a telephone."""


def held_by_period(periods: Sequence[tuple[str, int, int]], language: Language = ENGLISH) -> Plot:
    """Dangers held and not held, period by period.

    `periods` are (its name, held, of). The bars differ by outline and fill, not by colour alone.
    """
    say = language.say
    both = say("held"), say("not held")
    rows = [
        {"period": name, "what": what, "dangers": number, "order": order}
        for name, held, of in periods
        for order, (what, number) in enumerate(zip(both, (held, of - held), strict=True))
    ]
    told = ", ".join(
        say("{period}: {held} of {of} held", period=name, held=held, of=of)
        for name, held, of in periods
    )
    titles = say("period from"), say("dangers")
    return Plot(
        svg=_drawn(rows, both, titles),
        alt=say("Dangers held by period. {told}.", told=told),
        grid=Grid(
            (say("Period"), say("held"), say("of")),
            tuple((name, str(held), str(of)) for name, held, of in periods),
        ),
    )


def _drawn(rows: list[dict[str, Any]], both: tuple[str, str], titles: tuple[str, str]) -> str:
    import altair as alt

    data = alt.Data(values=rows)  # type: ignore[no-untyped-call]  # it has no types there
    chart = alt.Chart(data, width=310, height=140)
    return _in_ink(
        chart.mark_bar(stroke=INK, strokeWidth=1.2).encode(
            x=alt.X(
                "period:N",
                title=titles[0],
                sort=None,
                axis=alt.Axis(labelAngle=0, labelOverlap=True, labelSeparation=4),
            ),
            y=alt.Y("dangers:Q", title=titles[1], axis=alt.Axis(tickMinStep=1)),
            order=alt.Order("order:Q"),
            color=alt.Color(
                "what:N",
                title=None,
                scale=alt.Scale(domain=list(both), range=[INK, "#ffffff"]),
            ),
        )
    )


def unsafe_by_band(
    shares: Sequence[tuple[str, float, float, float]], language: Language = ENGLISH
) -> Plot:
    """The share of units that are not safe in each rating band, with its 95 % interval.

    `shares` are (the band's name, the share, the ends of the interval), between 0 and 1.
    """
    say = language.say
    rows = [
        {"band": name, "share": 100 * share, "low": 100 * low, "high": 100 * high}
        for name, share, low, high in shares
    ]
    grid = tuple(
        (name, *(f"{100 * number:.2f}" for number in numbers)) for name, *numbers in shares
    )
    told = ", ".join(f"{name}: {share} ({low}-{high})" for name, share, low, high in grid)
    heads = say("Rating"), say("not safe, of a hundred pieces and pawns"), say("from"), say("to")
    return Plot(
        svg=_intervals(rows, (heads[0], heads[1])),
        alt=say("Pieces and pawns not safe, of a hundred, by rating. {told}.", told=told),
        grid=Grid(heads, grid),
    )


def _intervals(rows: list[dict[str, Any]], titles: tuple[str, str]) -> str:
    import altair as alt

    data = alt.Data(values=rows)  # type: ignore[no-untyped-call]  # it has no types there
    chart = alt.Chart(data, width=440, height=280).encode(
        x=alt.X("band:N", title=titles[0], sort=None, axis=alt.Axis(labelAngle=0)),
    )
    ends = chart.mark_rule(color=INK, strokeWidth=1.2).encode(
        y=alt.Y("low:Q", title=titles[1], scale=alt.Scale(zero=True)), y2="high:Q"
    )
    middle = chart.mark_point(color=INK, fill=INK, size=40).encode(y="share:Q")
    return _in_ink(alt.layer(ends, middle))


def _in_ink(chart: alt.Chart | alt.LayerChart | alt.FacetChart) -> str:
    """The chart as SVG, in the ink and the face of the diagrams."""
    drawn = (
        chart.configure(font=FACE, background="#ffffff")
        .configure_axis(
            labelFontSize=LETTERS,
            titleFontSize=LETTERS,
            titleFontWeight="normal",
            labelColor=INK,
            titleColor=INK,
            gridColor="#d9d9d9",
            domainColor=INK,
        )
        .configure_legend(
            labelFontSize=LETTERS, labelColor=INK, symbolStrokeColor=INK, orient="top"
        )
        .configure_view(stroke=None)
    )
    return _laid_out(json.dumps(drawn.to_dict(), sort_keys=True))


@lru_cache(maxsize=KEPT)
def _laid_out(specification: str) -> str:
    """The SVG of a chart given as JSON; the same drawing is asked for again with every report."""
    import vl_convert

    svg: str = vl_convert.vegalite_to_svg(specification)
    return svg
