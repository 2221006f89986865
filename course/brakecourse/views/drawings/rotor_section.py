"""A cut through the rotor at its outer edge, with the micrometer's anvils on it."""

from __future__ import annotations

from typing import Literal

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within

Anvils = Literal["mid-track", "ridge"]

WIDTH, HEIGHT = 640, 400
MIDDLE_X = 250.0
HALF_NEW = 96.0
PX_PER_MM = 16.0  # depths on the faces are drawn larger than the thickness
LARGEST_MM = 2.0
TOP, RIDGE_END, TRACK_Y, GROOVE_Y, BOTTOM = 60.0, 104.0, 190.0, 268.0, 360.0


def rotor_section_svg(
    *,
    uid: str,
    ridge_mm: float,
    groove_mm: float,
    worn_mm: float,
    anvils: Anvils = "mid-track",
    title: str = "Cut through the rotor's outer edge",
) -> str:
    """Draw the rotor's edge cut through, and where the micrometer's anvils touch it.

    Args:
        uid: a word that no other drawing on the page has.
        ridge_mm: how far the rust ridge stands out beyond the new face, in mm on each face, 0 to 2.
        groove_mm: depth of the groove below the worn face, in mm on each face, 0 to 2.
        worn_mm: wear of the track, in mm on each face, 0 to 2.
        anvils: ``"mid-track"`` (right) or ``"ridge"`` (the mistake).
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a depth is no number or out of range, or the anvils' place is not one of the two.

    Source:
        Where to measure: common practice, no source.

    Example:
        >>> "rust ridge" in rotor_section_svg(uid="s1", ridge_mm=0.3, groove_mm=0.2, worn_mm=1.0)
        True
    """
    ridge = within(ridge_mm, "ridge in mm", 0, LARGEST_MM) * PX_PER_MM
    groove = within(groove_mm, "groove in mm", 0, LARGEST_MM) * PX_PER_MM
    worn = within(worn_mm, "wear in mm", 0, LARGEST_MM) * PX_PER_MM
    if anvils not in ("mid-track", "ridge"):
        raise ValueError(f"The anvils must be at 'mid-track' or 'ridge', but it was {anvils!r}.")
    svg.check_uid(uid)
    face = _face(ridge, groove, worn)
    body = _metal(face, uid) + _anvils(ridge, worn, anvils)
    desc = f"A cut through the rotor's outer edge. The micrometer's anvils touch {'the middle of the worn track' if anvils == 'mid-track' else 'the rust ridge'}."
    defs = svg.pattern(f"{uid}-cut", 8, svg.tag("path", d="M0 0V8", stroke=palette.STEEL_DARK), turn_deg=45)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=defs)


def _face(ridge: float, groove: float, worn: float) -> list[svg.Point]:
    """Return one face from the outer edge inwards, as distances from the middle and heights."""
    new, track = HALF_NEW + ridge, HALF_NEW - worn
    return [
        (new, TOP),
        (new, RIDGE_END - 8),
        (track, RIDGE_END),
        (track, GROOVE_Y - 12),
        (track - groove, GROOVE_Y),
        (track, GROOVE_Y + 12),
        (track, BOTTOM),
    ]


def _metal(face: list[svg.Point], uid: str) -> str:
    right = [(MIDDLE_X + x, y) for x, y in face]
    left = [(MIDDLE_X - x, y) for x, y in reversed(face)]
    return svg.polygon(right + left, fill=palette.STEEL_LIGHT) + svg.polygon(
        right + left, fill=f"url(#{uid}-cut)", stroke=palette.STEEL_EDGE, stroke_width="1.5", data_part="section"
    )


def _anvils(ridge: float, worn: float, anvils: str) -> str:
    half = HALF_NEW - worn if anvils == "mid-track" else HALF_NEW + ridge
    y = TRACK_Y if anvils == "mid-track" else (TOP + RIDGE_END) / 2
    look = {"fill": palette.STEEL, "stroke": palette.STEEL_EDGE, "stroke_width": "1.5"}
    return svg.rect(MIDDLE_X + half, y - 13, 60, 26, data_part="anvil", **look) + svg.rect(
        MIDDLE_X - half - 60, y - 13, 60, 26, data_part="anvil", **look
    )
