"""Read an instrument's picture as a person does: numerals and lines give the scale, the hand its place on it.

Nothing here knows how the drawings compute their places.
"""

from __future__ import annotations

import math
import re
import statistics
import xml.etree.ElementTree as ET
from collections.abc import Callable, Mapping

NS = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]
Segment = tuple[float, float, float, float]
MINUS = "\N{MINUS SIGN}"


def parts(svg: str, name: str) -> list[ET.Element]:
    """Return the elements of one name."""
    return [node for node in ET.fromstring(svg).iter() if node.get("data-part") == name]


def part(svg: str, name: str) -> ET.Element:
    """Return the only element of a name."""
    (found,) = parts(svg, name)
    return found


def number(node: ET.Element, name: str) -> float:
    """Return an attribute as a number."""
    return float(node.get(name, "nothing"))


def corners(node: ET.Element) -> list[Point]:
    """Return the points of a polygon or polyline."""
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in node.get("points", "").split())]


def segments(node: ET.Element) -> list[Segment]:
    """Return the straight lines of a path."""
    found = re.findall(r"M(\S+) (\S+?)L(\S+) ([-\d.]+)", node.get("d", ""))
    return [tuple(float(n) for n in one) for one in found]  # type: ignore[misc]


def lines(svg: str, *names: str) -> list[Segment]:
    """Return all lines of some names."""
    return [one for name in names for node in parts(svg, name) for one in segments(node)]


def numerals(svg: str, name: str) -> dict[float, Point]:
    """Return each numeral's value and where its middle lies (a third of its size above the baseline)."""
    return {
        float((node.text or "").replace(MINUS, "-")): (
            number(node, "x"),
            number(node, "y") - 0.345 * number(node, "font-size"),
        )
        for node in parts(svg, name)
    }


def clockwise_deg(x: float, y: float) -> float:
    """Return the direction seen from the middle, in degrees clockwise from the top, -180 to 180."""
    return math.degrees(math.atan2(x, -y))


def scale(places: Mapping[float, float]) -> Callable[[float], float]:
    """Return what reads a value off a place, from the places of the numerals. They must lie evenly."""
    slope, start = statistics.linear_regression(list(places.values()), list(places.keys()))
    for value, place in places.items():
        assert abs(start + slope * place - value) < 0.006 * (max(places) - min(places)), "uneven numerals"
    return lambda place: start + slope * place


def tip_deg(svg: str, name: str = "needle") -> float:
    """Return the direction of the needle's tip, which is its corner farthest from the middle."""
    return clockwise_deg(*max(corners(part(svg, name)), key=lambda corner: math.hypot(*corner)))


def round_scale(svg: str, name: str) -> Callable[[float], float]:
    """Return what reads a value off a direction."""
    return scale({value: clockwise_deg(*spot) for value, spot in numerals(svg, f"{name}-number").items()})


def values_of_lines(svg: str, name: str) -> list[float]:
    """Return the values at which the lines of a round scale stand, in order."""
    read = round_scale(svg, name)
    return sorted(read(clockwise_deg(x, y)) for x, y, _, _ in lines(svg, f"{name}-fine", f"{name}-coarse"))


_SEVEN = {
    "1110111": "0",
    "0010010": "1",
    "1011101": "2",
    "1011011": "3",
    "0111010": "4",
    "1101011": "5",
    "1101111": "6",
    "1010010": "7",
    "1111111": "8",
    "1111011": "9",
    "0001000": "-",
    "0000000": "",
}
"""Lit bars in the order: top, upper left, upper right, middle, lower left, lower right, foot."""


def display(svg: str) -> str:
    """Read the digits of the display from the bars that are lit."""
    lit = set()
    for digit in parts(svg, "digit"):
        x, y = map(float, re.findall(r"[-\d.]+", digit.get("transform", "")))
        for bar in digit:
            if bar.get("data-part") == "bar":
                ends = [number(bar, name) for name in ("x1", "y1", "x2", "y2")]
                lit.add((x + (ends[0] + ends[2]) / 2, y + (ends[1] + ends[3]) / 2))
    spots = [((x1 + x2) / 2, (y1 + y2) / 2) for x1, y1, x2, y2 in lines(svg, "ghost")]
    shown = ""
    by_place = sorted(spots)
    for first in range(0, len(by_place), 7):
        # In order of x: two left uprights, three level bars, two right uprights; each from the top down.
        left, level, right = (
            sorted(group, key=lambda spot: spot[1])
            for group in (
                by_place[first : first + 2],
                by_place[first + 2 : first + 5],
                by_place[first + 5 : first + 7],
            )
        )
        order = [level[0], left[0], right[0], level[1], left[1], right[1], level[2]]
        shown += _SEVEN[
            "".join("1" if any(math.dist(spot, on) < 0.1 for on in lit) else "0" for spot in order)
        ]
    return shown


def words(svg: str) -> str:
    """Return all that can be read or heard: title, description and words on the picture."""
    return " | ".join("".join(node.itertext()) for node in ET.fromstring(svg) if node.tag != f"{NS}defs")


def numbers(svg: str) -> set[str]:
    """Return every number that stands in words anywhere."""
    return set(re.findall(r"\d+(?:\.\d+)?", words(svg)))


def described(svg: str) -> str:
    """Return the description."""
    return ET.fromstring(svg).findtext(f"{NS}desc") or ""


_ORDER = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"]


def heard(svg: str, line: float, before: str, first: float = 0.0) -> float:
    """Return the reading that a listener takes from the description, to a quarter of a line.

    Args:
        svg: the drawing.
        line: value of one line of the scale.
        first: value of the scale's first line.
        before: the words before the place, e.g. ``"the needle stands"``.
    """
    told = re.split(r"\.(?= |$)", described(svg).partition(before)[2])[0]
    told = re.sub(
        r"(\w+) line of the scale", lambda found: f"{found[1]} line after number {first - line:g}", told
    )
    named = re.findall(r"the line of number (-?[\d.]+)|the (\w+) line after number (-?[\d.]+)", told)
    places = [float(on or after) + (_ORDER.index(nth) + 1 if nth else 0) * line for on, nth, after in named]
    if len(places) == 1:
        return places[0]
    assert len(places) == 2, told
    share = 0.5 if "halfway" in told else 0.25 if "nearer the first" in told else 0.75
    return places[0] + share * (places[1] - places[0])
