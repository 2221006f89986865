"""A cut through the rotor at its outer edge, with the micrometer's anvils on it.

Heights are to scale. Depths into the faces are drawn larger, so that wear of a millimetre can be seen.
"""

from __future__ import annotations

import math
from typing import Literal, get_args

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within

Anvils = Literal["mid-track", "ridge"]

WIDTH, HEIGHT = 640, 424
MIDDLE_X = 212.0
HALF_NEW = 100.0  # half of the new rotor; the picture makes it thinner than it is
DEPTH_PX = 14.0  # one millimetre into a face
HEIGHT_PX = 8.0  # one millimetre inwards from the outer edge
LARGEST_MM = 3.0
EDGE_Y, END_Y = 58.0, 350.0
RIDGE_MM, SLOPE_MM = 4.0, 1.0  # from the outer edge: the strip that no pad reaches, and the step below it
MEASURED_MM = 16.0
ANVIL_MM = 6.5
PITCH_MM = 3.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.5", "stroke_linejoin": "round"}
LEADER = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


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
        ridge_mm: how far the rust ridge stands out beyond the new face, in mm on each face, 0 to 3.
        groove_mm: depth of the grooves in the worn face, in mm on each face, 0 to 3.
        worn_mm: wear of the track, in mm on each face, 0 to 3.
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
    ridge = HALF_NEW + DEPTH_PX * within(ridge_mm, "ridge in mm", 0, LARGEST_MM)
    groove = DEPTH_PX * within(groove_mm, "groove depth in mm", 0, LARGEST_MM)
    track = HALF_NEW - DEPTH_PX * within(worn_mm, "wear in mm", 0, LARGEST_MM)
    if anvils not in get_args(Anvils):
        raise ValueError(f"The anvils must be at 'mid-track' or 'ridge', but it was {anvils!r}.")
    svg.check_uid(uid)
    on_ridge = anvils == "ridge"
    body = (
        _metal(track, groove, uid)
        + (_rust(ridge, uid) if ridge > HALF_NEW else "")
        + _new_faces()
        + _anvils(ridge if on_ridge else track, _y(RIDGE_MM / 2 if on_ridge else MEASURED_MM), uid)
        + _names(ridge, track, groove)
        + svg.text(
            WIDTH - 20, 398, "depths drawn larger than they are", size=13, anchor="end", fill=palette.INK_SOFT
        )
        + _verdict(on_ridge)
    )
    desc = _desc(ridge > HALF_NEW, groove > 0, on_ridge)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _y(inwards_mm: float) -> float:
    return EDGE_Y + HEIGHT_PX * inwards_mm


def _face(track: float, groove: float) -> list[svg.Point]:
    """Return one face from the outer edge inwards: distance from the middle, and height on the picture."""
    step = RIDGE_MM + SLOPE_MM
    face = [(HALF_NEW - 5, EDGE_Y), (HALF_NEW, EDGE_Y + 5), (HALF_NEW, _y(RIDGE_MM)), (track, _y(step))]
    if groove:
        part = PITCH_MM / 8
        first = math.ceil((step - MEASURED_MM) / part)
        last = math.floor(((END_Y - EDGE_Y) / HEIGHT_PX - MEASURED_MM) / part)
        for sample in range(first, last + 1):
            # A crest stands in the middle of the anvils, because flat anvils rest on crests.
            depth = groove * math.sin(math.pi * sample / 8) ** 2
            face.append((track - depth, _y(MEASURED_MM + sample * part)))
    return [*face, (face[-1][0], END_Y)]


def _metal(track: float, groove: float, uid: str) -> str:
    face = _face(track, groove)
    right = [(MIDDLE_X + x, y) for x, y in face]
    left = [(MIDDLE_X - x, y) for x, y in reversed(face)]
    # The rotor goes on to the hub: a wavy end says that the picture is cut off there.
    wave = [(MIDDLE_X + track * k / 6, END_Y + 7 * math.sin(math.tau * k / 6)) for k in range(5, -6, -1)]
    outline = [*right, *wave, *left]
    return svg.polygon(outline, fill=palette.STEEL_LIGHT) + svg.polygon(
        outline, fill=f"url(#{uid}-cut)", data_part="section", **EDGE
    )


def _rust(ridge: float, uid: str) -> str:
    """Draw the rust that has grown on the strip outside the track, on both faces."""
    low, high = EDGE_Y + 4, _y(RIDGE_MM)
    depth = ridge - HALF_NEW
    bumps = [(0.0, 0.0), (0.75, 0.12), (1.0, 0.3), (0.86, 0.46), (1.0, 0.62), (0.8, 0.86), (0.0, 1.0)]
    shapes = ""
    for side in (1, -1):
        spots = [
            (MIDDLE_X + side * (HALF_NEW + depth * out), low + (high - low) * down) for out, down in bumps
        ]
        shapes += svg.polygon(spots, fill=palette.RUST, stroke=palette.STEEL_EDGE, data_part="rust")
        shapes += svg.polygon(spots, fill=f"url(#{uid}-rust)")
    return shapes


def _new_faces() -> str:
    lines = [
        (MIDDLE_X + side * HALF_NEW, _y(RIDGE_MM), MIDDLE_X + side * HALF_NEW, END_Y) for side in (-1, 1)
    ]
    return svg.strokes(lines, stroke=palette.BLUE, stroke_width="1.6", stroke_dasharray="6 4")


def _anvils(half: float, y: float, uid: str) -> str:
    """Draw both flat measuring faces against the rotor, and what lies between them."""
    left, right, tall = MIDDLE_X - half, MIDDLE_X + half, ANVIL_MM * HEIGHT_PX
    shared = {"fill": f"url(#{uid}-rod)", "data_part": "anvil", **EDGE}
    dark = {"stroke": palette.INK, "stroke_width": "1.6"}
    heads = [
        (left + 10, y - 5, left + 1, y),
        (left + 10, y + 5, left + 1, y),
        (right - 10, y - 5, right - 1, y),
        (right - 10, y + 5, right - 1, y),
    ]
    return (
        svg.rect(8, y - tall / 2, left - 8, tall, **shared)
        + svg.rect(right, y - tall / 2, 404 - right, tall, **shared)
        + svg.line(left + 1, y, right - 1, y, **dark)
        + svg.strokes(heads, **dark)
        + svg.rect(MIDDLE_X - 66, y + 8, 132, 20, rx="4", fill=palette.STEEL_LIGHT)
        + svg.text(MIDDLE_X, y + 23, "what the gauge reads", size=13, anchor="middle")
    )


def _names(ridge: float, track: float, groove: float) -> str:
    rows = [(246.0, "face when new", HALF_NEW, 252.0)]
    if groove:
        rows.append((284.0, "groove", track - groove, _y(MEASURED_MM + 4.5 * PITCH_MM)))
    rows.append((322.0, "worn track", track, 330.0))
    names = "".join(
        svg.line(MIDDLE_X + x, y_end, 418, y - 5, **LEADER) + svg.text(424, y, name, size=15)
        for y, name, x, y_end in rows
    )
    edge = svg.text(MIDDLE_X, 42, "outer edge", size=15, anchor="middle")
    if ridge <= HALF_NEW:
        return names + edge
    x = MIDDLE_X + (HALF_NEW + ridge) / 2
    rust = svg.line(x, 28, x, EDGE_Y + 10, **LEADER) + svg.text(x, 22, "rust ridge", size=15, anchor="middle")
    return names + edge + rust


def _verdict(on_ridge: bool) -> str:
    head, rest = (
        ("wrong place", ("the ridge hides the wear:", "the gauge reads too much"))
        if on_ridge
        else ("right place", ("flat on the worn track,", "in from the outer edge"))
    )
    return svg.text(424, 138, head, size=17, font_weight="bold") + "".join(
        svg.text(424, 160 + 20 * row, line, size=15) for row, line in enumerate(rest)
    )


def _desc(rust: bool, grooves: bool, on_ridge: bool) -> str:
    where = (
        "rest on the ridge at the outer edge"
        if on_ridge
        else "rest on the worn track, in from the outer edge"
    )
    return (
        "A cut through the rotor at its outer edge. "
        + ("A rust ridge stands out on both faces at the edge. " if rust else "")
        + "Below it, the pads have worn both faces back from where they were when new. "
        + ("Grooves are cut into the worn faces. " if grooves else "")
        + f"The micrometer's two flat anvils {where}."
    )


def _defs(uid: str) -> str:
    cut = svg.tag("path", d="M0 0V9", stroke=palette.STEEL_MID, stroke_width="2")
    rust = svg.circle(3, 3, 1.1, fill=palette.INK)
    steel = [
        (0, palette.STEEL_DARK),
        (0.35, palette.STEEL_LIGHT),
        (0.6, palette.STEEL_WHITE),
        (1, palette.STEEL_DARK),
    ]
    return (
        svg.pattern(f"{uid}-cut", 9, cut, turn_deg=45)
        + svg.pattern(f"{uid}-rust", 6, rust)
        + svg.gradient(f"{uid}-rod", steel)
    )
