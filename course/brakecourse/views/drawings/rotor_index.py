"""A rotor on its studs from the front: the hub's arrow, the rotor's arrow, and the two laid end to end.

An arrow is as long as the run-out and points to where the face stands out most.
"""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings import hub_shapes as shapes
from brakecourse.views.drawings._inputs import finite, within
from brakecourse.views.drawings._round import around, nice_step

Arrow = tuple[float, float]
"""Total run-out in mm, and the direction of the high spot in degrees in turning order from stud 0."""

MOST_MM = 1.0
WIDTH, HEIGHT = 640, 430
CENTRE = (190.0, 222.0)
OUTER_PX = 164.0
LONGEST_PX = 158.0
START_BOX = (384.0, 92.0, 236.0, 250.0)
LOOK = {
    "hub": (palette.BLUE_TEXT, 4.5, ""),
    "rotor": (palette.VERMILLION_TEXT, 4.5, "9 4"),
    "together": (palette.INK, 3.0, ""),
}


def rotor_index_svg(
    size: shapes.HubAndRotor,
    hub: Arrow,
    rotor: Arrow,
    index: int,
    *,
    uid: str,
    tell_together: bool = True,
    title: str = "Rotor turned on its studs",
) -> str:
    """Draw the rotor turned on by some studs, with the arrows of hub and rotor.

    Args:
        size: hub and rotor.
        hub: the hub's arrow. It stays where it is.
        rotor: the rotor's arrow with its chalk mark at stud 0. It turns with the rotor.
        index: how many studs the rotor is turned on, 0 to studs - 1.
        uid: a word that no other drawing on the page has.
        tell_together: draw the third arrow, from the start of the first to the end of the second.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        Two waves of one turn add like arrows: textbook mechanics.

    Example:
        >>> size = shapes.HubAndRotor(142, 90, 116, 66, 22, 114, 5)
        >>> "turned on by 2 studs" in rotor_index_svg(size, (0.04, 20), (0.05, 65), 2, uid="r1")
        True
    """
    if isinstance(index, bool) or not isinstance(index, int) or not 0 <= index < size.studs:
        raise ValueError(f"The rotor can be turned on by 0 to {size.studs - 1} studs, but it was {index!r}.")
    hub_mm, hub_deg = _checked(hub, "hub")
    rotor_mm, at_start = _checked(rotor, "rotor")
    svg.check_uid(uid)
    turned = 360 * index / size.studs
    rotor_deg = (at_start + turned) % 360
    longest = hub_mm + rotor_mm
    px = LONGEST_PX / longest if longest else 0.0
    body = (
        svg.group(
            shapes.front(size, OUTER_PX / size.outer_mm, turned, uid)
            + shapes.studs(size, OUTER_PX / size.outer_mm)
            + _numbers(size)
            + _from_middle(hub_mm * px, hub_deg, "hub")
            + _from_middle(rotor_mm * px, rotor_deg, "rotor"),
            transform=f"translate({CENTRE[0]:g} {CENTRE[1]:g})",
        )
        + _end_to_end((hub_mm * px, hub_deg), (rotor_mm * px, rotor_deg), tell_together)
        + _ruler(longest, px)
        + _words(index, tell_together)
    )
    desc = _desc(size.studs, index, hub_mm, hub_deg, rotor_mm, rotor_deg, tell_together)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=shapes.front_defs(uid))


def studs_on(index: int) -> str:
    """Say how far the rotor is turned on.

    >>> studs_on(0), studs_on(1), studs_on(3)
    ('not turned on', 'turned on by 1 stud', 'turned on by 3 studs')
    """
    return f"turned on by {index} stud{'' if index == 1 else 's'}" if index else "not turned on"


def _checked(arrow: Arrow, whose: str) -> Arrow:
    total, angle = arrow
    return (
        within(total, f"run-out of the {whose} in mm", 0, MOST_MM),
        finite(angle, f"direction of the {whose}'s high spot in degrees") % 360,
    )


def _from_middle(length: float, angle: float, name: str) -> str:
    colour, width, dashes = LOOK[name]
    if name == "hub":
        width *= 1.8  # so that it shows under the rotor's where both point the same way
    end = around(angle, length)
    under = svg.line(0, 0, *end, stroke=palette.CHALK, stroke_width=f"{width + 4:g}", stroke_linecap="round")
    return under + shapes.arrow((0, 0), end, colour, width, f"{name}-arrow", dashes)


def _numbers(size: shapes.HubAndRotor) -> str:
    """Number the studs of the hub, outside the hat's plate."""
    scale = OUTER_PX / size.outer_mm
    drawn = ""
    for stud in range(size.studs):
        x, y = around(360 * stud / size.studs, (size.outer_mm + size.inner_mm) / 2 * scale)
        drawn += svg.circle(x, y, 12, fill=palette.CHALK, stroke=palette.STEEL_EDGE, stroke_width="1")
        drawn += svg.text(
            x, y + 5, stud, size=15, anchor="middle", font_weight="bold", data_part="stud-number"
        )
    return drawn


def _end_to_end(hub: Arrow, rotor: Arrow, tell_together: bool) -> str:
    """Lay the rotor's arrow on the end of the hub's; the third arrow is what the dial will show."""
    corner = around(hub[1], hub[0])
    on = around(rotor[1], rotor[0])
    end = (corner[0] + on[0], corner[1] + on[1])
    xs, ys = [0.0, corner[0], end[0]], [0.0, corner[1], end[1]]
    x, y, width, height = START_BOX
    start = (x + width / 2 - (min(xs) + max(xs)) / 2, y + height / 2 - (min(ys) + max(ys)) / 2)
    drawn = svg.rect(x, y, width, height, rx="8", fill=palette.PANEL, stroke=palette.RULE)
    inside = ""
    if tell_together:
        # Beside the two, so that arrows which lie over each other can still be told apart.
        colour, width_px, _ = LOOK["together"]
        inside += svg.line(0, 0, *end, stroke=palette.STEEL, stroke_width="9", stroke_linecap="round")
        inside += shapes.arrow((0, 0), end, colour, width_px, "together")
    for name, begin, stop in (("hub", (0.0, 0.0), corner), ("rotor", corner, end)):
        colour, width_px, dashes = LOOK[name]
        inside += shapes.arrow(begin, stop, colour, width_px, f"{name}-laid", dashes)
    inside += svg.circle(0, 0, 4.5, fill=palette.PAPER, stroke=palette.INK, stroke_width="1.5")
    return drawn + svg.group(inside, transform=f"translate({svg.num(start[0])} {svg.num(start[1])})")


def _ruler(longest: float, px: float) -> str:
    """Draw how long a round number of hundredths is."""
    if not longest:
        return ""
    step = max(0.01, nice_step(longest, 4))
    x, y = 400.0, 376.0
    look = {"stroke": palette.INK, "stroke_width": "1.6"}
    ends = [(x, y - 5, x, y + 5), (x + step * px, y - 5, x + step * px, y + 5)]
    return (
        svg.line(x, y, x + step * px, y, data_part="ruler", **look)
        + svg.strokes(ends, **look)
        + svg.text(x + step * px + 10, y + 5, f"{step:g} mm of run-out", size=14)
    )


def _words(index: int, tell_together: bool) -> str:
    rows = [("hub: stays", "hub"), ("rotor: turns with the chalk mark", "rotor")]
    if tell_together:
        rows.append(("both together", "together"))
    drawn = ""
    for row, (word, name) in enumerate(rows):
        y = 24.0 + 22 * row
        colour, width, dashes = LOOK[name]
        drawn += svg.line(
            362, y - 5, 396, y - 5, stroke=colour, stroke_width=f"{width:g}", stroke_dasharray=dashes or None
        ) + svg.text(404, y, word, size=14)
    heading = studs_on(index)
    return (
        drawn
        + svg.text(20, 34, heading[0].upper() + heading[1:], size=18, font_weight="bold")
        + svg.text(20, 416, "white line: chalk mark on the rotor; numbers: studs of the hub", size=13,
                   fill=palette.INK_SOFT)
    )  # fmt: skip


def _desc(
    count: int, index: int, hub_mm: float, hub_deg: float, rotor_mm: float, rotor_deg: float, together: bool
) -> str:
    apart = abs((rotor_deg - hub_deg + 180) % 360 - 180)
    told = (
        f"A rotor from the front on a hub with {count} studs, {studs_on(index)}: its chalk mark stands "
        "at stud "
        f"{index}. The hub's arrow, {hub_mm:.2f} mm, points {hub_deg:.0f} degrees clockwise from stud 0. The "
        f"rotor's arrow, {rotor_mm:.2f} mm, now points at {rotor_deg:.0f} degrees, so the two are "
        f"{apart:.0f} degrees apart."
    )
    if together:
        longer = math.cos(math.radians(apart)) > 0
        told += f" Laid end to end, they {'help' if longer else 'work against'} each other."
    return told
