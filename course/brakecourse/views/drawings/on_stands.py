"""A vehicle with one end on a pair of stands, seen from its left side, with the lengths that matter."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _shop_things as things
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._vehicle_side import KINDS, End, Kind, SideView, side_defs, vehicle_side
from brakecourse.views.words import inches, number

WIDTH, HEIGHT = 640, 410
_FLOOR = 310.0
_LONGEST_PX = 560.0
_LIFT_MM = 280.0


def on_stands_svg(
    *,
    kind: Kind,
    wheelbase_mm: float,
    gravity_to_front_mm: float,
    gravity_height_mm: float,
    tyre_radius_mm: float,
    end: End,
    uid: str,
    loads: tuple[str, str] | None = None,
    title: str = "One end on stands",
) -> str:
    """Draw a vehicle at true proportion, its front or rear axle on two stands.

    Args:
        kind: its shape, e.g. ``"van"``.
        wheelbase_mm: front axle to rear axle, 1500 to 6000.
        gravity_to_front_mm: front axle to centre of gravity.
        gravity_height_mm: height of the centre of gravity above the road.
        tyre_radius_mm: wheel centre to road.
        end: which axle is on the stands.
        uid: a word that no other drawing on the page has.
        loads: words for what the stands and the other axle carry; None for question marks.
        title: what a screen reader says first.

    Returns:
        The SVG text.

    Raises:
        ValueError: no such shape or end, or a length out of its range.

    Example:
        >>> on_stands_svg(kind="van", wheelbase_mm=2750, gravity_to_front_mm=1265, gravity_height_mm=650,
        ...     tyre_radius_mm=305, end="front", uid="demo").startswith("<svg")
        True
    """
    if kind not in KINDS or end not in ("front", "rear"):
        raise ValueError(
            f"A shape of {', '.join(KINDS)} and an end were expected, but got {kind!r}, {end!r}."
        )
    base = within(wheelbase_mm, "wheelbase in mm", 1500, 6000)
    back = within(gravity_to_front_mm, "centre of gravity to front axle in mm", 0, base)
    high = within(gravity_height_mm, "height of the centre of gravity in mm", 200, 2000)
    tyre = within(tyre_radius_mm, "tyre radius in mm", 150, 700)
    scale = min(_LONGEST_PX / (base + 2400), 250 / (3.1 * high))
    front_x = (WIDTH - base * scale) / 2
    view = SideView(kind, base, tyre, high, scale, front_x, _FLOOR, end, _LIFT_MM)
    body = (
        things.floor(WIDTH, _FLOOR, HEIGHT)
        + _stands(view)
        + vehicle_side(view, uid)
        + _chocks(view)
        + _weight(view, back)
        + _lengths(view, back)
        + _loads(view, loads)
    )
    other = "rear" if end == "front" else "front"
    desc = (
        f"A {kind} from its left side. The {end} axle is up on two stands, its wheel off; the {other} wheels "
        f"stand on the floor between chocks. Front axle to rear axle: {_told(base)}. Front axle to centre of "
        f"gravity: {_told(back)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=side_defs(uid))


def _stands(view: SideView) -> str:
    """The two stands right under the axle: the far one a little aside, so that both are seen."""
    axle = 0.0 if view.raised == "front" else view.wheelbase_mm
    x, y = view.at(axle, 0.72 * view.tyre_radius_mm)
    return things.stand(x + 15, y, view.floor_y - 5) + things.stand(x, y, view.floor_y)


def _chocks(view: SideView) -> str:
    """The wedges at the wheel that stays down."""
    down = view.wheelbase_mm if view.raised == "front" else 0.0
    return things.chocks(view.x(down), view.tyre_radius_mm * view.scale, view.floor_y)


def _weight(view: SideView, back: float) -> str:
    x, y = view.at(back, view.gravity_height_mm)
    quarters: list[str | float] = ["M", x, y, "v", -9, "a", 9, 9, 0, 0, 1, 9, 9, "Z"]
    quarters += ["M", x, y, "v", 9, "a", 9, 9, 0, 0, 1, -9, -9, "Z"]
    mark = svg.circle(x, y, 9, fill=palette.CHALK, stroke=palette.INK, stroke_width=1.6)
    mark += svg.path(*quarters, fill=palette.INK)
    return svg.group(mark + things.arrow(x, y + 11, y + 62, palette.BLUE), data_part="gravity")


def _lengths(view: SideView, back: float) -> str:
    start, end = view.x(0), view.x(view.wheelbase_mm)
    middle = view.x(back)
    y, low = view.floor_y + 22, view.floor_y + 62
    return _length(start, middle, y, _told(back)) + _length(start, end, low, _told(view.wheelbase_mm))


def _length(start: float, end: float, y: float, words: str) -> str:
    line = svg.strokes(
        [(start, y, end, y), (start, y - 7, start, y + 7), (end, y - 7, end, y + 7)],
        stroke=palette.INK_SOFT,
        stroke_width=1.4,
    )
    return line + svg.text((start + end) / 2, y + 18, words, size=15, anchor="middle")


def _loads(view: SideView, loads: tuple[str, str] | None) -> str:
    axle, other = (0.0, view.wheelbase_mm) if view.raised == "front" else (view.wheelbase_mm, 0.0)
    words = loads or ("both stands: ?", "both wheels: ?")
    drawn = ""
    for place, one in zip((axle, other), words, strict=True):
        x = view.x(place)
        anchor = "start" if x < WIDTH / 2 else "end"
        edge = 14.0 if anchor == "start" else WIDTH - 14.0
        drawn += svg.text(edge, 24, one, size=15, anchor=anchor, font_weight="600")
        drawn += svg.text(
            edge,
            44,
            f"at the {'front' if place == 0 else 'rear'} axle",
            size=14,
            anchor=anchor,
            fill=palette.INK_SOFT,
        )
    return drawn


def _told(length_mm: float) -> str:
    return f"{number(length_mm, 0)} mm ({inches(length_mm, 1)})"
