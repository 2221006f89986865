"""A brake hose and the boots of its caliper, close up, as they are found."""

from __future__ import annotations

import math
from typing import Literal, get_args

from brakecourse.views import palette, svg

WIDTH, HEIGHT = 720, 400
HoseSkin = Literal[
    "whole", "fine lines", "rubbed cover", "cracked to the cords", "rubbed to the cords", "blister"
]
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}
# The hose as a curve: from its fitting at the body's pipe to its banjo at the caliper.
START, BEND, TURN, END = (112.0, 66.0), (300.0, 56.0), (70.0, 250.0), (258.0, 296.0)
PLACE = 0.5  # where along it the glass stands
GLASS = (536.0, 196.0, 150.0)
THICK = 25.0
Spot = tuple[float, float]


def hose_card_svg(
    skin: HoseSkin,
    *,
    uid: str,
    wet: bool = False,
    wet_fitting: bool = False,
    title: str = "The hose, close up",
) -> str:
    """Draw a hose between its fittings, and one place of it under a glass while it is bent.

    Args:
        skin: what its cover looks like.
        uid: a word that no other drawing on the page has.
        wet: fluid stands at the place under the glass.
        wet_fitting: fluid stands at the banjo bolt.
        title: the name that a screen reader says.

    Raises:
        ValueError: there is no such skin.

    Source:
        The make of a brake hose, a tube with cords under a rubber cover: common practice, no source.

    Example:
        >>> hose_card_svg("whole", uid="h")[:4]
        '<svg'
    """
    if skin not in get_args(HoseSkin):
        raise ValueError(f"The skin must be one of {', '.join(get_args(HoseSkin))}, but it was {skin!r}.")
    svg.check_uid(uid)
    drawn = _hose(wet, wet_fitting) + _glass(skin, wet, uid) + _labels()
    return svg.frame(
        WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=_desc(skin, wet, wet_fitting), defs=_defs(uid)
    )


_SEEN: dict[HoseSkin, str] = {
    "whole": "The cover is smooth all round.",
    "fine lines": "The cover shows fine, short lines like dry skin. They do not open, and no cords show.",
    "rubbed cover": "A flat, shining patch has been rubbed into the cover. No cords show.",
    "cracked to the cords": "Wide cracks gape across the hose. Woven cords show at their bottom.",
    "rubbed to the cords": "A patch of the cover is rubbed away. Woven cords show in it.",
    "blister": "The cover stands out in a round lump.",
}


def _desc(skin: HoseSkin, wet: bool, wet_fitting: bool) -> str:
    told = "A rubber hose leads from a pipe's fitting in a bracket to the banjo bolt at a caliper. Under a "
    told += f"round glass, bent by hand: {_SEEN[skin][0].lower()}{_SEEN[skin][1:]}"
    told += " Drops of fluid stand there." if wet else " It is dry there."
    return told + (" Drops of fluid stand at the banjo bolt." if wet_fitting else " The banjo bolt is dry.")


def _on(t: float) -> Spot:
    share = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    spots = (START, BEND, TURN, END)
    x, y = (sum(part * spot[axis] for part, spot in zip(share, spots, strict=True)) for axis in (0, 1))
    return x, y


def _hose(wet: bool, wet_fitting: bool) -> str:
    spots = ("M", *START, "C", *BEND, *TURN, *END)
    drawn = svg.rect(34, 40, 20, 60, rx="3", fill=palette.STEEL_MID, **EDGE)  # the bracket
    drawn += svg.line(0, 68, 36, 68, stroke=palette.STEEL_EDGE, stroke_width="13")
    drawn += svg.line(0, 68, 36, 68, stroke=palette.STEEL, stroke_width="10")
    drawn += svg.rect(54, 50, 24, 34, rx="2", fill=palette.STEEL_LIGHT, **EDGE)
    drawn += svg.path(*spots, fill="none", stroke=palette.INK, stroke_width=THICK)
    drawn += svg.path(*spots, fill="none", stroke=palette.RUBBER, stroke_width=THICK - 3)
    drawn += svg.path(
        *spots, fill="none", stroke=palette.STEEL_MID, stroke_width="2.5", stroke_opacity="0.7"
    )  # the maker's stripe
    drawn += svg.rect(74, 51, 46, 31, rx="4", fill=palette.STEEL, **EDGE)
    drawn += "".join(svg.line(x, 52, x, 81, stroke=palette.STEEL_DARK) for x in (84, 94, 104))
    return drawn + _banjo() + _drops_at(wet, wet_fitting)


def _banjo() -> str:
    """Draw the crimped end, the banjo with its bolt and washers, and a corner of the caliper."""
    turn = math.degrees(math.atan2(END[1] - TURN[1], END[0] - TURN[0]))
    end = svg.rect(-22, -15.5, 46, 31, rx="4", fill=palette.STEEL, **EDGE)
    end += "".join(svg.line(x, -14.5, x, 14.5, stroke=palette.STEEL_DARK) for x in (-12, -2, 8))
    drawn = svg.rect(300, 316, 92, 70, rx="8", fill=palette.IRON, **EDGE)
    drawn += svg.group(
        end, transform=f"translate({svg.num(END[0])} {svg.num(END[1])}) rotate({svg.num(turn)})"
    )
    drawn += svg.line(276, 301, 314, 303, stroke=palette.STEEL_EDGE, stroke_width="17")
    drawn += svg.line(276, 301, 314, 303, stroke=palette.STEEL, stroke_width="14")
    drawn += svg.rect(316, 290, 44, 26, rx="9", fill=palette.STEEL, **EDGE)
    for y in (286, 316):
        drawn += svg.rect(318, y, 40, 4, fill=palette.ORANGE, **EDGE)  # copper washers
    drawn += svg.rect(318, 262, 40, 24, rx="3", fill=palette.STEEL_MID, **EDGE)
    return drawn + "".join(svg.line(x, 263, x, 285, stroke=palette.STEEL_EDGE) for x in (330, 346))


def _drop(x: float, y: float, size: float) -> str:
    spots: tuple[str | float, ...]
    spots = ("M", x, y - 1.6 * size, "C", x + 0.4 * size, y - 0.8 * size, x + size, y - 0.3 * size)
    spots += (x + size, y + 0.2 * size, "A", size, size, 0, 1, 1, x - size, y + 0.2 * size)
    spots += ("C", x - size, y - 0.3 * size, x - 0.4 * size, y - 0.8 * size, x, y - 1.6 * size, "Z")
    return svg.path(*spots, fill=palette.FLUID_PALE, data_part="drop", **EDGE)


def _drops_at(wet: bool, wet_fitting: bool) -> str:
    x, y = _on(PLACE)
    drawn = _drop(x + 2, y + 30, 6) + _drop(x - 9, y + 46, 5) if wet else ""
    return drawn + (_drop(330, 336, 8) + _drop(352, 336, 6) + _drop(338, 358, 5) if wet_fitting else "")


def _glass(skin: HoseSkin, wet: bool, uid: str) -> str:
    """Draw the place under the glass: the hose bent over a thumb, as wide as the glass can show it."""
    cx, cy, r = GLASS
    x, y = _on(PLACE)
    guide = svg.line(x + 18, y - 6, cx - r + 4, cy - 30, stroke=palette.INK, stroke_width="1.2")
    guide += svg.circle(x, y, 20, fill="none", stroke=palette.INK, stroke_width="2")
    inside = svg.rect(cx - r, cy - r, 2 * r, 2 * r, fill=palette.PANEL)
    inside += _bent(cx, cy, skin, uid)
    inside += _drop(cx - 18, cy + 112, 13) + _drop(cx + 34, cy + 102, 10) if wet else ""
    if wet:
        inside += svg.path(
            "M", cx - 80, cy + 78, "Q", cx, cy + 52, cx + 84, cy + 80, "L", cx + 70, cy + 92,
            "Q", cx, cy + 70, cx - 66, cy + 94, "Z", fill=palette.FLUID_PALE, fill_opacity="0.85",
        )  # fmt: skip
    look = svg.group(inside, clip_path=f"url(#{uid}-glass)")
    return guide + look + svg.circle(cx, cy, r, fill="none", stroke=palette.STEEL_DARK, stroke_width="6")


def _bent(cx: float, cy: float, skin: HoseSkin, uid: str) -> str:
    """Draw a thick piece of hose as an arch, its outer side up, with what is wrong with its skin."""
    arch = ("M", cx - 190, cy + 76, "Q", cx, cy - 76, cx + 190, cy + 76)
    drawn = svg.path(*arch, fill="none", stroke=palette.INK, stroke_width="122")
    drawn += svg.path(*arch, fill="none", stroke=f"url(#{uid}-rubber)", stroke_width="118")
    drawn += svg.path(
        *arch, fill="none", stroke=palette.STEEL_MID, stroke_width="7", stroke_opacity="0.6",
        transform="translate(0 30)",
    )  # fmt: skip
    return drawn + _WRONG[skin](cx, cy, uid)


def _nothing(cx: float, cy: float, uid: str) -> str:
    return ""


def _fine(cx: float, cy: float, uid: str) -> str:
    lines = []
    for row in range(4):
        for place in range(9):
            x = cx - 104 + 26 * place + (11 if row % 2 else 0)
            y = cy - 44 + 15 * row + (x - cx) ** 2 / 620
            lines.append((x, y, x + 3 - row % 3, y + 9))
    return svg.strokes(lines, stroke=palette.STEEL_MID, stroke_width="1.6", data_part="fine-line")


def _rubbed(cx: float, cy: float, uid: str) -> str:
    patch = svg.tag(
        "ellipse", cx=svg.num(cx + 6), cy=svg.num(cy - 26), rx="62", ry="20",
        fill=palette.STEEL_EDGE, stroke=palette.STEEL_DARK, stroke_width="1.5", data_part="rubbed",
    )  # fmt: skip
    shine = [(cx - 40 + 14 * n, cy - 30 + n % 2 * 7, cx - 22 + 14 * n, cy - 30 + n % 2 * 7) for n in range(6)]
    return patch + svg.strokes(shine, stroke=palette.STEEL_MID, stroke_width="1.4")


def _cords(cx: float, cy: float, uid: str) -> str:
    look = {"fill": f"url(#{uid}-cords)", "stroke": palette.INK, "stroke_width": "3", "data_part": "cords"}
    return svg.path(
        "M", cx - 62, cy - 18, "Q", cx - 48, cy - 50, cx - 4, cy - 54,
        "Q", cx + 58, cy - 54, cx + 66, cy - 22,
        "Q", cx + 40, cy + 4, cx + 2, cy, "Q", cx - 44, cy + 4, cx - 62, cy - 18, "Z", **look,
    )  # fmt: skip


def _cracks(cx: float, cy: float, uid: str) -> str:
    drawn = ""
    for dx, long, wide in ((-72, 52, 7), (-22, 70, 11), (34, 62, 9), (84, 46, 6)):
        x, y = cx + dx, cy - 56 + dx * dx / 420
        spots = (
            "M",
            x,
            y,
            "L",
            x + wide,
            y + 0.4 * long,
            "L",
            x + 2,
            y + long,
            "L",
            x - wide,
            y + 0.5 * long,
            "Z",
        )
        drawn += svg.path(
            *spots, fill=f"url(#{uid}-cords)", stroke=palette.INK, stroke_width="3.5", data_part="cords"
        )
    return drawn


def _lump(cx: float, cy: float, uid: str) -> str:
    spots: tuple[str | float, ...]
    spots = ("M", cx - 70, cy - 50, "C", cx - 50, cy - 116, cx + 50, cy - 118, cx + 68, cy - 50)
    spots += ("Q", cx, cy + 26, cx - 70, cy - 50, "Z")
    lump = svg.path(*spots, fill=f"url(#{uid}-lump)", stroke=palette.INK, stroke_width="2", data_part="lump")
    shine = ("M", cx - 30, cy - 84, "Q", cx - 4, cy - 100, cx + 26, cy - 86)
    return lump + svg.path(
        *shine, fill="none", stroke=palette.STEEL, stroke_width="5", stroke_linecap="round"
    )


_WRONG = {
    "whole": _nothing,
    "fine lines": _fine,
    "rubbed cover": _rubbed,
    "cracked to the cords": _cracks,
    "rubbed to the cords": _cords,
    "blister": _lump,
}


def _labels() -> str:
    cx, cy, r = GLASS
    return (
        svg.text(34, 30, "from the body's pipe", size=15)
        + svg.text(338, 252, "banjo bolt", size=15, anchor="middle")
        + svg.text(346, 379, "caliper", size=15, anchor="middle")
        + svg.text(cx, cy + r + 30, "bent by hand, under the glass", size=15, anchor="middle")
    )


def _defs(uid: str) -> str:
    cx, cy, r = GLASS
    weave = svg.strokes([(0, 0, 8, 8), (0, 8, 8, 0)], stroke=palette.STEEL_DARK, stroke_width="1.6")
    ground = svg.rect(0, 0, 8, 8, fill=palette.PLASTIC)
    return (
        svg.tag("clipPath", svg.circle(cx, cy, r), id=f"{uid}-glass")
        + svg.gradient(f"{uid}-rubber", [(0, palette.STEEL_EDGE), (0.5, palette.RUBBER), (1, palette.INK)])
        + svg.gradient(f"{uid}-lump", [(0, palette.STEEL_DARK), (0.6, palette.RUBBER), (1, palette.INK)])
        + svg.pattern(f"{uid}-cords", 8, ground + weave)
    )
