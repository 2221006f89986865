"""A hand thermometer that reads without touching, aimed at a rotor from a little way off."""

from __future__ import annotations

import math
from typing import Literal, get_args

from brakecourse.views import palette, svg
from brakecourse.views.drawings._display import degrees_shown, digits_words, display
from brakecourse.views.drawings._inputs import within

Target = Literal["rotor", "hat", "caliper"]
LOWEST_C, HIGHEST_C = -50.0, 900.0

WIDTH, HEIGHT = 480, 440
ROTOR = (340.0, 160.0)
OUTER, INNER, HAT, BORE = 120.0, 70.0, 62.0, 26.0
MUZZLE = (150.0, 128.0)
SPOT_RADIUS = 13.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
_SPOTS: dict[str, tuple[svg.Point, str]] = {
    "rotor": ((ROTOR[0] - 95, ROTOR[1]), "on the rotor's bright face, where the pads rub"),
    "hat": ((ROTOR[0] - 40, ROTOR[1] + 8), "on the rotor's hat, inside the ring where the pads rub"),
    "caliper": ((ROTOR[0] + 76, ROTOR[1] - 76), "on the caliper"),
}


def infrared_thermometer_svg(
    temp_c: float,
    *,
    target: Target = "rotor",
    fahrenheit: bool = False,
    uid: str,
    title: str = "Infrared thermometer",
) -> str:
    """Draw an infrared thermometer aimed at a wheel brake, and what it shows.

    Args:
        temp_c: what the thermometer indicates, in °C, -50 to 900. It shows whole degrees.
        target: where its spot lies: on the ``"rotor"`` face where the pads rub, on the ``"hat"``, or on the
            ``"caliper"``.
        fahrenheit: the display is set to °F.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the spot lies, and the digits on the display one by one.

    Raises:
        ValueError: the temperature is no number or out of range, or the target or setting is not one of
            those.

    Source:
        Conversion by :func:`brakecourse.published.convert`; the rest is common practice, no source.

    Example:
        >>> infrared_thermometer_svg(214, uid="i1").startswith("<svg")
        True
    """
    temperature = within(temp_c, "temperature in °C", LOWEST_C, HIGHEST_C)
    if target not in get_args(Target):
        raise ValueError(f"The spot must be on 'rotor', 'hat' or 'caliper', but it was {str(target)[:40]!r}.")
    shown, unit = degrees_shown(temperature, fahrenheit)
    svg.check_uid(uid)
    spot, where = _SPOTS[target]
    body = (
        _rotor(uid)
        + _caliper(uid)
        + _aim(spot)
        + _thermometer(uid)
        + display(20, 272, 196, 112, shown, unit, places=4, digit=25)
        + _lead()
        + svg.text(20, 420, "the display, drawn larger", size=15, fill=palette.INK_SOFT)
        + _names()
    )
    desc = (
        "A hand thermometer is aimed at a brake from a little way off. A rotor with its hat and its caliper "
        f"is seen from the wheel's side. The spot lies {where}. "
        f"The display shows {digits_words(shown)}, and the unit {unit}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _rotor(uid: str) -> str:
    x, y = ROTOR
    studs = ""
    for k in range(5):
        turn = math.tau * k / 5 + 0.3
        place = (x + 44 * math.sin(turn), y - 44 * math.cos(turn))
        studs += svg.circle(place[0], place[1], 6.5, fill=palette.STEEL_EDGE) + svg.circle(
            *place, 4.5, fill=palette.STEEL
        )
    rubbed = "".join(
        svg.circle(
            x, y, radius, fill="none", stroke=palette.STEEL_DARK, stroke_width="0.6", stroke_opacity="0.5"
        )
        for radius in (78, 86, 93, 101, 109)
    )
    return (
        svg.circle(x, y, OUTER, fill=palette.RUST, **EDGE)
        + svg.circle(x, y, OUTER - 4, fill=f"url(#{uid}-face)", data_part="face", **EDGE)
        + rubbed
        + svg.circle(x, y, INNER, fill=palette.IRON, data_part="hat", **EDGE)
        + svg.circle(x, y, HAT, fill=f"url(#{uid}-hat)", **EDGE)
        + studs
        + svg.circle(x, y, BORE, fill=palette.STEEL_MID, **EDGE)
        + svg.circle(x, y, BORE - 7, fill=palette.STEEL_DARK, **EDGE)
    )


def _caliper(uid: str) -> str:
    """Draw the caliper over the rotor's upper right, as two arcs joined at their ends."""

    def at(angle: float, radius: float) -> svg.Point:
        turn = math.radians(angle)
        return ROTOR[0] + radius * math.sin(turn), ROTOR[1] - radius * math.cos(turn)

    outer = [at(angle, 134) for angle in range(14, 77, 6)]
    inner = [at(angle, 74) for angle in range(74, 15, -6)]
    bolts = [at(angle, 122) for angle in (20, 70)]
    holes = "".join(svg.circle(x, y, 6, fill=palette.STEEL_DARK, **EDGE) for x, y in bolts)
    return svg.polygon([*outer, *inner], fill=f"url(#{uid}-caliper)", data_part="caliper", **EDGE) + holes


def _aim(spot: svg.Point) -> str:
    """Draw the widening beam from the lens, and the spot that is measured."""
    x, y = MUZZLE
    away = math.hypot(spot[0] - x, spot[1] - y)
    across = (-(spot[1] - y) / away * SPOT_RADIUS, (spot[0] - x) / away * SPOT_RADIUS)
    sides = [
        (x, y - 3, spot[0] - across[0], spot[1] - across[1]),
        (x, y + 3, spot[0] + across[0], spot[1] + across[1]),
    ]
    return (
        svg.strokes(sides, stroke=palette.VERMILLION, stroke_width="1.4", stroke_dasharray="7 4")
        + svg.circle(
            *spot,
            SPOT_RADIUS,
            fill=palette.VERMILLION,
            fill_opacity="0.25",
            stroke=palette.VERMILLION,
            stroke_width="2",
            data_part="spot",
        )
        + svg.circle(*spot, 2.5, fill=palette.VERMILLION)
    )


def _thermometer(uid: str) -> str:
    """Draw the thermometer from the side: body, lens, trigger and handle."""
    return (
        svg.path(
            *(
                "M",
                46,
                146,
                "L",
                22,
                226,
                "q",
                -2,
                10,
                8,
                13,
                "l",
                38,
                8,
                "q",
                10,
                1,
                13,
                -9,
                "L",
                100,
                158,
                "Z",
            ),
            fill=f"url(#{uid}-handle)",
            **EDGE,
        )
        + svg.path(
            "M",
            98,
            158,
            "q",
            18,
            6,
            10,
            36,
            "l",
            -9,
            -2,
            "q",
            3,
            -18,
            -8,
            -22,
            "Z",
            fill=palette.RUBBER,
            **EDGE,
        )
        + svg.path(
            *("M", 30, 92, "q", 0, -8, 8, -8, "H", 112, "l", 22, 16, "V", 152, "l", -16, 10, "H", 40),
            *("q", -16, 0, -16, -16, "Z"),
            fill=f"url(#{uid}-case)",
            **EDGE,
        )
        + svg.rect(134, 106, 16, 44, rx="3", fill=palette.RUBBER, **EDGE)
        + svg.rect(16, 98, 14, 40, rx="3", fill=palette.DISPLAY, **EDGE)
        + svg.strokes([(58, 100, 104, 100), (58, 108, 104, 108)], stroke=palette.STEEL_DARK, stroke_width="3")
    )


def _lead() -> str:
    """Lead from the display on the back of the thermometer to the large one."""
    lines = [(16.0, 138.0, 17.0, 270.0), (30.0, 138.0, 219.0, 270.0)]
    return svg.strokes(lines, stroke=palette.STEEL_MID, stroke_width="1.2", stroke_dasharray="3 4")


def _names() -> str:
    leader = {"stroke": palette.INK_SOFT, "stroke_width": "1"}
    x, y = ROTOR
    return (
        svg.text(262, 322, "face", size=16)
        + svg.line(282, 307, x - 50, y + 82, **leader)
        + svg.text(330, 322, "hat", size=16)
        + svg.line(342, 307, x - 6, y + 52, **leader)
        + svg.text(388, 322, "caliper", size=16)
        + svg.line(420, 307, x + 100, y - 50, **leader)
    )


def _defs(uid: str) -> str:
    steel = [(0, palette.STEEL_WHITE), (0.5, palette.STEEL), (1, palette.STEEL_LIGHT)]
    return (
        svg.gradient(f"{uid}-face", steel, across=True)
        + svg.gradient(f"{uid}-hat", [(0, palette.STEEL), (1, palette.STEEL_DARK)])
        + svg.gradient(f"{uid}-caliper", [(0, palette.STEEL), (1, palette.STEEL_DARK)])
        + svg.gradient(
            f"{uid}-case", [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL), (1, palette.STEEL_DARK)]
        )
        + svg.gradient(f"{uid}-handle", [(0, palette.STEEL_DARK), (1, palette.STEEL_EDGE)])
    )
