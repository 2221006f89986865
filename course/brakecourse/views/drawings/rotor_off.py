"""A rotor that waits to come off: the wheel nuts are off; a screw, threaded holes, or neither."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings import hub_shapes as shapes
from brakecourse.views.drawings._round import around

WIDTH, HEIGHT = 640, 380
CENTRE = (206.0, 190.0)
OUTER_PX = 168.0
LEADER = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


def rotor_off_svg(
    size: shapes.HubAndRotor,
    *,
    uid: str,
    screw: bool,
    holes: bool,
    title: str = "A rotor that has to come off",
) -> str:
    """Draw the rotor from the front on its studs, the wheel nuts off, and name its parts.

    Args:
        size: hub and rotor.
        uid: a word that no other drawing on the page has.
        screw: a countersunk screw still holds the hat to the hub.
        holes: two threaded holes go through the hat.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Source:
        Common practice, no source.

    Example:
        >>> size = shapes.HubAndRotor(142, 90, 116, 66, 22, 114, 5)
        >>> "threaded hole" in rotor_off_svg(size, uid="o1", screw=False, holes=True)
        True
    """
    svg.check_uid(uid)
    scale = OUTER_PX / size.outer_mm
    ring = size.stud_circle_mm / 2 * scale
    half = 180 / size.studs
    middle = (size.inner_mm + size.outer_mm) / 2 * scale
    drawn = shapes.front(size, scale, -60, uid) + shapes.studs(size, scale) + _rust(size, scale, ring, half)
    names = [
        ("friction face", around(52, middle), 74.0),
        ("hat", around(66, (size.hat_mm - 6) * scale), 122.0),
    ]
    seen = ["The wheel nuts are off."]
    if screw:
        at = around(half, ring)
        drawn += _screw(*at, 7 * scale)
        names.append(("countersunk screw", at, 170.0))
        seen.append("A countersunk screw holds the hat to the hub.")
    if holes:
        first, second = _opposite_gaps(size.studs)
        at = around(first, ring)
        drawn += _thread(*at, 5 * scale) + _thread(*around(second, ring), 5 * scale)
        names.append(("threaded hole, one of two", at, 218.0))
        seen.append("Two threaded holes go through the hat between the studs.")
    if not screw and not holes:
        seen.append("There is no screw and no threaded hole in the hat.")
    names.append(("rust round the pilot of the hub", around(118, size.bore_mm * scale), 266.0))
    words = "".join(
        svg.line(CENTRE[0] + x, CENTRE[1] + y, 402, row - 5, **LEADER) + svg.text(408, row, name, size=15)
        for name, (x, y), row in names
    )
    desc = f"A rotor from the front on its {size.studs} studs. {' '.join(seen)} Rust binds it to the hub."
    body = svg.group(drawn, transform=f"translate({CENTRE[0]:g} {CENTRE[1]:g})") + words
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=shapes.front_defs(uid))


def _opposite_gaps(studs: int) -> tuple[float, float]:
    """Return two directions between studs, as opposite as they can be, clear of the screw's."""
    step = 360 / studs
    first = step * 1.5
    return first, first + step * (studs // 2)


def _rust(size: shapes.HubAndRotor, scale: float, ring: float, half: float) -> str:
    look = {"fill": "none", "stroke": palette.RUST}
    drawn = svg.circle(0, 0, size.bore_mm * scale, stroke_width="4", stroke_dasharray="9 3 5 2", **look)
    for stud in range(size.studs):
        x, y = around(360 * stud / size.studs, ring)
        drawn += svg.circle(x, y, 8 * scale, stroke_width="2.5", stroke_dasharray="6 3", **look)
    return drawn


def _screw(x: float, y: float, radius: float) -> str:
    cross = [(x - radius * 0.6, y, x + radius * 0.6, y), (x, y - radius * 0.6, x, y + radius * 0.6)]
    return (
        svg.circle(
            x, y, radius, fill=palette.STEEL_MID, stroke=palette.INK, stroke_width="1.2", data_part="screw"
        )
        + svg.circle(x, y, radius * 0.8, fill=palette.STEEL, stroke=palette.STEEL_DARK, stroke_width="0.8")
        + svg.strokes(cross, stroke=palette.INK, stroke_width="2.4")
    )


def _thread(x: float, y: float, radius: float) -> str:
    rings = "".join(
        svg.circle(x, y, radius * share, fill="none", stroke=palette.STEEL_MID, stroke_width="0.8")
        for share in (0.6, 0.75, 0.9)
    )
    return svg.circle(x, y, radius, fill=palette.INK, stroke=palette.INK, data_part="threaded-hole") + rings
