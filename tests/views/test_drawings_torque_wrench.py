"""Read the wrench's setting from its hairline and its grip, and measure the wrench on the picture.

1 lbf·ft = 1.355 818 N·m (NIST SP 811, 2008, appendix B; from memory here, read in the published tables). The
rest is common practice, no source.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from brakecourse.views.drawings import torque_wrench_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import (
    NS,
    described,
    heard,
    lines,
    number,
    numbers,
    numerals,
    part,
    parts,
    scale,
    segments,
    words,
)

NM_PER_LBFFT = 1.3558179
RING_MM = 21.0  # of the extension, as it is drawn
LETTER = 8.2  # of the wide letters that a page without its own fonts shows, at 15 px


def draw(setting: float, low: float = 20, high: float = 200, **more: object) -> str:
    return torque_wrench_svg(setting, low_nm=low, high_nm=high, uid="w", **more)  # type: ignore[arg-type]


def tube_value(svg: str, name: str, x: float) -> float:
    return scale({value: spot[0] for value, spot in numerals(svg, f"{name}-number").items()})(x)


def grip_value(svg: str) -> float:
    """Read the grip at the index mark: between the two numerals on either side, by the cylinder's sine."""
    index = number(part(svg, "index"), "y1")
    heights = []
    for node in parts(svg, "grip-number"):
        y = float(re.findall(r"[-\d.]+", node.get("transform", ""))[1])
        heights.append((y - index, int(node.text or "")))
    # A tenth of a turn up from the middle is sin 36° of the radius: the two nearest fix the radius.
    below = min((item for item in heights if item[0] >= -0.02), key=lambda item: item[0])
    above = max((item for item in heights if item[0] < -0.02), key=lambda item: item[0])
    assert (above[1] - below[1]) % 10 == 1, "numbers grow upwards"
    radius = 80.0
    down = math.degrees(math.asin(below[0] / radius)) / 36
    up = math.degrees(math.asin(-above[0] / radius)) / 36
    assert down + up == pytest.approx(1, abs=0.01)
    return (below[1] + down) % 10


def read(svg: str) -> float:
    """Tens from the hairline on the tube, units from the grip; near a ten the grip decides which it is."""
    hair = tube_value(svg, "nm", number(part(svg, "hairline"), "x1"))
    units = grip_value(svg)
    return round((hair - units) / 10) * 10 + units


@given(st.integers(200, 2000).map(lambda n: n / 10))
@example(20.0)
@example(199.9)
@example(200.0)
@example(90.0)
def test_hairline_and_grip_tell_the_setting(setting: float) -> None:
    svg = draw(setting)
    assert read(svg) == pytest.approx(setting, abs=0.03)
    hair = number(part(svg, "hairline"), "x1")
    assert tube_value(svg, "nm", hair) == pytest.approx(setting, abs=0.3)
    assert tube_value(svg, "lbfft", hair) == pytest.approx(setting / NM_PER_LBFFT, abs=0.4)
    tens = heard(svg, 10, "the hairline stands")
    units = heard(svg, 1, "the grip stands")
    if "the line of number 9 and the line of number 0" in described(svg):
        units = 9 + (9 - units) / 9  # the grip's 0 comes after its 9
    assert round((tens - units) / 10) * 10 + units == pytest.approx(setting, abs=0.51)


@pytest.mark.parametrize(("low", "high"), [(20, 200), (10, 60), (0, 40), (40, 400), (60, 340), (30, 210)])
@pytest.mark.parametrize("share", [0.0, 0.08, 0.37, 1.0])
def test_a_wrench_of_any_range_tells_it(low: float, high: float, share: float) -> None:
    setting = low + share * (high - low)
    svg = draw(setting, low, high)
    assert read(svg) == pytest.approx(setting, abs=0.03)
    assert heard(svg, 10, "the hairline stands", first=low) == pytest.approx(setting, abs=5.1)
    on_tube = described(svg).partition(" At the index")[0]
    assert all(float(value) >= low for value in re.findall(r"number (\d+)", on_tube))
    tens = sorted(tube_value(svg, "nm", x) for x, _, _, _ in lines(svg, "nm-lines"))
    assert tens == pytest.approx([n * 10 for n in range(round(low / 10), round(high / 10) + 1)], abs=0.5)
    feet = sorted(tube_value(svg, "lbfft", x) for x, _, _, _ in lines(svg, "lbfft-lines"))
    first, last = math.ceil(low / NM_PER_LBFFT / 10), math.floor(high / NM_PER_LBFFT / 10)
    assert feet == pytest.approx([n * 10 for n in range(first, last + 1)], abs=0.6)


@pytest.mark.parametrize(("low", "high", "turn"), [(20, 100, 5), (12, 60, 3), (60, 300, 15), (200, 1000, 50)])
@pytest.mark.parametrize("share", [0.0, 0.13, 0.61, 1.0])
def test_a_turn_may_be_worth_something_else(low: float, high: float, turn: float, share: float) -> None:
    setting = low + share * (high - low)
    svg = draw(setting, low, high, turn_nm=turn)
    hair = tube_value(svg, "nm", number(part(svg, "hairline"), "x1"))
    assert hair == pytest.approx(setting, abs=0.02 * turn * 10)
    # Each line of the grip carries its number; the nearest to the index mark is the units to half a line.
    index = number(part(svg, "index"), "y1")
    at_mark = min(
        parts(svg, "grip-number"),
        key=lambda node: abs(float(re.findall(r"[-\d.]+", node.get("transform", ""))[1]) - index),
    )
    off = (float(at_mark.text or "") - setting + turn / 2) % turn - turn / 2
    assert abs(off) <= turn / 20 + 1e-9
    tens = sorted(tube_value(svg, "nm", x) for x, _, _, _ in lines(svg, "nm-lines"))
    wanted = [n * turn for n in range(round(low / turn), round(high / turn) + 1)]
    assert tens == pytest.approx(wanted, abs=turn * 0.1)


def test_numerals_on_the_tube_do_not_run_into_one_another() -> None:
    for low, high in ((20, 200), (10, 60), (40, 400), (0, 400)):
        for name in ("nm", "lbfft"):
            xs = sorted(x for x, _ in numerals(draw(low, low, high), f"{name}-number").values())
            assert min(b - a for a, b in pairwise(xs)) >= 30


@given(st.integers(200, 2000).map(lambda n: n / 10))
def test_no_numeral_is_cut_by_the_edge_of_the_window(setting: float) -> None:
    svg = draw(setting)
    hair = number(part(svg, "hairline"), "x1")
    edge = number(part(svg, "index"), "x2") + 2
    assert hair - edge == pytest.approx(40, abs=0.05)
    for name in ("nm", "lbfft"):
        seen = 0
        for value, (x, _) in numerals(svg, f"{name}-number").items():
            # A digit of this face is about 0.56 of its size wide.
            half = 0.28 * 16 * len(f"{value:g}")
            assert not x - half < edge < x + half
            seen += edge < x - half
        assert seen, f"no numeral of {name} to be read"


class TestTheWholeWrench:
    def lengths(self, svg: str) -> dict[str, float]:
        """Return how long each dimensioned part is on the picture: its third line runs between the arrows."""
        found = {}
        for what in ("wrench", "extension"):
            for node in parts(svg, f"length-{what}"):
                x1, y1, x2, y2 = segments(node)[2]
                found[what] = math.hypot(x2 - x1, y2 - y1)
        return found

    @pytest.mark.parametrize("angle", [-135, -90, -30, 0, 30, 45, 90, 120, 135])
    @pytest.mark.parametrize(("wrench", "extension"), [(450, 150), (300, 300), (600, 60)])
    def test_lengths_are_to_one_scale(self, angle: float, wrench: float, extension: float) -> None:
        svg = draw(80, extension_mm=extension, angle_deg=angle, wrench_mm=wrench)
        found = self.lengths(svg)
        assert found["extension"] / found["wrench"] == pytest.approx(extension / wrench, rel=0.002)
        # Where the parts are drawn agrees: the middle of the grip, and the nut at the extension's end.
        assert -number(part(svg, "grip-middle"), "cx") == pytest.approx(found["wrench"], abs=0.02)
        assert number(part(svg, "nut"), "cx") == pytest.approx(found["extension"], abs=0.02)
        assert part(svg, "extension").get("transform") == f"rotate({-angle or 0})"
        assert f"{wrench} mm (" in words(svg) and f"{extension} mm" in words(svg)
        if angle:
            assert f"{abs(angle)}°" in words(svg)

    @pytest.mark.parametrize("angle", [-135, -90, -45, 0, 60, 90, 135])
    @pytest.mark.parametrize(("wrench", "extension"), [(450, 400), (900, 100), (200, 400), (300, 0)])
    def test_all_of_it_lies_on_the_picture(self, angle: float, wrench: float, extension: float) -> None:
        svg = draw(80, extension_mm=extension, angle_deg=angle, wrench_mm=wrench)
        left, top = map(float, re.findall(r"translate\(([\d.]+) ([\d.]+)\)", svg)[-1])
        width, height = map(int, re.search(r'viewBox="0 0 (\d+) (\d+)"', svg).groups())  # type: ignore[union-attr]
        nut = number(part(svg, "nut"), "cx")
        turn = math.radians(angle if extension else 0)
        for x, y in ((left + nut * math.cos(turn), top - nut * math.sin(turn)), (left, top)):
            assert 12 < x < width - 12
            assert 240 < y < height - 12

    @pytest.mark.parametrize("angle", [-135, -60, -30, 0, 30, 45, 60, 90, 120, 135])
    @pytest.mark.parametrize("extension", [35, 50, 100, 190])
    @pytest.mark.parametrize("wrench", [300, 450, 650])
    def test_no_words_are_cut_or_lie_on_the_steel(
        self, angle: float, wrench: float, extension: float
    ) -> None:
        svg = draw(80, extension_mm=extension, angle_deg=angle, wrench_mm=wrench)
        left = float(re.findall(r"translate\(([\d.]+) ([\d.]+)\)", svg)[-1][0])
        px, turn = self.lengths(svg)["wrench"] / wrench, math.radians(angle)
        ring = (extension * px * math.cos(turn), -extension * px * math.sin(turn), RING_MM * px)
        whole = ET.fromstring(svg)[-1]  # the group of the whole wrench, from its square drive
        for node in whole.iter(f"{NS}text"):
            told, x, y = node.text or "", number(node, "x"), number(node, "y")
            wide = LETTER * len(told)
            x -= {"middle": wide / 2, "end": wide}.get(node.get("text-anchor", ""), 0)
            assert -left < x and x + wide < 480 - left, told
            if told.endswith("°"):
                nearest = (min(max(ring[0], x), x + wide), min(max(ring[1], y - 11), y))
                assert math.dist(nearest, ring[:2]) > ring[2], "the angle's words touch the ring"
            elif told.startswith(("(", "extension")) and angle:
                neck = 16 * px
                assert y < -neck or y - 11 > neck or x > 0, f"{told} lies on the wrench"

    def test_without_an_extension_there_is_none(self) -> None:
        svg = draw(80)
        assert not parts(svg, "extension")
        assert "xtension" not in words(svg)


@given(st.integers(200, 2000).filter(lambda n: n % 10).map(lambda n: n / 10))
def test_it_nowhere_says_the_setting(setting: float) -> None:
    told = numbers(draw(setting)) - {"17.7"}  # the wrench's length in inches
    assert f"{setting:g}" not in told - {"17.7"}
    assert f"{setting / NM_PER_LBFFT:.1f}" not in told


@pytest.mark.parametrize("setting", [19.9, 200.1, -50, math.nan, math.inf, "80", True, None])
def test_a_setting_off_the_scale_is_refused(setting: object) -> None:
    with pytest.raises(ValueError, match=r"^The wrench setting in N·m must be .*\.$"):
        draw(setting)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"low": 25}, "multiple of 10"),
        ({"high": 195}, "multiple of 10"),
        ({"low": 180}, "low end of the scale in N·m must be from 0 to 160"),
        ({"low": 210}, "low end of the scale in N·m must be from 0 to 160"),
        ({"high": 1010}, "high end of the scale in N·m must be from 40 to 1000"),
        ({"turn_nm": 0}, "turn of the grip in N·m must be from 1 to 50"),
        ({"extension_mm": -1}, "extension in mm must be from 0 to 400"),
        ({"extension_mm": 401}, "extension in mm must be from 0 to 400"),
        (
            {"extension_mm": 100, "angle_deg": 136},
            "angle of the extension in degrees must be from -135 to 135",
        ),
        ({"wrench_mm": 0}, "length of the wrench in mm must be from 200 to 900"),
        ({"wrench_mm": True}, "length of the wrench in mm must be a finite number"),
    ],
)
def test_a_wrench_that_cannot_be_is_refused(wrong: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        draw(190, **wrong)  # type: ignore[arg-type]
