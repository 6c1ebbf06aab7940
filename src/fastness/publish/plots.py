"""Drawings of numbers, in the ink and the paper of the diagrams."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fastness.publish.document import Grid, Plot
from fastness.publish.silhouettes import INK

FACE = "DejaVu Sans"


def held_by_period(periods: Sequence[tuple[str, int, int]]) -> Plot:
    """Dangers held and not held, period by period.

    `periods` are (its name, held, of). The bars differ by outline and fill, not by colour alone.
    """
    rows = [
        {"period": name, "what": what, "dangers": number, "order": order}
        for name, held, of in periods
        for order, (what, number) in enumerate((("held", held), ("not held", of - held)))
    ]
    told = ", ".join(f"{name}: {held} of {of} held" for name, held, of in periods)
    return Plot(
        svg=_drawn(rows),
        alt=f"Dangers held by period. {told}.",
        grid=Grid(
            ("Period", "held", "of"),
            tuple((name, str(held), str(of)) for name, held, of in periods),
        ),
    )


def _drawn(rows: list[dict[str, Any]]) -> str:
    import altair as alt
    import vl_convert

    data = alt.Data(values=rows)  # type: ignore[no-untyped-call]  # it has no types there
    chart = (
        alt.Chart(data, width=420, height=150)
        .mark_bar(stroke=INK, strokeWidth=1.2)
        .encode(
            x=alt.X(
                "period:N",
                title=None,
                sort=None,
                axis=alt.Axis(labelAngle=0, labelOverlap=True, labelSeparation=12),
            ),
            y=alt.Y("dangers:Q", title="dangers", axis=alt.Axis(tickMinStep=1)),
            order=alt.Order("order:Q"),
            color=alt.Color(
                "what:N",
                title=None,
                scale=alt.Scale(domain=["held", "not held"], range=[INK, "#ffffff"]),
            ),
        )
        .configure(font=FACE, background="#ffffff")
        .configure_axis(labelColor=INK, titleColor=INK, gridColor="#d9d9d9", domainColor=INK)
        .configure_legend(labelColor=INK, symbolStrokeColor=INK, orient="top")
        .configure_view(stroke=None)
    )
    svg: str = vl_convert.vegalite_to_svg(chart.to_dict())
    return svg
