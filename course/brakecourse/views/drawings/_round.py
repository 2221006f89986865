"""What round and curved gauges share: a sweep of values, lines and numerals along it, and a needle."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.views import palette, svg


@dataclass(frozen=True)
class Sweep:
    """Values laid along an arc.

    Attributes:
        low: value at the start.
        high: value at the end.
        start_deg: direction of the start, in degrees clockwise from the top.
        end_deg: direction of the end, in degrees clockwise from the top.
    """

    low: float
    high: float
    start_deg: float
    end_deg: float

    def angle(self, value: float) -> float:
        """Return the direction of a value, in degrees clockwise from the top."""
        share = (value - self.low) / (self.high - self.low)
        return self.start_deg + (self.end_deg - self.start_deg) * share


@dataclass(frozen=True)
class Ring:
    """How one scale along a sweep looks.

    Attributes:
        line: value from one line to the next.
        per_number: lines from one numeral to the next.
        radius: where the lines begin.
        length: of a numbered line. Negative: outwards.
        number_radius: where the middle of a numeral lies.
        size: of the numerals.
        fill: colour of the lines and numerals.
        name: ``data-part`` of the lines begins with it.
        stands_for: what one of the printed numbers stands for, e.g. 100 when "5" means 500.
    """

    line: float
    per_number: int
    radius: float
    length: float
    number_radius: float
    size: float
    fill: str = palette.INK
    name: str = "scale"
    stands_for: float = 1.0


def around(angle_deg: float, radius: float) -> svg.Point:
    """Return the place at a radius in a direction clockwise from the top, seen from the middle."""
    turn = math.radians(angle_deg)
    return radius * math.sin(turn), -radius * math.cos(turn)


def ring(sweep: Sweep, look: Ring) -> str:
    """Draw a scale: short lines, longer ones halfway between numerals, the longest at the numerals."""
    fine: list[svg.Segment] = []
    coarse: list[svg.Segment] = []
    numerals = ""
    first, last = math.ceil(sweep.low / look.line - 1e-9), math.floor(sweep.high / look.line + 1e-9)
    for place in range(first, last + 1):
        angle = sweep.angle(place * look.line)
        numbered, middle = place % look.per_number == 0, 2 * place % look.per_number == 0
        share = 1.0 if numbered else 0.78 if middle else 0.55
        mark = (*around(angle, look.radius), *around(angle, look.radius - look.length * share))
        (coarse if numbered or middle else fine).append(mark)
        if numbered:
            x, y = around(angle, look.number_radius)
            numerals += svg.text(
                x,
                y + look.size * 0.345,
                f"{place * look.line / look.stands_for:g}",
                size=look.size,
                anchor="middle",
                fill=look.fill,
                data_part=f"{look.name}-number",
            )
    return (
        svg.strokes(fine, stroke=look.fill, stroke_width="1.1", data_part=f"{look.name}-fine")
        + svg.strokes(coarse, stroke=look.fill, stroke_width="1.8", data_part=f"{look.name}-coarse")
        + numerals
    )


def needle(angle_deg: float, length: float, tail: float, half: float = 3.5, name: str = "needle") -> str:
    """Draw a tapering needle with its tail, and a soft shadow under it."""
    tip, end = around(angle_deg, length), around(angle_deg, -tail)
    across = around(angle_deg + 90, half)
    blade = [tip, across, (end[0] + across[0] / 2, end[1] + across[1] / 2)]
    blade += [(end[0] - across[0] / 2, end[1] - across[1] / 2), (-across[0], -across[1])]
    shade = [(x + 2, y + 3) for x, y in blade]
    return svg.polygon(shade, fill=palette.INK, fill_opacity="0.18") + svg.polygon(
        blade,
        fill=palette.INK,
        stroke=palette.INK,
        stroke_width="0.8",
        stroke_linejoin="round",
        data_part=name,
    )


def nice_step(span: float, most: int) -> float:
    """Return the smallest of … 1, 2, 5, 10, 20 … that cuts a span into at most so many parts.

    Example:
        >>> nice_step(16, 80), nice_step(2320, 50)
        (0.2, 50)
    """
    exact = span / most
    power = math.floor(math.log10(exact))
    for factor in (1, 2, 5, 10):
        step = factor * 10**power if power >= 0 else factor / 10**-power
        if step >= exact * (1 - 1e-9):
            return step
    raise AssertionError("ten times a power of ten is always enough")  # pragma: no cover
