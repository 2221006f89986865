"""What the fluid testers share: the glass with brake fluid, and the steel and the case of a tester."""

from __future__ import annotations

from brakecourse.views import palette, svg

FLUID_Y = 424.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


def glass() -> str:
    """Draw the glass and the fluid in it, over what is dipped in."""
    return (
        svg.path(
            "M",
            92,
            FLUID_Y,
            "H",
            308,
            "L",
            302,
            478,
            "q",
            -2,
            8,
            -10,
            8,
            "H",
            108,
            "q",
            -8,
            0,
            -10,
            -8,
            "Z",
            fill=palette.FLUID_PALE,
            fill_opacity="0.7",
            data_part="fluid",
        )
        + svg.line(92, FLUID_Y, 308, FLUID_Y, stroke=palette.STEEL_EDGE, stroke_width="1.2")
        + svg.path(
            "M",
            84,
            378,
            "L",
            94,
            480,
            "q",
            2,
            10,
            12,
            10,
            "H",
            294,
            "q",
            10,
            0,
            12,
            -10,
            "L",
            316,
            378,
            fill="none",
            stroke=palette.STEEL_MID,
            stroke_width="3",
        )
        + svg.rect(104, 386, 8, 92, rx="4", fill=palette.CHALK, fill_opacity="0.6")
    )


def case_defs(uid: str) -> str:
    """Return the gradients ``{uid}-steel`` and ``{uid}-case``."""
    bright = [
        (0, palette.STEEL_DARK),
        (0.3, palette.STEEL),
        (0.5, palette.STEEL_WHITE),
        (1, palette.STEEL_DARK),
    ]
    return svg.gradient(f"{uid}-steel", bright, across=True) + svg.gradient(
        f"{uid}-case", [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL), (1, palette.STEEL_MID)]
    )
