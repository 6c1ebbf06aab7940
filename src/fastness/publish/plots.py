"""Drawings of numbers, in the ink and the paper of the diagrams."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fastness.language import ENGLISH, Language
from fastness.publish.document import Grid, Plot
from fastness.publish.silhouettes import INK

FACE = "DejaVu Sans"
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
    import vl_convert

    data = alt.Data(values=rows)  # type: ignore[no-untyped-call]  # it has no types there
    chart = (
        alt.Chart(data, width=310, height=140)
        .mark_bar(stroke=INK, strokeWidth=1.2)
        .encode(
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
        .configure(font=FACE, background="#ffffff")
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
    svg: str = vl_convert.vegalite_to_svg(chart.to_dict())
    return svg
