"""The brake pedal from the side, with a rule along its way, and the rule drawn large at the pedal's face."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _pedal_parts as parts
from brakecourse.views.drawings._display import digits_words
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._pedal_parts import RULE_Y
from brakecourse.views.drawings._rule import LINES_PER_NUMBER, rule, rule_defs

SHORTEST_MM, LONGEST_MM = 40.0, 200.0
LARGEST_N, MOST_STROKES, LONGEST_S = 2000.0, 99, 600.0

WIDTH, HEIGHT = 480, 470
REST_X, FLOOR_X = 100.0, 390.0  # the pedal's face at rest, and with the pedal on the floor
LENS_Y, LENS_HEIGHT = 378.0, 84.0
LENS_PX = 13.0


def pedal_svg(
    travel_mm: float,
    *,
    room_mm: float,
    uid: str,
    title: str = "Brake pedal",
    force_n: float | None = None,
    strokes: int | None = None,
    stopwatch_s: float | None = None,
) -> str:
    """Draw a brake pedal that is pressed some way towards the floor.

    Args:
        travel_mm: how far the pedal's face has moved from rest, in mm, 0 to the room.
        room_mm: from rest to where the floor stops it, in mm, 40 to 200.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        force_n: what a force gauge on the pedal's face shows, in N, 0 to 2000. None: no gauge.
        strokes: what a stroke counter shows, 0 to 99. None: no counter.
        stopwatch_s: what a stopwatch shows, in s, 0 to 600, in the counter's place. None: no stopwatch.

    Returns:
        SVG text. Its description tells at which lines of the rule the face stands, never the travel.

    Raises:
        ValueError: a number is no number or out of range, the strokes are no whole number, or counter and
            stopwatch are asked for together.

    Source:
        Travel measured from rest along the pedal's way: common practice, no source.

    Example:
        >>> pedal_svg(48, room_mm=130, uid="k1").startswith("<svg")
        True
    """
    room = within(room_mm, "room from rest to floor in mm", SHORTEST_MM, LONGEST_MM)
    travel = within(travel_mm, "pedal travel in mm", 0, room)
    force = None if force_n is None else within(force_n, "pedal force in N", 0, LARGEST_N)
    counted = None if strokes is None else _strokes(strokes)
    timed = None if stopwatch_s is None else within(stopwatch_s, "time on the stopwatch in s", 0, LONGEST_S)
    if counted is not None and timed is not None:
        raise ValueError("A stroke counter or a stopwatch can be drawn, but both were asked for.")
    svg.check_uid(uid)
    px = (FLOOR_X - REST_X) / room
    face_x = REST_X + travel * px
    body = (
        parts.floor(FLOOR_X, uid)
        + _levels()
        + parts.arm(face_x, uid)
        + (parts.force(force, face_x, uid) if force is not None else "")
        + (parts.counter(counted) if counted is not None else "")
        + (parts.stopwatch(timed) if timed is not None else "")
        + rule(
            REST_X,
            RULE_Y,
            room,
            px,
            uid=uid,
            breadth=48,
            ends=(40.0, 24.0),
            size=15,
            line_mm=1 if px > 3 else 5,
        )
        + svg.text(REST_X - 34, RULE_Y + 34, "mm", size=14)
        + _lens(travel, room, face_x, uid)
    )
    return svg.frame(
        WIDTH,
        HEIGHT,
        body,
        uid=uid,
        title=title,
        desc=_desc(travel, room, force, counted, timed),
        defs=_defs(uid),
    )


def _strokes(strokes: object) -> int:
    if isinstance(strokes, bool) or not isinstance(strokes, int) or not 0 <= strokes <= MOST_STROKES:
        raise ValueError(
            f"The stroke counter must show a whole number from 0 to {MOST_STROKES}, "
            f"but it was {str(strokes)[:40]!r}."
        )
    return strokes


def _levels() -> str:
    """Draw where the face stands at rest, and where it would stand with the pedal on the floor."""
    lines = ""
    for x, word in ((REST_X, "rest"), (FLOOR_X, "floor")):
        lines += svg.line(
            x,
            116,
            x,
            RULE_Y,
            stroke=palette.BLUE,
            stroke_width="1.6",
            stroke_dasharray="8 4",
            data_part=f"line-{word}",
        )
        lines += svg.text(x, 108, word, size=16, anchor="middle", fill=palette.BLUE_TEXT, font_weight="bold")
    return lines


def _lens(travel: float, room: float, face_x: float, uid: str) -> str:
    """Draw the rule at the pedal's face once more, larger."""
    left, right = 10.0, WIDTH - 10.0
    middle = WIDTH / 2
    clip = svg.tag("clipPath", svg.rect(left, LENS_Y, right - left, LENS_HEIGHT, rx="6"), id=f"{uid}-lens")
    reach = 20
    first, last = max(0.0, math.floor(travel) - reach), min(room, math.floor(travel) + reach)
    large = rule(
        middle - travel * LENS_PX,
        LENS_Y + 26,
        last,
        LENS_PX,
        uid=uid,
        from_mm=first,
        breadth=72,
        ends=(60.0, 60.0),
        size=19,
    )
    line = svg.line(
        middle,
        LENS_Y,
        middle,
        LENS_Y + 32,
        stroke=palette.VERMILLION,
        stroke_width="2",
        data_part="lens-line",
    )
    rays = [(face_x - 14, RULE_Y + 48, left + 4, LENS_Y), (face_x + 14, RULE_Y + 48, right - 4, LENS_Y)]
    return (
        svg.strokes(rays, stroke=palette.STEEL_MID, stroke_width="1.2", stroke_dasharray="3 4")
        + clip
        + svg.rect(left, LENS_Y, right - left, LENS_HEIGHT, rx="6", fill=palette.PANEL)
        + svg.group(large + line, clip_path=f"url(#{uid}-lens)", data_part="lens")
        + svg.rect(
            left,
            LENS_Y,
            right - left,
            LENS_HEIGHT,
            rx="6",
            fill="none",
            stroke=palette.STEEL_MID,
            stroke_width="1.5",
        )
    )


def _desc(travel: float, room: float, force: float | None, strokes: int | None, timed: float | None) -> str:
    told = (
        "A brake pedal from the side, hung from its pivot. A rule lies along its way, zero where the face "
        f"stands at rest. The floor line stands at {room:g} mm. On the rule, also drawn large, the pedal's "
        f"face stands {stands(travel, 1, LINES_PER_NUMBER)}."
    )
    if force is not None:
        told += f" The display of the force gauge shows {digits_words(f'{force:.0f}')}, and the unit N."
    if strokes is not None:
        told += f" The stroke counter shows {digits_words(f'{strokes:02d}')}."
    if timed is not None:
        told += f" The stopwatch shows {digits_words(f'{timed:.1f}')}, and the unit s."
    return told


def _defs(uid: str) -> str:
    cut = svg.tag("path", d="M0 0V7", stroke=palette.STEEL_DARK, stroke_width="1.5")
    steel = [(0, palette.STEEL_DARK), (0.4, palette.STEEL_LIGHT), (1, palette.STEEL_MID)]
    return (
        rule_defs(uid)
        + svg.gradient(f"{uid}-arm", steel, across=True)
        + svg.pattern(f"{uid}-cut", 7, cut, turn_deg=45)
    )
