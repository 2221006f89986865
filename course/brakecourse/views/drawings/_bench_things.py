"""Things on the bench and on the wall of the workshop, drawn plain."""

from __future__ import annotations

from brakecourse.views import palette, svg

_LINE = {"stroke": palette.INK, "stroke_width": 1.0}


def bench(x: float, top: float, width: float, ground: float) -> str:
    """Draw a workbench."""
    legs = "".join(
        svg.rect(x + dx, top + 10, 10, ground - top - 10, fill=palette.STEEL_DARK) for dx in (12, width - 22)
    )
    return legs + svg.rect(
        x, top, width, 12, rx="2", fill=palette.LINING, stroke=palette.INK, stroke_width=1.0
    )


def fluid_bottle(x: float, ground: float, *, spilt: bool) -> str:
    """Draw a bottle of brake fluid: closed, or open over a puddle."""
    body = svg.rect(x - 19, ground - 46, 38, 46, rx="6", fill=palette.PLASTIC, **_LINE)
    fill = svg.rect(x - 17, ground - 32, 34, 30, rx="5", fill=palette.FLUID_PALE)
    neck = svg.rect(x - 7, ground - 56, 14, 11, fill=palette.PLASTIC, **_LINE)
    drop = svg.text(x, ground - 11, "fluid", size=14.5, anchor="middle")
    if not spilt:
        cap = svg.rect(x - 9, ground - 64, 18, 10, rx="2", fill=palette.STEEL_EDGE)
        return svg.group(body + fill + neck + cap + drop, data_part="fluid", data_state="closed")
    cap = svg.rect(x + 24, ground - 9, 16, 9, rx="2", fill=palette.STEEL_EDGE)
    pool = svg.path(
        *("M", x - 30, ground, "q", 4, -9, 26, -7, "q", 34, -3, 44, 3, "q", 8, 4, 2, 14, "q", -4, 16, -7, 22),
        *("q", -4, 2, -5, -4, "q", 0, -14, -6, -20, "q", -30, 2, -54, -8, "Z"),
        fill=palette.FLUID_PALE, stroke=palette.FLUID_DARK, stroke_width=1.0,
    )  # fmt: skip
    return svg.group(body + fill + neck + pool + cap + drop, data_part="fluid", data_state="spilt")


def cleaner(x: float, ground: float, *, near_heat: bool) -> str:
    """Draw a spray can of cleaner: alone, or beside a glowing heater."""
    can = svg.rect(x - 20, ground - 52, 40, 52, rx="4", fill=palette.STEEL, **_LINE)
    top = svg.path("M", x - 20, ground - 52, "q", 20, -14, 40, 0, "Z", fill=palette.STEEL_MID, **_LINE)
    nozzle = svg.rect(x - 5, ground - 67, 10, 9, fill=palette.CHALK, **_LINE)
    label = svg.rect(x - 20, ground - 36, 40, 22, fill=palette.CHALK) + svg.text(
        x, ground - 20, "clean", size=14.5, anchor="middle"
    )
    drawn = can + top + nozzle + label
    if not near_heat:
        return svg.group(drawn, data_part="cleaner", data_state="apart")
    left = x + 26
    case = svg.rect(left, ground - 54, 46, 54, rx="4", fill=palette.STEEL_DARK, **_LINE)
    bars = "".join(
        svg.rect(left + 5, ground - 46 + 11 * n, 36, 5, rx="2", fill=palette.ORANGE) for n in range(4)
    )
    waves = "".join(
        svg.path(
            "M", left + 10 + 13 * n, ground - 58, "q", -5, -5, 0, -9, "q", 5, -5, 0, -9,
            fill="none", stroke=palette.VERMILLION, stroke_width=2.0,
        )
        for n in range(3)
    )  # fmt: skip
    return svg.group(drawn + case + bars + waves, data_part="cleaner", data_state="heater")


def pad_spring(x: float, ground: float, *, levered: bool) -> str:
    """Draw a caliper on the bench with its spring: in the tray, or levered by a screwdriver."""
    block = svg.path(
        *("M", x - 34, ground, "v", -26, "q", 0, -10, 12, -10, "h", 40, "q", 12, 0, 12, 10, "v", 26),
        *("h", -18, "v", -12, "h", -28, "v", 12, "Z"),
        fill=palette.IRON, **_LINE,
    )  # fmt: skip
    if levered:
        wire = svg.path(
            "M",
            x - 26,
            ground - 38,
            "q",
            12,
            -22,
            28,
            -4,
            "t",
            26,
            -6,
            fill="none",
            stroke=palette.STEEL_EDGE,
            stroke_width=3.0,
        )
        tool = svg.line(x + 4, ground - 43, x + 28, ground - 58, stroke=palette.STEEL_DARK, stroke_width=4.0)
        grip = svg.line(
            x + 26,
            ground - 57,
            x + 44,
            ground - 68,
            stroke=palette.BLUE,
            stroke_width=9.0,
            stroke_linecap="round",
        )
        jump = svg.strokes(
            [
                (x - 30, ground - 58, x - 42, ground - 70),
                (x - 14, ground - 64, x - 18, ground - 80),
                (x - 36, ground - 46, x - 50, ground - 50),
            ],
            stroke=palette.VERMILLION, stroke_width=2.0,
        )  # fmt: skip
        return svg.group(block + wire + tool + grip + jump, data_part="spring", data_state="levered")
    cloth = svg.path(
        *("M", x - 38, ground - 30, "q", 8, -20, 36, -18, "q", 32, -2, 38, 14, "q", 4, 10, 0, 18),
        *("q", -14, -8, -22, 2, "q", -14, -8, -24, 0, "q", -14, -10, -28, -2, "Z"),
        fill=palette.SKY_BLUE, **_LINE,
    )  # fmt: skip
    return svg.group(block + cloth, data_part="spring", data_state="covered")


def goggles(x: float, y: float, *, there: bool) -> str:
    """Draw the hook for goggles and gloves: with them on it, or empty since they are worn."""
    board = svg.rect(x - 42, y - 12, 84, 10, rx="2", fill=palette.LINING, **_LINE)
    hooks = "".join(svg.circle(x + dx, y - 4, 3, fill=palette.STEEL_EDGE) for dx in (-20, 22))
    if not there:
        return svg.group(board + hooks, data_part="goggles", data_state="worn")
    strap = svg.path(
        "M", x - 38, y + 14, "q", 18, -34, 36, 0, fill="none", stroke=palette.RUBBER, stroke_width=2.4
    )
    glass = svg.rect(
        x - 40, y + 8, 40, 18, rx="8", fill=palette.STEEL_WHITE, stroke=palette.RUBBER, stroke_width=3.0
    )
    glove = svg.path(
        *("M", x + 14, y, "h", 16, "v", 16, "l", 7, -3, "q", 3, 4, -1, 8, "l", -6, 6, "v", 9),
        *("q", -8, 5, -16, 0, "Z"),
        fill=palette.SKY_BLUE, **_LINE,
    )  # fmt: skip
    return svg.group(board + hooks + strap + glass + glove, data_part="goggles", data_state="hanging")


def job_sheet(x: float, y: float, lines: tuple[str, ...]) -> str:
    """Draw a clipboard with what is written on it."""
    height = 34 + 20 * len(lines)
    board = svg.rect(x, y, 196, height, rx="4", fill=palette.LINING, **_LINE)
    paper = svg.rect(
        x + 8, y + 12, 180, height - 20, fill=palette.CHALK, stroke=palette.STEEL_MID, stroke_width=0.8
    )
    clip = svg.rect(x + 78, y - 6, 40, 14, rx="3", fill=palette.STEEL_MID, **_LINE)
    words = "".join(svg.text(x + 16, y + 34 + 20 * n, one, size=15) for n, one in enumerate(lines))
    return svg.group(board + paper + clip + words, data_part="sheet")
