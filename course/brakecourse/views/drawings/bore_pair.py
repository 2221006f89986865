"""Two bores end-on at one scale, beside a ruler: a little more diameter is much more area."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.words import number

WIDTH = 640
PX_PER_MM = 3.0
_EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.4"}


def bore_pair_svg(
    old_mm: float, new_mm: float, *, what: str, uid: str, title: str = "The old bore and the new one"
) -> str:
    """Draw the face of the old piston and of the new one, seen from the fluid, both at one scale.

    Args:
        old_mm: diameter of the part that came off, mm, 10 to 80.
        new_mm: diameter of the part that is offered, mm, 10 to 80.
        what: which part, e.g. ``"master cylinder"``.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a bore is no number from 10 to 80, or the uid cannot be an id.

    Source:
        Common practice, no source.

    Example:
        >>> bore_pair_svg(23.8, 25.4, what="master cylinder", uid="b1").startswith("<svg")
        True
    """
    old, new = (within(bore, "bore in mm", 10, 80) for bore in (old_mm, new_mm))
    svg.check_uid(uid)
    tallest = max(old, new) * PX_PER_MM
    middle = 44 + tallest / 2 + 16
    foot = middle + tallest / 2 + 62
    body = (
        _bore(170, middle, old, f"old {what}", "old", uid)
        + _bore(470, middle, new, f"new {what}", "new", uid)
        + _other(470, middle, old)
        + _scale(foot + 14)
    )
    desc = (
        f"The old {what} of {old:g} mm and the new one of {new:g} mm, end-on at one scale. A dashed circle "
        "in the new one shows the old one's size."
    )
    return svg.frame(WIDTH, round(foot + 40), body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _bore(x: float, y: float, bore: float, name: str, part: str, uid: str) -> str:
    radius = bore * PX_PER_MM / 2
    across = [(x - radius, y, x + radius, y), (x - radius, y - 6, x - radius, y + 6),
              (x + radius, y - 6, x + radius, y + 6)]  # fmt: skip
    return (
        svg.circle(x, y, radius + 15, fill=palette.IRON, **_EDGE)
        + svg.circle(x, y, radius + 15, fill=f"url(#{uid}-cut)")
        + svg.circle(x, y, radius, fill=f"url(#{uid}-face)", data_part=part, **_EDGE)
        + svg.strokes(across, stroke=palette.INK, stroke_width="1.4")
        + svg.text(x, y + radius + 38, f"{number(bore, 1)} mm", size=17, anchor="middle", font_weight="bold")
        + svg.text(x, 26, name, size=16, anchor="middle", font_weight="bold")
    )


def _other(x: float, y: float, bore: float) -> str:
    return svg.circle(
        x, y, bore * PX_PER_MM / 2, fill="none", stroke=palette.VERMILLION, stroke_width="2.2",
        stroke_dasharray="7 5", data_part="old-in-new",
    )  # fmt: skip


def _scale(y: float) -> str:
    long = 20 * PX_PER_MM
    x = (WIDTH - long) / 2
    ticks = [(x, y, x + long, y), (x, y - 6, x, y + 6), (x + long, y - 6, x + long, y + 6)]
    ticks += [(x + mm * PX_PER_MM, y - 3, x + mm * PX_PER_MM, y + 3) for mm in range(5, 20, 5)]
    return (
        svg.strokes(ticks, stroke=palette.INK, stroke_width="1.3", data_part="bar")
        + svg.text(x + long + 10, y + 5, "20 mm", size=14)
        + svg.text(x - 10, y + 5, "dashed: the old one", size=14, anchor="end", fill=palette.INK_SOFT)
    )


def _defs(uid: str) -> str:
    stroke = svg.tag("path", d="M0 0V8", stroke=palette.STEEL_DARK, stroke_width="1.6")
    return svg.gradient(
        f"{uid}-face", [(0, palette.STEEL_WHITE), (0.6, palette.STEEL_LIGHT), (1, palette.STEEL)]
    ) + svg.pattern(f"{uid}-cut", 8, stroke, turn_deg=45)
