"""A floating caliper cut through its pins: what presses each pad, and what the pins hold back."""

from __future__ import annotations

from brakecourse.trade.slide_pins import pad_force_split_n
from brakecourse.views import palette, svg
from brakecourse.views.drawings import _slide_parts as parts
from brakecourse.views.drawings._force_arrows import block
from brakecourse.views.drawings._hatch import lining_cut, steel_cut
from brakecourse.views.drawings._inputs import above_zero, within
from brakecourse.views.drawings.slide_places import FINGER_MM, PLATE_MM, SlideCut, SlidePlaces

WIDTH = 640
ARROW_PX = 100.0
TOP_PX = 40.0
NAMES_X = 524.0
SOFT = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


def slide_force_svg(
    cut: SlideCut,
    clamp_n: float,
    drag_n: float,
    *,
    full_n: float,
    inner_mm: float,
    outer_mm: float,
    uid: str,
    title: str = "A floating caliper cut through its pins",
) -> str:
    """Draw a floating caliper from the rotor's rim, cut through piston and pins, with its forces.

    Args:
        cut: its sizes.
        clamp_n: force of the piston or pistons, N, 0 to ``full_n``.
        drag_n: drag of both pins together, N, 0 or more.
        full_n: the force that the longest arrow stands for, N.
        inner_mm, outer_mm: lining left of each pad, mm, 0 to the new one.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The caliper is at true proportion; the length of each arrow, and of each piece of the bar
        below, goes with its force; without pressure there is no bar. The description tells which are longer,
        and no force.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        Forces: :func:`brakecourse.trade.slide_pins.pad_force_split_n`. The make of the caliper: common
        practice, no source.
    """
    if not isinstance(cut, SlideCut):
        raise ValueError(f"The caliper must be a SlideCut, but it was {str(cut)[:40]!r}.")
    full = above_zero(full_n, "largest force in N")
    clamp = within(clamp_n, "force of the piston in N", 0, full)
    inner = within(inner_mm, "lining of the inner pad in mm", 0, cut.lining_new_mm)
    outer = within(outer_mm, "lining of the outer pad in mm", 0, cut.lining_new_mm)
    svg.check_uid(uid)
    split = pad_force_split_n(clamp, within(drag_n, "drag of the pins in N", 0, 1e6))
    lost = clamp - split.outer_n
    at = SlidePlaces(cut, inner, outer)
    on, low = _paper(cut)
    drawn = (
        parts.bracket(at, on, uid)
        + parts.pins(at, on, uid)
        + parts.pads_and_rotor(at, on, uid)
        + parts.body(at, on, uid)
        + _arrows(at, on, split.inner_n / full, split.outer_n / full, lost / full)
        + _names(at, on)
        + (_bar(low, clamp / full, lost / full, uid) if clamp else "")
    )
    desc = _desc(inner, outer, split.outer_n, clamp, lost)
    height = round(low + 106) if clamp else round(low - ARROW_PX / 2)
    return svg.frame(WIDTH, height, drawn, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _paper(cut: SlideCut) -> tuple[parts.OnPaper, float]:
    """Return how the caliper comes onto the picture, and where it ends below; the same while pads wear."""
    new, worn = SlidePlaces(cut, cut.lining_new_mm, cut.lining_new_mm), SlidePlaces(cut, 0.0, 0.0)
    px = min(470 / (2 * (new.arm_far + 2)), 3.0)
    y0 = TOP_PX - px * worn.back
    low = y0 + px * max(new.plate_out + FINGER_MM, new.arm_low)
    tail = y0 + px * new.plate_out + ARROW_PX  # of the longest arrow at the outer pad
    return parts.OnPaper(20 + px * (new.arm_far + 2), y0, px), max(low, tail) + 26


def _arrows(at: SlidePlaces, on: parts.OnPaper, inner: float, outer: float, lost: float) -> str:
    many = len(at.centres)
    drawn = "".join(
        block(
            (on.x(centre), on.y(at.plate_in)),
            ARROW_PX * inner / many,
            "down",
            palette.SKY_BLUE,
            "arrow-inner",
        )
        for centre in at.centres
    )
    drawn += block((on.x(0), on.y(at.plate_out)), ARROW_PX * outer, "up", palette.BLUISH_GREEN, "arrow-outer")
    for side in (-1, 1):  # the bracket holds each pin back with half of it
        tip = (on.x(side * at.pin), on.y(at.arm_top + at.cut.depth_mm * 0.55))
        drawn += block(tip, ARROW_PX * lost / 2, "down", palette.ORANGE, "arrow-drag")
    return drawn


def _names(at: SlidePlaces, on: parts.OnPaper) -> str:
    edge = on.x(at.arm_far) + 8
    piston_u = at.centres[-1] + at.cut.piston_mm / 2 - 2
    rows = [
        ("piston", on.x(piston_u), on.y(at.plate_in - 0.6 * at.piston_long)),
        ("slide pin", on.x(at.pin), on.y(at.arm_top + 5)),
        ("inner pad", on.x(at.cut.pad_length_mm / 2 - 4), on.y(-(at.half + at.inner_mm + PLATE_MM / 2))),
        ("rotor", on.x(at.cut.pad_length_mm / 2 - 4), on.y(0)),
        ("outer pad", on.x(at.cut.pad_length_mm / 2 - 4), on.y(at.half + at.outer_mm + PLATE_MM / 2)),
        ("bracket", on.x(at.arm_far - 2), on.y(at.arm_low - 3)),
    ]
    drawn = (
        svg.text(16, 24, "leading end", size=15, fill=palette.INK_SOFT)
        + svg.text(edge - 10, 24, "trailing end", size=15, anchor="end", fill=palette.INK_SOFT)
        + svg.text(on.x(0), 24, "piston's side", size=15, anchor="middle", fill=palette.INK_SOFT)
    )
    last = 0.0
    for name, x, y in rows:
        word_y = max(y, last + 22)
        last = word_y
        drawn += svg.polyline([(x, y), (edge + 6, word_y), (NAMES_X - 4, word_y)], **SOFT)
        drawn += svg.circle(x, y, 2.6, fill=palette.INK)
        drawn += svg.text(NAMES_X, word_y + 5, name, size=16)
    return drawn


def _bar(low: float, clamp: float, lost: float, uid: str) -> str:
    """Draw the body's pull as a bar: what the pins keep, and what is left for the outer pad."""
    x, y, tall, whole = 20.0, low + 18, 24.0, 600.0
    drawn = svg.text(x, y - 7, "the piston's force, and where the body's pull goes", size=15)
    drawn += svg.rect(x, y, whole, tall, fill=palette.PANEL, stroke=palette.RULE)
    drawn += svg.rect(
        x, y, whole * clamp, tall, fill=palette.SKY_BLUE, data_part="bar-piston", stroke=palette.INK
    )
    drawn += svg.text(x + 6, y + 17, "piston = inner pad", size=14)
    y += tall + 3
    kept = whole * lost
    if kept > 0.5:
        for fill in (palette.ORANGE, f"url(#{uid}-slant)"):
            drawn += svg.rect(x, y, kept, tall, fill=fill, stroke=palette.INK, data_part="bar-drag")
    if clamp - lost > 0.001:
        drawn += svg.rect(
            x + kept, y, whole * (clamp - lost), tall, fill=palette.BLUISH_GREEN, stroke=palette.INK,
            data_part="bar-outer",
        )  # fmt: skip
    words = y + tall + 19
    legend = (
        (x, palette.ORANGE, "striped: held back by the pins"),
        (x + 262, palette.BLUISH_GREEN, "plain: left for the outer pad"),
    )
    for left, fill, name in legend:
        drawn += svg.rect(left, words - 12, 14, 14, fill=fill, stroke=palette.INK)
        drawn += svg.text(left + 20, words, name, size=15)
    return drawn + svg.rect(x, words - 12, 14, 14, fill=f"url(#{uid}-slant)", stroke=palette.INK)


def _desc(inner: float, outer: float, outer_n: float, clamp: float, lost: float) -> str:
    told = (
        "A floating caliper seen from the rotor's rim, cut through its piston and its two slide pins. The "
        "piston presses the inner pad down on the rotor. The body, held by the pins in the bracket, pulls "
        "the outer pad up with its fingers. "
    )
    if not clamp:
        told += "No pressure: no arrows. "
    elif lost <= 0.005 * clamp:
        told += "The arrows at both pads are equally long. "
    elif outer_n:
        told += "An arrow at each pin holds the body back. The arrow at the outer pad is the shorter one. "
    else:
        told += "The pins hold all of it: no arrow is left at the outer pad. "
    if abs(inner - outer) < 0.3:
        return told + "Both linings are equally thick."
    return told + f"The {'inner' if inner < outer else 'outer'} pad's lining is the thinner one."


def _defs(uid: str) -> str:
    across = [(0, palette.STEEL_DARK), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_MID)]
    stripe = svg.tag("path", d="M0 0V8", stroke=palette.INK, stroke_width="2")
    return (
        svg.gradient(f"{uid}-body", [(0, palette.STEEL_LIGHT), (0.5, palette.STEEL), (1, palette.STEEL_MID)])
        + svg.gradient(f"{uid}-round", across, across=True)
        + svg.gradient(f"{uid}-bright", across, across=True)
        + svg.pattern(f"{uid}-slant", 8, stripe, turn_deg=45)
        + steel_cut(uid)
        + lining_cut(uid)
    )
