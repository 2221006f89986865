"""A caliper that has been taken off, and how it is held: hook, hose, arm."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.views import palette, svg

WIDTH, HEIGHT = 640, 470
Held = Literal["hook", "strap", "hose", "arm", "twisted", "taut"]
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}
SPRING_X, HUB = 372.0, (470.0, 300.0)
BRACKET = (232.0, 84.0)
# Where the caliper hangs: its upper left corner.
PLACES: dict[Held, tuple[float, float]] = {
    "hook": (282.0, 206.0),
    "strap": (282.0, 214.0),
    "hose": (190.0, 262.0),
    "arm": (262.0, 332.0),
    "twisted": (282.0, 206.0),
    "taut": (322.0, 262.0),
}
Spot = tuple[float, float]


def caliper_hung_svg(
    held: Held, *, uid: str, mirrored: bool = False, title: str = "How the caliper is held"
) -> str:
    """Draw the corner of a vehicle with its caliper taken off.

    Args:
        held: how it is held: by a hook or a strap at the spring, by its own hose, lying on the arm, by a hook
            with its hose twisted, or by a hook so far away that the hose is taut.
        uid: a word that no other drawing on the page has.
        mirrored: draw the other side of the vehicle.
        title: the name that a screen reader says.

    Raises:
        ValueError: there is no such way.

    Source:
        Common practice, no source.

    Example:
        >>> caliper_hung_svg("hook", uid="k")[:4]
        '<svg'
    """
    if held not in get_args(Held):
        raise ValueError(f"The caliper must be held in one of {', '.join(get_args(Held))}, not {held!r}.")
    svg.check_uid(uid)
    drawn = _corner(uid) + _hose(held) + _hook(held) + _caliper(held, uid)
    if mirrored:
        drawn = svg.group(drawn, transform=f"translate({WIDTH} 0) scale(-1 1)")
    return svg.frame(
        WIDTH,
        HEIGHT,
        drawn + _labels(held, mirrored),
        uid=uid,
        title=title,
        desc=_SEEN[held],
        defs=_defs(uid),
    )


_HERE = "A spring on its strut, a hub with its rotor, and the arm below. The caliper has been taken off. "
_SEEN: dict[Held, str] = {
    "hook": f"{_HERE}A hook in a coil of the spring carries it. Its hose hangs in an easy bend.",
    "strap": f"{_HERE}A strap round a coil of the spring carries it. Its hose hangs in an easy bend.",
    "hose": f"{_HERE}There is no hook. It hangs straight down from its hose.",
    "arm": f"{_HERE}There is no hook. It lies loose on the arm. Its hose hangs in an easy bend.",
    "twisted": f"{_HERE}A hook in a coil of the spring carries it. The stripe on its hose winds round it.",
    "taut": f"{_HERE}A long hook carries it low and far over. Its hose is drawn straight.",
}


def _corner(uid: str) -> str:
    """Draw strut and spring, hub, rotor and arm."""
    x = SPRING_X
    drawn = svg.rect(x - 60, 18, 120, 16, rx="4", fill=palette.STEEL_MID, **EDGE)  # the spring's upper seat
    drawn += svg.rect(x - 7, 30, 14, 120, fill=f"url(#{uid}-bright)", **EDGE)
    drawn += svg.rect(x - 17, 138, 34, 196, rx="6", fill=f"url(#{uid}-iron)", **EDGE)
    drawn += svg.rect(x - 54, 168, 108, 10, rx="4", fill=palette.STEEL_DARK, **EDGE)
    for turn in range(5):
        y = 38 + 26 * turn
        coil = ("M", x - 48, y + 8, "C", x - 20, y + 24, x + 24, y + 18, x + 48, y + 14)
        drawn += svg.path(
            *coil, fill="none", stroke=palette.STEEL_EDGE, stroke_width="12", stroke_linecap="round"
        )
        drawn += svg.path(*coil, fill="none", stroke=palette.STEEL, stroke_width="9", stroke_linecap="round")
    hx, hy = HUB
    knuckle = ("M", x - 16, 300, "L", hx - 10, hy - 40, "L", hx - 4, hy + 60, "L", x - 10, 404, "Z")
    drawn += svg.path(*knuckle, fill=palette.IRON, **EDGE)
    drawn += svg.rect(
        hx - 14, hy - 132, 20, 264, rx="2", fill=f"url(#{uid}-rotor)", data_part="rotor", **EDGE
    )
    drawn += svg.rect(hx + 6, hy - 62, 34, 124, rx="4", fill=palette.STEEL_MID, **EDGE)
    for dy in (-38, 0, 38):
        drawn += svg.rect(hx + 40, hy + dy - 5, 32, 10, rx="2", fill=palette.STEEL_LIGHT, **EDGE)
    drawn += svg.rect(hx - 44, hy - 108, 28, 44, rx="4", fill=palette.IRON, **EDGE)  # bracket's two ends
    drawn += svg.rect(hx - 44, hy + 40, 28, 44, rx="4", fill=palette.IRON, **EDGE)
    arm = ("M", 40, 432, "L", 60, 402, "L", 380, 396, "Q", 402, 396, 402, 414, "Q", 402, 430, 380, 430, "Z")
    drawn += svg.path(*arm, fill=palette.STEEL_DARK, data_part="arm", **EDGE)
    bx, by = BRACKET
    drawn += svg.line(20, by - 36, bx - 8, by - 8, stroke=palette.STEEL_EDGE, stroke_width="8")
    drawn += svg.line(20, by - 36, bx - 8, by - 8, stroke=palette.STEEL, stroke_width="5")
    return drawn + svg.rect(bx - 13, by - 14, 26, 26, rx="3", fill=palette.STEEL_MID, **EDGE)


def _inlet(held: Held) -> Spot:
    x, y = PLACES[held]
    return (x + 46, y - 2) if held == "hose" else (x - 4, y + 34)


def _hose(held: Held) -> str:
    bx, by = BRACKET
    x, y = _inlet(held)
    spots: tuple[str | float, ...]
    if held in ("hose", "taut"):
        spots = ("M", bx, by + 10, "L", x, y)
    else:
        low = min(y + 84, 412)
        spots = ("M", bx, by + 10, "C", bx - 74, by + 160, x - 140, low, x, y)
    drawn = svg.path(*spots, fill="none", stroke=palette.INK, stroke_width="15", data_part="hose")
    drawn += svg.path(*spots, fill="none", stroke=palette.RUBBER, stroke_width="12.5")
    if held == "twisted":
        stripe = {"stroke": palette.STEEL_WHITE, "stroke_width": "12", "stroke_dasharray": "4 9"}
        return drawn + svg.path(*spots, fill="none", data_part="wound-stripe", **stripe)
    return drawn + svg.path(
        *spots, fill="none", stroke=palette.STEEL_WHITE, stroke_width="2", data_part="stripe"
    )


def _hook(held: Held) -> str:
    if held in ("hose", "arm"):
        return ""
    x, y = PLACES[held]
    top = (SPRING_X - 40, 126.0)
    spots: tuple[str | float, ...]
    if held == "strap":
        spots = (
            "M",
            top[0] + 4,
            top[1] - 8,
            "L",
            x + 36,
            y + 6,
            "L",
            x + 60,
            y + 6,
            "L",
            top[0] + 22,
            top[1] - 8,
            "Z",
        )
        return svg.path(
            *spots,
            fill="none",
            stroke=palette.BLUE,
            stroke_width="6",
            stroke_linejoin="round",
            data_part="strap",
        )
    spots = ("M", top[0] - 14, top[1] + 10, "Q", top[0] - 14, top[1] - 14, top[0] + 4, top[1] - 14)
    spots += ("Q", top[0] + 18, top[1] - 12, top[0] + 14, top[1] + 8, "L", x + 52, y - 20)
    spots += ("Q", x + 50, y + 12, x + 36, y + 10)
    drawn = svg.path(*spots, fill="none", stroke=palette.STEEL_EDGE, stroke_width="8", stroke_linecap="round")
    return drawn + svg.path(
        *spots, fill="none", stroke=palette.ORANGE, stroke_width="5", stroke_linecap="round", data_part="hook"
    )


def _caliper(held: Held, uid: str) -> str:
    """Draw the caliper from behind: body, bridge, fingers, the piston's housing, and the banjo."""
    x, y = PLACES[held]
    shape: tuple[str | float, ...]
    shape = ("M", x, y + 14, "Q", x, y, x + 14, y, "L", x + 88, y, "Q", x + 102, y, x + 102, y + 14)
    shape += ("L", x + 102, y + 66, "L", x + 80, y + 66, "L", x + 80, y + 34, "L", x + 62, y + 34)
    shape += (
        "L",
        x + 62,
        y + 66,
        "Q",
        x + 62,
        y + 76,
        x + 52,
        y + 76,
        "L",
        x + 12,
        y + 76,
        "Q",
        x,
        y + 76,
        x,
        y + 66,
        "Z",
    )
    drawn = svg.path(*shape, fill=f"url(#{uid}-iron)", data_part="caliper", **EDGE)
    drawn += svg.rect(x + 54, y + 40, 14, 30, rx="3", fill=f"url(#{uid}-bright)", **EDGE)  # the piston
    hooked = held in ("hook", "twisted", "taut")  # the hook's end comes through the hole
    drawn += svg.circle(x + 36, y + 12, 6, fill=palette.ORANGE if hooked else palette.PAPER, **EDGE)
    ix, iy = _inlet(held)
    return drawn + svg.rect(ix - 8, iy - 8, 16, 16, rx="4", fill=palette.STEEL, **EDGE)


def _labels(held: Held, mirrored: bool) -> str:
    x, y = PLACES[held]
    told = [(SPRING_X + 62, 90.0, "spring", "start"), (HUB[0] + 14, 160.0, "rotor", "start")]
    told += [(70, 452.0, "arm", "start"), (x + 14, y - 10 if held == "arm" else y + 96, "caliper", "start")]
    told += [(BRACKET[0] - 56, 150.0, "hose", "end")]
    if held in ("hook", "twisted", "taut"):
        told.append((396.0, 186.0, "hook", "start") if held == "taut" else (300.0, 196.0, "hook", "end"))
    if held == "strap":
        told.append((300.0, 190.0, "strap", "end"))
    drawn = ""
    for place, height, words, anchor in told:
        across, side = (
            (WIDTH - place, {"start": "end", "end": "start"}[anchor]) if mirrored else (place, anchor)
        )
        drawn += svg.text(across, height, words, size=15, anchor=side)
    return drawn


def _defs(uid: str) -> str:
    bright = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    return (
        svg.gradient(f"{uid}-iron", [(0, palette.STEEL_LIGHT), (0.5, palette.IRON), (1, palette.STEEL_MID)])
        + svg.gradient(f"{uid}-bright", bright, across=True)
        + svg.gradient(f"{uid}-rotor", [(0, palette.STEEL), (0.5, palette.STEEL_WHITE), (1, palette.STEEL)])
    )
