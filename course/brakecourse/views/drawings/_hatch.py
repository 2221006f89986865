"""Textures for parts that are cut through: a material is told by its pattern, not by its colour."""

from __future__ import annotations

from brakecourse.views import palette, svg


def steel_cut(uid: str) -> str:
    """Return the slanted lines of cut steel, as ``{uid}-steel-cut``."""
    stroke = svg.tag("path", d="M0 0V8", stroke=palette.STEEL_DARK, stroke_width="1.6")
    return svg.pattern(f"{uid}-steel-cut", 8, stroke, turn_deg=45)


def lining_cut(uid: str) -> str:
    """Return the grains of cut lining, as ``{uid}-lining-cut``."""
    grains = (
        svg.circle(2.5, 3, 1.1, fill=palette.INK, fill_opacity="0.55")
        + svg.circle(8, 7.5, 1.5, fill=palette.INK, fill_opacity="0.4")
        + svg.line(6, 1.5, 9, 2.6, stroke=palette.STEEL_EDGE, stroke_width="1")
        + svg.line(1, 8.5, 3.4, 9.6, stroke=palette.STEEL_EDGE, stroke_width="1")
    )
    return svg.pattern(f"{uid}-lining-cut", 11, grains)
