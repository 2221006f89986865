"""Read the micrometer's picture as a person does: lines and numerals only, no reading passed along.

The reader below knows the gauge (0.5 mm a turn, fifty divisions, a cylinder seen from the side) and not the
code that drew it. Scale of the gauge: common practice for metric micrometers, no source.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from itertools import pairwise

import pytest
from brakecourse.views.drawings import micrometer_svg
from hypothesis import example, given
from hypothesis import strategies as st

NS = "{http://www.w3.org/2000/svg}"
SEGMENT = re.compile(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)")


@dataclass(frozen=True)
class Seen:
    """What the eye finds on the picture."""

    datum_y: float
    edge_x: float
    above: list[float]
    below: list[float]
    sleeve_numerals: list[tuple[float, int]]
    thimble_lines: list[tuple[float, float]]  # height at the edge, length
    thimble_numerals: list[tuple[float, int]]


def look(svg: str) -> Seen:
    root = ET.fromstring(svg)

    def part(name: str) -> ET.Element:
        return next(node for node in root.iter() if node.get("data-part") == name)

    def segments(name: str) -> list[tuple[float, ...]]:
        found = [node for node in root.iter() if node.get("data-part") == name]
        return [tuple(map(float, match)) for node in found for match in SEGMENT.findall(node.get("d", ""))]

    on_sleeve, on_thimble = [], []
    for text in root.iter(f"{NS}text"):
        if not (text.text or "").isdigit():
            continue
        moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", text.get("transform", ""))
        if moved:
            on_thimble.append((float(moved[2]), int(text.text or "")))
        else:
            on_sleeve.append((float(text.get("x", "")), int(text.text or "")))
    edge = segments("thimble-lines")
    return Seen(
        datum_y=float(part("datum").get("y1", "")),
        edge_x=float(part("datum").get("x2", "")),
        above=[x for x, *_ in segments("sleeve-above")],
        below=[x for x, *_ in segments("sleeve-below")],
        sleeve_numerals=sorted(on_sleeve),
        thimble_lines=sorted((y, x2 - x1) for x1, y, x2, _ in edge),
        thimble_numerals=sorted(on_thimble),
    )


def sleeve_mm(seen: Seen) -> float:
    """Read the sleeve: the last numeral, the whole lines after it, the half line after those."""
    numeral_x, numeral = seen.sleeve_numerals[-1]
    whole = numeral + sum(x > numeral_x + 0.01 for x in seen.above)
    return whole + (0.5 if any(x > max(seen.above) for x in seen.below) else 0.0)


def thimble_divisions(seen: Seen) -> float:
    """Read the thimble at the datum, between the lines too, from 0 to below 50."""
    long = [y for y, length in seen.thimble_lines if length > 30]
    # Each numeral stands behind the long line nearest to it.
    y_line, number = min(
        ((min(long, key=lambda y: abs(y - at)), number) for at, number in seen.thimble_numerals),
        key=lambda pair: abs(pair[0] - seen.datum_y),
    )
    heights = [y for y, _ in seen.thimble_lines]
    nearest = min(heights, key=lambda y: abs(y - seen.datum_y))
    # Upwards the numbers grow.
    count = heights.index(y_line) - heights.index(nearest)
    apart = turn_of(nearest, seen)
    return (number + count - apart * 50 / math.tau) % 50


def turn_of(y: float, seen: Seen) -> float:
    """Return how far round the cylinder a line at the edge stands, upwards positive."""
    return math.asin((seen.datum_y - y) / 100)  # the edge's radius, proven below by the lines' own spacing


def read(svg: str) -> float:
    """Read the gauge to the nearest line, as a trained person does."""
    seen = look(svg)
    return round(sleeve_mm(seen) + round(thimble_divisions(seen)) % 50 * 0.01, 2)


thousandths = st.integers(0, 25_000).filter(lambda n: n % 10 != 5)
near_a_half = st.tuples(st.integers(1, 49), st.integers(-14, 14)).map(lambda p: 500 * p[0] + p[1])


@given(thousandths | near_a_half.filter(lambda n: n % 10 != 5), st.sampled_from([0, 25]))
@example(12_994, 0)
@example(12_996, 0)
@example(500, 25)
@example(496, 25)
@example(0, 0)
@example(25_000, 25)
def test_a_trained_reader_finds_the_reading(thousandth: int, start: int) -> None:
    reading = start + thousandth / 1000
    assert read(micrometer_svg(reading, uid="m", start_mm=start)) == pytest.approx(round(reading + 1e-9, 2))


@given(st.floats(0, 25), st.sampled_from([0, 25]))
def test_edge_and_thimble_stand_between_the_lines_too(off: float, start: int) -> None:
    seen = look(micrometer_svg(start + off, uid="m", start_mm=start))
    zero_x = seen.sleeve_numerals[0][0] + 0.75  # a line's right-hand side is its place; lines are 1.5 wide
    per_mm = 17.0
    assert (seen.edge_x - zero_x) / per_mm == pytest.approx(off, abs=0.0006)
    wrong = (thimble_divisions(seen) - (start + off) / 0.01) % 50
    assert min(wrong, 50 - wrong) < 0.02


@given(st.floats(0, 25))
def test_whole_lines_stand_above_and_half_lines_below(off: float) -> None:
    seen = look(micrometer_svg(off, uid="m"))
    places = sorted(seen.above)
    assert [x - places[0] for x in places] == pytest.approx([17.0 * k for k in range(len(places))], abs=0.02)
    assert sorted(seen.below) == pytest.approx(
        [places[0] + 8.5 + 17.0 * k for k in range(len(seen.below))], abs=0.02
    )
    assert len(seen.above) - len(seen.below) in (0, 1)
    assert max(seen.above + seen.below) <= seen.edge_x
    assert [number for _, number in seen.sleeve_numerals] == list(range(0, len(places), 5))


@given(st.floats(0, 25))
def test_thimble_lines_lie_on_a_cylinder(off: float) -> None:
    seen = look(micrometer_svg(off, uid="m"))
    turns = [turn_of(y, seen) for y, _ in seen.thimble_lines]
    steps = [upper - lower for upper, lower in pairwise(turns)]
    assert steps == pytest.approx([math.tau / 50] * len(steps), abs=0.002)
    # Equal angles on the cylinder, so the heights bunch towards its upper and lower edge.
    gaps = [lower - upper for (upper, _), (lower, _) in pairwise(seen.thimble_lines)]
    assert gaps[0] < gaps[len(gaps) // 2] / 3
    assert gaps[-1] < gaps[len(gaps) // 2] / 3


def test_a_line_shows_only_when_the_edge_has_passed_it() -> None:
    def lines(reading: float) -> int:
        seen = look(micrometer_svg(reading, uid="m"))
        return len(seen.above) + len(seen.below)

    assert lines(12.99) == lines(12.51) == lines(12.5)
    assert lines(13.0) == lines(12.99) + 1
    assert lines(12.49) == lines(12.5) - 1


@given(st.integers(0, 25_000), st.sampled_from([0, 25]))
def test_the_rotor_between_the_anvils_is_as_thick_as_the_reading(thousandth: int, start: int) -> None:
    reading = start + thousandth / 1000
    root = ET.fromstring(micrometer_svg(reading, uid="m", start_mm=start))
    rotor = [node for node in root.iter() if node.get("data-part") == "rotor"]
    if reading < 0.3:
        return
    left, right = re.match(r"M([\d.]+) [\d.]+V[\d.]+H([\d.]+)", rotor[0].get("d", "")).groups()  # type: ignore[union-attr]
    assert (float(right) - float(left)) / 2.2 == pytest.approx(reading, abs=0.006)


ORDER = {"first": 1, "second": 2, "third": 3, "fourth": 4}
COUNT = {"no": 0, "one": 1, "two": 2, "three": 3, "four": 4}


@given(thousandths | near_a_half.filter(lambda n: n % 10 != 5), st.sampled_from([0, 25]))
def test_a_listener_finds_the_same_reading_from_the_description(thousandth: int, start: int) -> None:
    reading = start + thousandth / 1000
    desc = ET.fromstring(micrometer_svg(reading, uid="m", start_mm=start)).find(f"{NS}desc").text  # type: ignore[union-attr]
    numbered, further = re.search(r"that shows is (\d+), with (\w+) whole", desc).groups()  # type: ignore[union-attr]
    half = 0.5 if "the last whole one shows" in desc else 0.0
    lines = [
        int(number or after) + ORDER.get(ordinal, 0)
        for number, ordinal, after in re.findall(
            r"the line numbered (\d+)|the (\w+) line after number (\d+)", desc
        )
    ]
    thimble = lines[1] if "nearer the second" in desc else lines[0]
    assert int(numbered) + COUNT[further] + half + thimble * 0.01 == pytest.approx(round(reading + 1e-9, 2))


@pytest.mark.parametrize(
    ("reading", "start"),
    [
        (-0.01, 0),
        (25.01, 0),
        (24.99, 25),
        (50.01, 25),
        (math.nan, 0),
        (math.inf, 0),
        (10**400, 0),
        ("21", 0),
        (True, 0),
        (None, 0),
    ],
)
def test_a_reading_that_the_gauge_cannot_show_is_refused(reading: object, start: int) -> None:
    with pytest.raises(ValueError, match=r"^The micrometer reading in mm must be .*\.$"):
        micrometer_svg(reading, uid="m", start_mm=start)  # type: ignore[arg-type]


@pytest.mark.parametrize("start", [1, 50, -25, True, "0", None, math.nan])
def test_a_range_that_no_gauge_has_is_refused(start: object) -> None:
    with pytest.raises(ValueError, match=r"range.* must .*\.$"):
        micrometer_svg(30, uid="m", start_mm=start)  # type: ignore[arg-type]
