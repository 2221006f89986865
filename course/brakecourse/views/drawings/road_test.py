"""A vehicle on its road test from above: its four rotors with their temperatures, smoke, and its way."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal, get_args

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _vehicle_above as above
from brakecourse.views.drawings._chart import halo
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._vehicle_above import LONG_PX, MIDDLE, NOSE_Y

Way = Literal["left", "right", "neither"]
PLACES = ("front left", "front right", "rear left", "rear right")

WIDTH, HEIGHT = 480, 500
FRONT_MM, REAR_MM = 850.0, 950.0  # overhangs. Assumption, no source.
WIDE_SHARE = 0.42  # width over length of a road vehicle, about. Assumption, no source.


def road_test_svg(
    shown_c: Sequence[float],
    *,
    wheelbase_mm: float,
    tyre_radius_mm: float,
    uid: str,
    title: str = "Road test",
    pull: Way = "neither",
    smoke: Collection[int] = (),
    haze: Collection[int] = (),
    noise: bool = False,
) -> str:
    """Draw a vehicle from above, its nose up.

    Args:
        shown_c: what the thermometer shows at the rotors, °C: front left and right, rear left and right.
        wheelbase_mm: front axle to rear axle, mm.
        tyre_radius_mm: wheel centre to road, mm.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        pull: where it goes when braking.
        smoke: the wheels at which smoke is seen, by their place in ``shown_c``.
        haze: the wheels at which there is a light haze only.
        noise: the brakes make a noise.

    Returns:
        SVG text. Its description tells the temperatures, smoke, haze, noise, and where it goes.

    Raises:
        ValueError: not four temperatures, a number out of range, or no such way or wheel.

    Source:
        Left and right as the driver sits: common practice, no source.

    Example:
        >>> heats = (120, 118, 60, 61)
        >>> road_test_svg(heats, wheelbase_mm=3000, tyre_radius_mm=320, uid="r1").startswith("<svg")
        True
    """
    heats = _heats(shown_c)
    base = within(wheelbase_mm, "wheelbase in mm", 1500, 7000)
    radius = within(tyre_radius_mm, "tyre radius in mm", 200, 700)
    if pull not in get_args(Way):
        raise ValueError(f"The way must be left, right or neither, but it was {str(pull)[:40]!r}.")
    smoking, hazy = _places(smoke), [place for place in _places(haze) if place not in smoke]
    svg.check_uid(uid)
    px = LONG_PX / (base + FRONT_MM + REAR_MM)
    wide = LONG_PX * WIDE_SHARE
    wheels = [
        (MIDDLE + side * (wide / 2 - 8), NOSE_Y + (FRONT_MM + back * base) * px)
        for back in (0, 1)
        for side in (-1, 1)
    ]
    body = (
        _way(pull)
        + "".join(above.wheel(x, y, radius * px) for x, y in wheels)
        + above.hull(wide, uid)
        + "".join(_smoke(*wheels[place], left=place % 2 == 0, light=False) for place in smoking)
        + "".join(_smoke(*wheels[place], left=place % 2 == 0, light=True) for place in hazy)
        + (_noise(wide) if noise else "")
        + "".join(
            _heat(x, y, PLACES[place], heats[place], left=place % 2 == 0)
            for place, (x, y) in enumerate(wheels)
        )
    )
    return svg.frame(
        WIDTH,
        HEIGHT,
        body,
        uid=uid,
        title=title,
        desc=_desc(heats, pull, smoking, hazy, noise=bool(noise)),
        defs=above.defs(uid),
    )


def _heats(shown_c: object) -> list[float]:
    if isinstance(shown_c, str) or not isinstance(shown_c, Sequence) or len(shown_c) != 4:
        raise ValueError("Four temperatures were expected: front left and right, rear left and right.")
    return [within(heat, "temperature in °C", -50, 900) for heat in shown_c]


def _places(wheels: Collection[int]) -> list[int]:
    places = sorted(set(wheels))
    if any(place not in range(4) for place in places):
        raise ValueError(f"Smoke can be at the wheels 0 to 3, but it was at {str(places)[:40]}.")
    return places


def _desc(heats: list[float], pull: str, smoking: list[int], hazy: list[int], *, noise: bool) -> str:
    told = "A vehicle from above, its nose up. The thermometer shows: "
    told += ", ".join(f"{name} {heat:.0f} °C" for name, heat in zip(PLACES, heats, strict=True)) + ". "
    told += "It runs straight when braking." if pull == "neither" else f"When braking it goes to the {pull}."
    for place in smoking:
        told += f" Smoke rises at the {PLACES[place]} wheel."
    for place in hazy:
        told += f" A light haze rises at the {PLACES[place]} wheel."
    return told + (" The brakes make a noise." if noise else "")


def _way(pull: str) -> str:
    """Draw the lane ahead, and the way that the vehicle takes in it."""
    lane = [(MIDDLE - 112, 16, MIDDLE - 112, HEIGHT - 16), (MIDDLE + 112, 16, MIDDLE + 112, HEIGHT - 16)]
    shift = {"left": -58.0, "right": 58.0, "neither": 0.0}[pull]
    tip = (MIDDLE + shift, 46.0)
    turn = {"left": -38, "right": 38, "neither": 0}[pull]
    head = svg.polygon(
        [(-11, 4), (11, 4), (0, -22)],
        fill=palette.BLUE,
        transform=f"translate({svg.num(tip[0])} {svg.num(tip[1])}) rotate({turn})",
    )
    words = "straight" if pull == "neither" else f"to the {pull}"
    anchor = "start" if pull != "left" else "end"
    return (
        svg.rect(MIDDLE - 112, 0, 224, HEIGHT, fill=palette.PANEL)
        + svg.strokes(lane, stroke=palette.STEEL_MID, stroke_width="3", stroke_dasharray="18 12")
        + svg.line(
            MIDDLE,
            NOSE_Y - 6,
            MIDDLE,
            40,
            stroke=palette.STEEL_MID,
            stroke_width="1.4",
            stroke_dasharray="4 5",
        )
        + svg.path(
            *("M", MIDDLE, NOSE_Y - 4, "C", MIDDLE, 100, MIDDLE + shift * 0.5, 74, tip[0], tip[1] + 2),
            fill="none",
            stroke=palette.BLUE,
            stroke_width="5",
            data_part="way",
        )
        + head
        + halo(
            tip[0] + (24 if anchor == "start" else -24),
            tip[1] + 2,
            words,
            size=16,
            anchor=anchor,
            font_weight="bold",
        )
    )


def _heat(x: float, y: float, name: str, heat: float, *, left: bool) -> str:
    """Write what the thermometer shows beside a wheel."""
    edge = 12.0 if left else WIDTH - 12.0
    anchor = "start" if left else "end"
    near = edge + (100 if left else -100)
    return (
        svg.line(near, y, x + (-14 if left else 14), y, stroke=palette.INK_SOFT, stroke_width="1.2")
        + svg.text(
            edge, y + 2, f"{heat:.0f} °C", size=21, anchor=anchor, font_weight="bold", data_part="heat"
        )
        + svg.text(edge, y + 22, name, size=15, anchor=anchor, fill=palette.INK_SOFT)
    )


def _smoke(x: float, y: float, *, left: bool, light: bool) -> str:
    """Draw smoke or a light haze at a wheel, with its word."""
    away = -1 if left else 1
    puffs = [
        (x + away * 6, y - 12, 13.0),
        (x + away * 20, y - 26, 17.0),
        (x + away * 8, y - 40, 14.0),
        (x + away * 30, y - 48, 19.0),
    ]
    look = {"fill": palette.STEEL_MID, "fill_opacity": "0.55", "stroke": palette.STEEL_DARK}
    word, part = "smoke", "smoke"
    if light:
        puffs = [(px, py, size * 0.7) for px, py, size in puffs[:3]]
        look = {"fill": palette.STEEL_LIGHT, "fill_opacity": "0.8", "stroke": palette.STEEL_MID}
        word, part = "light haze", "haze"
    drawn = "".join(
        svg.circle(px, py, size, stroke_width="0.8", data_part=part, **look) for px, py, size in puffs
    )
    beside = x + away * (44 if light else 56)
    return drawn + halo(beside, y - 42, word, size=16, anchor="end" if left else "start", font_weight="bold")


def _noise(wide: float) -> str:
    """Draw a noise that comes from the brakes: three arcs and the word."""
    y = NOSE_Y + LONG_PX / 2
    arcs = "".join(
        svg.path(
            "M",
            MIDDLE - size,
            y,
            "A",
            size,
            size,
            0,
            0,
            1,
            MIDDLE + size,
            y,
            fill="none",
            stroke=palette.BLUE,
            stroke_width="3",
            data_part="noise",
        )
        for size in (8.0, 16.0, 24.0)
    )
    return arcs + svg.text(MIDDLE, y + 24, "noise", size=16, anchor="middle", font_weight="bold")
