"""Dust on the open brake, and the tool that lies there for it: spray bottle and cloth, air gun, dry brush."""

from __future__ import annotations

from brakecourse.views import palette, svg

_LINE = {"stroke": palette.INK, "stroke_width": 1.0}


def dust(x: float, y: float, state: str) -> str:
    """Draw the tool of a state, ``"wet"``, ``"air"`` or ``"brush"``, and dry dust unless it is wet."""
    specks = ""
    if state != "wet":
        places = [((n * 37) % 96 - 70, (n * 53) % 84 - 36) for n in range(46)]
        specks = "".join(svg.circle(x + dx, y + dy, 1.6, fill=palette.FLUID_DARK) for dx, dy in places)
    tool = {"wet": _spray, "air": _air, "brush": _brush}[state](x, y)
    return svg.group(specks + tool, data_part="dust", data_state=state)


def _spray(x: float, y: float) -> str:
    bottle = svg.path(
        "M",
        x - 96,
        y + 84,
        "v",
        -28,
        "l",
        7,
        -12,
        "h",
        12,
        "l",
        7,
        12,
        "v",
        28,
        "Z",
        fill=palette.SKY_BLUE,
        **_LINE,
    )
    head = svg.path(
        "M", x - 90, y + 44, "v", -12, "h", 26, "v", 7, "h", -14, "v", 5, "Z", fill=palette.CHALK, **_LINE
    )
    drops = "".join(
        svg.circle(x - 56 + 9 * n, y + 33 + dy, 2, fill=palette.BLUE)
        for n, dy in enumerate((0, -4, 3, -2, 4))
    )
    cloth = svg.path(
        "M", x - 60, y + 88, "q", 10, -12, 26, -6, "q", 16, -4, 24, 6, "Z", fill=palette.STEEL_WHITE, **_LINE
    )
    return bottle + head + drops + cloth


def _air(x: float, y: float) -> str:
    gun = svg.path(
        "M",
        x - 62,
        y + 40,
        "h",
        -30,
        "v",
        8,
        "l",
        -8,
        30,
        "h",
        14,
        "l",
        8,
        -28,
        "h",
        16,
        "Z",
        fill=palette.STEEL_DARK,
        **_LINE,
    )
    jet = svg.strokes(
        [(x - 58, y + 44 + dy / 8, x - 24, y + 40 + dy) for dy in (-15, 0, 14)],
        stroke=palette.BLUE,
        stroke_width=2.0,
    )
    return gun + jet


def _brush(x: float, y: float) -> str:
    handle = svg.line(
        x - 92, y + 72, x - 58, y + 46, stroke=palette.RUST, stroke_width=10.0, stroke_linecap="round"
    )
    hairs = svg.strokes(
        [(x - 60 + 4 * n, y + 50 - 4 * n, x - 44 + 4 * n, y + 56 - 4 * n) for n in range(6)],
        stroke=palette.INK,
        stroke_width=1.6,
    )
    return handle + hairs
