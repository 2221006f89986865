"""A round pressure gauge: megapascals on the outer ring, pounds per square inch on the inner one."""

from __future__ import annotations

from functools import cache

from brakecourse.published import convert
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._round import Ring, Sweep, needle, nice_step, ring

SMALLEST_MPA, LARGEST_MPA = 0.5, 100.0
LINES_PER_NUMBER = 10
PSI_NUMERALS = (1, 10, 100)
WIDTH, HEIGHT = 400, 470
CENTRE = (200.0, 202.0)
BEZEL, FACE = 192.0, 176.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}


def pressure_gauge_svg(
    pressure_mpa: float,
    *,
    full_mpa: float = 16,
    psi_numeral: float = 1,
    uid: str,
    title: str = "Pressure gauge",
) -> str:
    """Draw a pressure gauge that shows a pressure.

    Args:
        pressure_mpa: what the gauge indicates, in MPa, 0 to the scale's end.
        full_mpa: end of the scale, in MPa, 0.5 to 100. It fixes the lines: at most eighty.
        psi_numeral: what a number on the psi ring stands for, in psi: 1, 10 or 100. It is printed there.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the needle stands, never the pressure.

    Raises:
        ValueError: a pressure is no number or out of range.

    Source:
        Conversion by :func:`brakecourse.published.convert`; the rest is common practice, no source.

    Example:
        >>> pressure_gauge_svg(6.4, uid="g1").startswith("<svg")
        True
    """
    full = within(full_mpa, "end of the pressure scale in MPa", SMALLEST_MPA, LARGEST_MPA)
    pressure = within(pressure_mpa, "pressure in MPa", 0, full)
    if isinstance(psi_numeral, bool) or psi_numeral not in PSI_NUMERALS:
        raise ValueError(
            f"A number on the psi ring must stand for 1, 10 or 100 psi, but it was {str(psi_numeral)[:40]!r}."
        )
    svg.check_uid(uid)
    sweep = Sweep(0, full, -135, 135)
    line = line_mpa(full)
    hub = svg.circle(0, 0, 13, fill=f"url(#{uid}-bezel)", **EDGE) + svg.circle(
        0, 0, 4, fill=palette.STEEL_EDGE
    )
    body = svg.group(
        _fitting(uid)
        + _body(uid)
        + _rings(full, psi_numeral)
        + needle(sweep.angle(pressure), 150, 46, 5)
        + hub,
        transform=f"translate({svg.num(CENTRE[0])} {svg.num(CENTRE[1])})",
    )
    desc = (
        "A round pressure gauge with two rings of lines. The outer ring is in megapascals, with a line for "
        f"each {line:g} and a number at each {LINES_PER_NUMBER * line:g}. The inner ring is in pounds per "
        f"square inch. On the outer ring the needle stands {stands(pressure, line, LINES_PER_NUMBER)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def line_mpa(full_mpa: float) -> float:
    """Return the value of one line of the outer ring, in MPa.

    Args:
        full_mpa: end of the scale, in MPa.

    Example:
        >>> line_mpa(16)
        0.2
    """
    return nice_step(full_mpa, 80)


@cache
def _rings(full: float, psi_numeral: float) -> str:
    full_psi = convert(full, "MPa", "psi")
    outer = Ring(line_mpa(full), LINES_PER_NUMBER, 166, 24, 122, 22, name="mpa")
    inner = Ring(
        nice_step(full_psi, 50),
        LINES_PER_NUMBER,
        98,
        15,
        66,
        15,
        fill=palette.BLUE_TEXT,
        name="psi",
        stands_for=psi_numeral,
    )
    circle = svg.circle(0, 0, 98, fill="none", stroke=palette.BLUE, stroke_width="0.8", stroke_opacity="0.6")
    return (
        ring(Sweep(0, full, -135, 135), outer)
        + circle
        + ring(Sweep(0, full_psi, -135, 135), inner)
        + svg.text(0, 136, "MPa", size=20, anchor="middle", font_weight="bold")
        + svg.text(
            0,
            76,
            "psi" if psi_numeral == 1 else f"psi × {psi_numeral:g}",
            size=16,
            anchor="middle",
            fill=palette.BLUE_TEXT,
            font_weight="bold",
        )
    )


def _body(uid: str) -> str:
    return (
        svg.circle(0, 0, BEZEL, fill=f"url(#{uid}-bezel)", **EDGE)
        + svg.circle(0, 0, BEZEL - 7, fill="none", stroke=palette.STEEL_WHITE, stroke_width="2")
        + svg.circle(0, 0, FACE, fill=palette.DIAL_FACE, **EDGE)
    )


def _fitting(uid: str) -> str:
    """Draw the square and the six-sided part below the case, and the start of the hose."""
    steel = f"url(#{uid}-steel)"
    six = "".join(
        svg.rect(x, 204, w, 26, fill=steel, **EDGE) for x, w in ((-26.0, 13.0), (-13.0, 26.0), (13.0, 13.0))
    )
    return (
        svg.rect(-17, 184, 34, 24, fill=steel, **EDGE)
        + six
        + svg.rect(-11, 230, 22, 12, fill=steel, **EDGE)
        + svg.rect(-14, 240, 28, 24, rx="3", fill=palette.RUBBER, **EDGE)
    )


def _defs(uid: str) -> str:
    bright = [(0, palette.STEEL_DARK), (0.3, palette.STEEL), (0.5, palette.STEEL_WHITE), (0.7, palette.STEEL)]
    return svg.gradient(f"{uid}-steel", [*bright, (1, palette.STEEL_DARK)], across=True) + svg.gradient(
        f"{uid}-bezel", [(0, palette.STEEL_WHITE), (0.5, palette.STEEL_MID), (1, palette.STEEL_DARK)]
    )
