"""What the three units of torque mean: a pull at the end of a lever, all three to one scale."""

from __future__ import annotations

from brakecourse.published import convert
from brakecourse.views import palette, svg

WIDTH, HEIGHT = 480, 330
NUT_X, PX_PER_MM = 26.0, 0.4
PX_PER_NEWTON = 11.0
ROWS: dict[str, tuple[float, str]] = {"N·m": (78.0, "m"), "lbf·ft": (176.0, "ft"), "lbf·in": (274.0, "in")}
PULL: dict[str, tuple[str, str]] = {
    "N·m": ("1 newton", "N"),
    "lbf·ft": ("1 pound-force", "lbf"),
    "lbf·in": ("1 pound-force", "lbf"),
}
LEVER: dict[str, str] = {"N·m": "1 metre", "lbf·ft": "1 foot", "lbf·in": "1 inch"}
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1", "stroke_linejoin": "round"}


def torque_levers_svg(
    *, uid: str, given: str = "", wanted: str = "", title: str = "Three units of torque"
) -> str:
    """Draw one newton metre, one pound-foot and one pound-inch as a lever with a pull at its end.

    Args:
        uid: a word that no other drawing on the page has.
        given: the unit that a task starts from, ``"N·m"``, ``"lbf·ft"`` or ``"lbf·in"``; empty for none.
        wanted: the unit that it ends in; empty for none.
        title: the name that a screen reader says.

    Returns:
        SVG text. Levers are to one scale, and so are the arrows of the pulls.

    Raises:
        ValueError: a unit is another word.

    Source:
        Conversion by :func:`brakecourse.published.convert`.

    Example:
        >>> torque_levers_svg(uid="t1").count('data-part="lever"')
        3
    """
    for unit in (given, wanted):
        if unit and unit not in ROWS:
            raise ValueError(f"The unit must be one of {', '.join(ROWS)}, but it was {unit!r}.")
    body = "".join(_row(unit, _mark(unit, given, wanted), uid) for unit in ROWS)
    marks = [f"The task starts from {given}." if given else "", f"It ends in {wanted}." if wanted else ""]
    desc = (
        "Three levers from a nut, to one scale, each with an arrow for the pull at its end. One newton "
        "metre: "
        "1 newton at 1 metre. One pound-foot: 1 pound-force at 1 foot. One pound-inch: 1 pound-force at "
        f"1 inch. {' '.join(filter(None, marks))}"
    ).strip()
    steel = svg.gradient(
        f"{uid}-bar", ((0, palette.STEEL_LIGHT), (0.5, palette.STEEL_WHITE), (1, palette.STEEL_MID))
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=steel)


def _mark(unit: str, given: str, wanted: str) -> str:
    return "given" if unit == given else "wanted" if unit == wanted else ""


def _row(unit: str, mark: str, uid: str) -> str:
    y, length_unit = ROWS[unit]
    words, force_unit = PULL[unit]
    arm = convert(1, length_unit, "mm") * PX_PER_MM
    pull = convert(1, force_unit, "N") * PX_PER_NEWTON
    end = NUT_X + arm
    panel = ""
    if mark:
        panel = svg.rect(
            6, y - 60, WIDTH - 12, 92, rx="8", fill=palette.PANEL, stroke=palette.BLUE, stroke_width="2"
        ) + svg.text(
            WIDTH - 18, y - 40, mark, size=15, anchor="end", fill=palette.BLUE_TEXT, font_weight="bold"
        )
    half = 3.5
    bar = svg.rect(NUT_X, y - half, arm, 2 * half, rx="2", fill=f"url(#{uid}-bar)", data_part="lever", **EDGE)
    nut = svg.polygon(
        [
            (NUT_X + 6 * x, y + 6 * z)
            for x, z in ((1, 0), (0.5, 0.87), (-0.5, 0.87), (-1, 0), (-0.5, -0.87), (0.5, -0.87))
        ],
        fill=palette.STEEL_DARK,
        **EDGE,
    )
    far = end > WIDTH / 2
    where, base = (NUT_X - 8, y - 20) if far else (end + 14, y + 5)
    name = svg.text(where, base, f"1 {unit}", size=16, font_weight="bold")
    label = svg.text(where + 68, base, f"= {words} at {LEVER[unit]}", size=15)
    return panel + bar + nut + _arrow(end, y, pull) + name + label


def _arrow(x: float, y: float, length: float) -> str:
    """Draw the pull, its length to the scale of the forces; the shortest is all head."""
    head = min(10.0, length)
    shaft = svg.line(
        x, y - length, x, y - head + 1, stroke=palette.VERMILLION, stroke_width="3", data_part="pull"
    )
    tip = svg.polygon([(x - 5, y - head), (x + 5, y - head), (x, y)], fill=palette.VERMILLION)
    return shaft + tip
