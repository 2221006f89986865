"""Two brakings side by side: their speeds, and bars for the energy that becomes heat."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import above_zero, finite, within

MOST_KMH, MOST_NAME = 200.0, 28

WIDTH, HEIGHT = 560, 300
LEFT, RIGHT = 26.0, 390.0
ROW, TOP, BAR = 138.0, 46.0, 44.0
SCALE_Y, SCALE_H = 78.0, 12.0
_LOOKS = ((palette.BLUE, "lines"), (palette.VERMILLION, "dots"))

Braking = tuple[str, float, float, float, str]
"""Name, speed at the start and at the end in km/h, energy (any unit), and the words for the energy."""


def energy_bars_svg(brakings: Sequence[Braking], *, uid: str, title: str = "Energy of two brakings") -> str:
    """Draw two brakings as bars of their energy, each over a scale of speed.

    Args:
        brakings: two brakings: name, speed at the start and at the end in km/h, energy above 0, and what
            stands at the bar's end. Both bars are to one scale.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells the speeds, and how long the bars are beside each other.

    Raises:
        ValueError: not two brakings, a speed out of 0 to 200 km/h or one that does not fall, an energy
            that is not above 0, or words that are none.

    Source:
        Bars to one scale: common practice, no source.

    Example:
        >>> row = [("stop", 32.0, 0.0, 1.0, "1"), ("slowdown", 64.0, 32.0, 3.0, "3")]
        >>> energy_bars_svg(row, uid="e1").startswith("<svg")
        True
    """
    rows = _rows(brakings)
    svg.check_uid(uid)
    longest = max(row[3] for row in rows)
    fastest = max(row[1] for row in rows)
    body = "".join(_row(row, place, longest, fastest, uid) for place, row in enumerate(rows))
    desc = " ".join(
        f"{name}: from {start:.0f} to {end:.0f} km/h. Its bar is {_share(energy / longest)}."
        for name, start, end, energy, _ in rows
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _share(share: float) -> str:
    return "the full length" if share >= 0.9995 else f"{100 * share:.0f} percent of the longer one"


def _rows(brakings: object) -> list[Braking]:
    if isinstance(brakings, str) or not isinstance(brakings, Sequence) or len(brakings) != 2:
        raise ValueError("Two brakings were expected to be drawn beside each other.")
    rows: list[Braking] = []
    for one in brakings:
        if isinstance(one, str) or not isinstance(one, Sequence) or len(one) != 5:
            raise ValueError(f"A braking needs name, two speeds, energy and words, but it was {one!r:.40}.")
        name, start, end, energy, told = one
        for words, most in ((name, MOST_NAME), (told, MOST_NAME)):
            if not isinstance(words, str) or not words.strip() or len(words) > most:
                raise ValueError(f"A braking's words must be 1 to {most} letters, but were {words!r:.40}.")
        first = within(start, "speed at the start in km/h", 0, MOST_KMH)
        last = finite(end, "speed at the end in km/h")
        if not 0 <= last < first:
            raise ValueError(
                f"The speed at the end in km/h must be 0 or more and below the start of {first:g}, "
                f"but it was {last:g}."
            )
        rows.append((name, first, last, above_zero(energy, "energy of a braking"), told))
    return rows


def _row(row: Braking, place: int, longest: float, fastest: float, uid: str) -> str:
    name, start, end, energy, told = row
    colour, texture = _LOOKS[place]
    y = TOP + ROW * place
    length = (RIGHT - LEFT) * energy / longest
    look = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    bar = svg.rect(LEFT, y, length, BAR, fill=colour, fill_opacity="0.35", data_part="bar") + svg.rect(
        LEFT, y, length, BAR, fill=f"url(#{uid}-{texture})", **look
    )
    return (
        svg.text(LEFT, y - 12, name, size=17, font_weight="bold")
        + bar
        + svg.text(LEFT + length + 10, y + BAR / 2 + 6, told, size=16, font_weight="bold")
        + _speeds(y + SCALE_Y, start, end, fastest, colour)
    )


def _speeds(y: float, start: float, end: float, fastest: float, colour: str) -> str:
    """Draw the speed at which the braking begins and ends, on a line from standstill to the fastest."""

    def at(kmh: float) -> float:
        return LEFT + (RIGHT - LEFT) * kmh / fastest

    arrow = [(at(end) + 12, y - 6), (at(end) + 12, y + 6), (at(end) + 1, y)]
    numbers = [(at(end), f"{end:.0f}"), (at(start), f"{start:.0f}")]
    return (
        svg.line(LEFT, y, RIGHT, y, stroke=palette.STEEL_MID, stroke_width="1.4")
        + svg.line(at(end) + 10, y, at(start), y, stroke=colour, stroke_width="4", data_part="speeds")
        + svg.polygon(arrow, fill=colour)
        + svg.line(at(start), y - 7, at(start), y + 7, stroke=colour, stroke_width="3")
        + "".join(
            svg.text(x, y + 23, words, size=15, anchor="middle", data_part="speed") for x, words in numbers
        )
        + svg.text(RIGHT + 24, y + 5, "km/h", size=15, fill=palette.INK_SOFT)
    )


def _defs(uid: str) -> str:
    line = svg.tag("path", d="M0 0V8", stroke=palette.BLUE, stroke_width="2.4")
    dot = svg.circle(4, 4, 1.8, fill=palette.VERMILLION)
    return svg.pattern(f"{uid}-lines", 8, line, turn_deg=45) + svg.pattern(f"{uid}-dots", 8, dot)
