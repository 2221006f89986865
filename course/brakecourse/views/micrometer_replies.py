"""Replies to a micrometer set or read in practice."""

from __future__ import annotations

from brakecourse.bench.gauges import SLEEVE_LINE_MM, Micrometer
from brakecourse.published import convert
from brakecourse.views.replies import Reply, near, value_reply
from brakecourse.views.words import mm


def reading_reply(answer_mm: float, indication_mm: float, gauge: Micrometer) -> Reply:
    """Judge how a micrometer was read.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> reading_reply(12.34, 12.838, boxed_micrometer(0)).words[:42]
    'Not yet. You are half a millimetre out. Lo'
    """
    expected = gauge.reading(indication_mm)
    if near(abs(answer_mm - expected), gauge.resolution_mm, 0.001):
        return Reply(
            False, "Very near: one thimble line off. Take the line that lies nearest to the datum line."
        )
    return value_reply(
        answer_mm,
        expected,
        gauge.misreadings(indication_mm) | {"inches_for_millimetres": convert(expected, "mm", "in")},
        because=how_read(indication_mm, gauge),
        hint=(
            "Read the whole millimetres above the datum line, then the half-millimetre line below it, "
            "then the thimble."
        ),
    )


def how_read(indication_mm: float, gauge: Micrometer) -> str:
    """Say how a micrometer is read, step by step.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> how_read(12.84, boxed_micrometer(0))[-18:]
    'Together 12.84 mm.'
    """
    whole, half, line = gauge.parts(indication_mm)
    middle = (
        "A half-millimetre line shows after it: add 0.50."
        if half
        else "No half-millimetre line shows after it: add nothing."
    )
    return (
        f"Above the datum line the last whole millimetre shown is {whole}. {middle} "
        f"Thimble line {line} adds {line * gauge.resolution_mm:.2f}. "
        f"Together {gauge.reading(indication_mm):.2f} mm."
    )


def setting_reply(wanted_mm: float, turns: int, lines: int, gauge: Micrometer) -> Reply:
    """Judge how a micrometer was set: full turns of the thimble, and thimble lines past the datum line.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> setting_reply(12.84, 25, 34, boxed_micrometer(0)).right
    True
    >>> setting_reply(12.84, 24, 34, boxed_micrometer(0)).words[:38]
    'Not yet. The thimble line is right, bu'
    """
    wanted_turns, wanted_line = turns_and_line(wanted_mm, gauge)
    off = turns - wanted_turns
    if lines == wanted_line and off == 0:
        return Reply(True, f"Right: {mm(wanted_mm)}. {how_set(wanted_mm, gauge)}")
    if lines == wanted_line:
        count = "one full turn" if abs(off) == 1 else f"{abs(off)} full turns"
        way = "too wide: turn it closer" if off > 0 else "too close: turn it wider"
        return Reply(
            False,
            f"Not yet. The thimble line is right, but the gap is {count} {way}. One full turn is 0.50 mm.",
        )
    if off == 0:
        return Reply(
            False,
            f"Not yet. The full turns are right, but thimble line {lines} stands at the datum line. "
            "Each thimble line is 0.01 mm.",
        )
    shown = opening_mm(turns, lines, gauge)
    return Reply(
        False,
        f"Not yet. The micrometer shows {mm(shown)}, and {mm(wanted_mm)} was wanted. "
        "Set the full turns first, then the line.",
    )


def how_set(size_mm: float, gauge: Micrometer) -> str:
    """Say how a size is made up from full turns and thimble lines.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> how_set(12.84, boxed_micrometer(0))
    '25 full turns make 12.50 mm, and thimble line 34 adds 0.34 mm.'
    """
    turns, line = turns_and_line(size_mm, gauge)
    return (
        f"{turns} full turns make {turns * SLEEVE_LINE_MM:.2f} mm, "
        f"and thimble line {line} adds {line * gauge.resolution_mm:.2f} mm."
    )


def turns_and_line(size_mm: float, gauge: Micrometer) -> tuple[int, int]:
    """Return the full turns from the closed frame, and the thimble line, that set a size.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> turns_and_line(12.84, boxed_micrometer(0))
    (25, 34)
    """
    whole, half, line = gauge.parts(size_mm)
    return 2 * (whole - round(gauge.low_mm)) + int(half), line


def opening_mm(turns: int, lines: int, gauge: Micrometer) -> float:
    """Return the size that full turns and thimble lines set, in mm.

    >>> from brakecourse.bench.gauges import boxed_micrometer
    >>> opening_mm(25, 34, boxed_micrometer(0))
    12.84
    """
    return gauge.reading(gauge.low_mm + turns * SLEEVE_LINE_MM + lines * gauge.resolution_mm)
