"""The rubber boots of a caliper, close up: the piston's, and those of its slide pins."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg

WIDTH, HEIGHT = 720, 380
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}
PISTON = (196.0, 196.0, 118.0)  # the piston's boot, seen on its face: middle and outer radius
PINS_X, PIN_Y = 418.0, (112.0, 258.0)


def boots_card_svg(
    *,
    uid: str,
    piston_torn: bool = False,
    pin_torn: bool = False,
    pins: bool = True,
    wet: bool = False,
    wet_fitting: bool = False,
    title: str = "The boots, close up",
) -> str:
    """Draw the piston's boot on its face and the slide pins' boots from the side.

    Args:
        uid: a word that no other drawing on the page has.
        piston_torn: the piston's boot has a tear.
        pin_torn: the upper pin's boot has a tear.
        pins: the caliper has slide pins.
        wet: fluid stands at the piston's boot.
        wet_fitting: fluid stands at the fitting of the hose.
        title: the name that a screen reader says.

    Source:
        The make of a caliper: common practice, no source.

    Example:
        >>> boots_card_svg(uid="b")[:4]
        '<svg'
    """
    svg.check_uid(uid)
    drawn = _piston(piston_torn, wet, uid) + (_pins(pin_torn, uid) if pins else _no_pins())
    drawn += _fitting(wet_fitting)
    desc = _desc(piston_torn, pin_torn, pins, wet, wet_fitting)
    return svg.frame(WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _desc(piston_torn: bool, pin_torn: bool, pins: bool, wet: bool, wet_fitting: bool) -> str:
    told = "The piston of a caliper seen on its face, a folded rubber boot round it. "
    told += (
        "The boot has a tear. Rust shows in it, and dirt. "
        if piston_torn
        else "The boot lies in even folds all round. "
    )
    told += "Drops of fluid hang at its lower edge. " if wet else "It is dry. "
    if pins:
        told += "Beside it two slide pins with folded boots. "
        told += "The upper one is torn; rust shows on the pin." if pin_torn else "Both boots are whole."
    else:
        told += "This caliper is fixed and has no slide pins."
    return told + (
        " Drops of fluid hang at the hose's fitting." if wet_fitting else " The hose's fitting is dry."
    )


def _ring(angle_deg: float, radius: float) -> tuple[float, float]:
    cx, cy, _ = PISTON
    turn = math.radians(angle_deg)
    return cx + radius * math.cos(turn), cy + radius * math.sin(turn)


def _piston(torn: bool, wet: bool, uid: str) -> str:
    cx, cy, r = PISTON
    drawn = svg.rect(cx - 158, cy - 158, 316, 316, rx="34", fill=f"url(#{uid}-iron)", **EDGE)
    drawn += svg.circle(cx, cy, r + 6, fill=palette.STEEL_DARK, **EDGE)
    for step, colour in enumerate(
        (palette.RUBBER, palette.STEEL_EDGE, palette.RUBBER, palette.STEEL_EDGE, palette.RUBBER)
    ):
        drawn += svg.circle(cx, cy, r - 8 * step, fill=colour, stroke=palette.INK, stroke_width="1.2")
    drawn += svg.circle(cx, cy, r - 40, fill=f"url(#{uid}-bright)", data_part="piston", **EDGE)
    drawn += svg.circle(cx, cy, r - 54, fill=palette.STEEL_EDGE, **EDGE)
    drawn += svg.circle(cx, cy, r - 57, fill=f"url(#{uid}-cup)")
    drawn += _tear() if torn else ""
    if wet:
        drawn += svg.path(
            "M", *_ring(60, r - 4), "A", r - 4, r - 4, 0, 0, 1, *_ring(122, r - 4), "L", *_ring(118, r - 26),
            "A", r - 26, r - 26, 0, 0, 0, *_ring(64, r - 26), "Z",
            fill=palette.FLUID_PALE, fill_opacity="0.85",
        )  # fmt: skip
        drawn += "".join(_drop(x, y, s) for x, y, s in ((cx - 16, cy + r + 18, 10), (cx + 14, cy + r + 8, 8)))
    label = svg.text(cx, cy + 176, "the piston and its boot", size=15, anchor="middle")
    return drawn + label + svg.text(cx, cy + 5, "piston", size=15, anchor="middle")


def _tear() -> str:
    """Draw a gaping tear at the upper right of the piston's boot, with rust and dirt in it."""
    r = PISTON[2]
    spots = [_ring(-62, r), _ring(-50, r - 14), _ring(-58, r - 22), _ring(-44, r - 38), _ring(-34, r - 36)]
    spots += [_ring(-40, r - 18), _ring(-32, r - 12), _ring(-44, r + 1)]
    drawn = svg.polygon(spots, fill=palette.RUST, stroke=palette.CHALK, stroke_width="2", data_part="tear")
    grains = [_ring(-50 + 3 * n, r - 8 - 4 * n) for n in range(6)]
    return drawn + "".join(svg.circle(x, y, 2.2, fill=palette.INK) for x, y in grains)


def _pins(torn: bool, uid: str) -> str:
    drawn = ""
    for place, y in enumerate(PIN_Y):
        x = PINS_X
        drawn += svg.rect(
            x - 6, y - 30, 92, 60, rx="6", fill=f"url(#{uid}-iron)", **EDGE
        )  # the bracket's ear
        drawn += svg.rect(x + 84, y - 13, 120, 26, fill=f"url(#{uid}-bright)", data_part="pin", **EDGE)
        drawn += svg.rect(x + 196, y - 24, 26, 48, rx="4", fill=palette.STEEL_MID, **EDGE)  # the bolt's head
        folds = ((18, 27), (16, 19), (18, 26), (16, 18), (18, 24), (14, 17))
        at = x + 82.0
        for wide, half in folds:
            drawn += svg.rect(at, y - half, wide, 2 * half, rx="6", fill=palette.RUBBER, stroke=palette.INK)
            at += wide - 4
        if torn and place == 0:
            spots = [
                (x + 112, y - 27),
                (x + 124, y - 4),
                (x + 118, y + 8),
                (x + 132, y + 24),
                (x + 146, y + 22),
            ]
            spots += [(x + 138, y + 2), (x + 146, y - 10), (x + 134, y - 26)]
            drawn += svg.polygon(
                spots, fill=palette.RUST, stroke=palette.CHALK, stroke_width="2", data_part="pin-tear"
            )
        words = ("upper slide pin and its boot", "lower slide pin and its boot")[place]
        drawn += svg.text(x + 98, y + 52, words, size=15, anchor="middle")
    return drawn


def _no_pins() -> str:
    return svg.text(PINS_X + 100, 180, "fixed caliper: no slide pins", size=15, anchor="middle")


def _fitting(wet: bool) -> str:
    x, y = 470.0, 346.0
    drawn = svg.line(x + 26, y - 6, x + 130, y - 6, stroke=palette.RUBBER, stroke_width="18")
    drawn += svg.rect(x + 14, y - 18, 30, 24, rx="3", fill=palette.STEEL, **EDGE)
    drawn += svg.rect(x - 18, y - 20, 36, 28, rx="9", fill=palette.STEEL, **EDGE)
    drawn += svg.circle(x, y - 6, 9, fill=palette.STEEL_MID, **EDGE)
    drawn += _drop(x - 6, y + 22, 6) + _drop(x + 8, y + 16, 6) if wet else ""
    return drawn + svg.text(x + 142, y, "hose's fitting", size=15)


def _drop(x: float, y: float, size: float) -> str:
    spots: tuple[str | float, ...]
    spots = ("M", x, y - 1.6 * size, "C", x + 0.4 * size, y - 0.8 * size, x + size, y - 0.3 * size)
    spots += (x + size, y + 0.2 * size, "A", size, size, 0, 1, 1, x - size, y + 0.2 * size)
    spots += ("C", x - size, y - 0.3 * size, x - 0.4 * size, y - 0.8 * size, x, y - 1.6 * size, "Z")
    return svg.path(*spots, fill=palette.FLUID_PALE, data_part="drop", **EDGE)


def _defs(uid: str) -> str:
    return (
        svg.gradient(f"{uid}-iron", [(0, palette.STEEL_LIGHT), (0.5, palette.IRON), (1, palette.STEEL_MID)])
        + svg.gradient(
            f"{uid}-bright", [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
        )
        + svg.gradient(f"{uid}-cup", [(0, palette.STEEL_MID), (1, palette.STEEL_LIGHT)])
    )
