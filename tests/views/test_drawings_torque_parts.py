"""Levers, wheel, clamp loads and bolts, read back from their pictures.

1 lbf = 4.448 22 N, 1 ft = 304.8 mm, 1 in = 25.4 mm (read in the published table of units). The rest is common
practice, no source.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest
from brakecourse.published import value
from brakecourse.views.drawings import clamp_spread_svg, clamped_bolt_svg, torque_levers_svg, wheel_nuts_svg
from brakecourse.views.drawings.clamp_spread import SpreadBar

from tests.views.picture import described, lines, number, numerals, part, parts, scale, segments, words


def wheel(studs: int, **more: object) -> str:
    sizes = {"stud_circle_mm": 114.0, "thread_mm": 12.0, "rim_radius_mm": 203.0, "tyre_radius_mm": 310.0}
    return wheel_nuts_svg(studs, uid="w", **(sizes | more))  # type: ignore[arg-type]


class TestLevers:
    def test_levers_and_pulls_are_to_one_scale(self) -> None:
        svg = torque_levers_svg(uid="t")
        metre, foot, inch = (number(node, "width") for node in parts(svg, "lever"))
        assert metre / foot == pytest.approx(1 / value("unit_foot_m").value, rel=0.001)
        assert metre / inch == pytest.approx(1000 / value("unit_inch_mm").value, rel=0.005)
        pulls = [number(node, "y2") - number(node, "y1") for node in parts(svg, "pull")]
        assert pulls[1] == pulls[2] > 3 * pulls[0]

    def test_the_marks_stand_with_their_units(self) -> None:
        svg = torque_levers_svg(uid="t", given="lbf·in", wanted="N·m")
        assert "The task starts from lbf·in. It ends in N·m." in described(svg)
        assert re.findall("given|wanted", words(svg)) == ["wanted", "given"]  # from the top down
        with pytest.raises(ValueError, match="must be one of"):
            torque_levers_svg(uid="t", given="kgf·m")


class TestWheel:
    @pytest.mark.parametrize("studs", [3, 4, 5, 6, 8, 10])
    def test_the_studs_stand_evenly_and_are_numbered_clockwise_from_the_top(self, studs: int) -> None:
        spots = numerals(wheel(studs), "stud")
        assert list(spots) == list(range(1, studs + 1))
        middle = [sum(spot[axis] for spot in spots.values()) / studs for axis in (0, 1)]
        turns = [math.degrees(math.atan2(x - middle[0], middle[1] - y)) % 360 for x, y in spots.values()]
        assert turns[0] == pytest.approx(0, abs=0.5) or turns[0] == pytest.approx(360, abs=0.5)
        assert [b - a for a, b in pairwise([0.0, *turns[1:]])] == pytest.approx(
            [360 / studs] * (studs - 1), abs=0.6
        )

    def test_the_order_is_told_by_numbers_and_arrows(self) -> None:
        svg = wheel(6, tight=(1, 4, 2))
        places = {node.get("data-card"): "".join(node.itertext()) for node in parts(svg, "nut")}
        assert [places[nut] for nut in ("1", "4", "2", "3")] == ["1.1", "2.4", "3.2", "3"]
        assert len(parts(svg, "next")) == 2
        assert "in this order: 1, 4, 2." in described(svg)
        assert "No nut is tightened yet." in described(wheel(6))

    def test_nuts_and_circle_are_to_one_scale(self) -> None:
        for circle, thread in ((100.0, 12.0), (190.0, 18.0)):
            svg = wheel(4, stud_circle_mm=circle, thread_mm=thread)
            hexagons = [node for node in parts(svg, "nut")[0].iter() if node.tag.endswith("polygon")]
            xs = [float(pair.split(",")[0]) for pair in hexagons[0].get("points", "").split()]
            corners = max(xs) - min(xs)
            top, bottom = (next(node for node in nut.iter() if node.tag.endswith("circle")) for nut in
                           (parts(svg, "nut")[0], parts(svg, "nut")[2]))  # fmt: skip
            circle_px = number(bottom, "cy") - number(top, "cy")
            # 1.6 threads across the flats, 2 / √3 more across the corners
            assert corners / circle_px == pytest.approx(1.6 * thread * 2 / math.sqrt(3) / circle, rel=0.01)

    def test_what_cannot_be_is_refused(self) -> None:
        with pytest.raises(ValueError, match="stud from 1 to 5 was expected, but it was 6"):
            wheel(5, tight=(1, 6))
        for wrong in ({"thread_mm": 2}, {"tyre_radius_mm": 100}, {"stud_circle_mm": math.nan}):
            with pytest.raises(ValueError, match=r"must be"):
                wheel(5, **wrong)
        with pytest.raises(ValueError, match="number of studs must be from 3 to 10"):
            wheel(2)


class TestSpread:
    BARS = (SpreadBar("one way", 22e3, 28e3, 35e3), SpreadBar("other way", 20e3, 46e3, 84e3))

    @pytest.mark.parametrize("factor", [0.3, 1.0, 2.7])
    def test_bars_and_proof_load_stand_at_their_values(self, factor: float) -> None:
        bars = [
            SpreadBar(b.words, b.low_n * factor, b.middle_n * factor, b.high_n * factor) for b in self.BARS
        ]
        svg = clamp_spread_svg(bars, proof_n=53e3 * factor, uid="c")
        kn = scale({value: spot[0] for value, spot in numerals(svg, "kn-number").items()})
        assert kn(number(part(svg, "proof"), "x1")) == pytest.approx(53 * factor, rel=0.005)
        for bar, box, dot in zip(bars, parts(svg, "spread"), parts(svg, "middle"), strict=True):
            left, right = number(box, "x"), number(box, "x") + number(box, "width")
            assert kn(left) == pytest.approx(bar.low_n / 1000, rel=0.01)
            assert kn(right) == pytest.approx(bar.high_n / 1000, rel=0.01)
            x = [float(pair.split(",")[0]) for pair in dot.get("points", "").split()]
            assert kn((min(x) + max(x)) / 2) == pytest.approx(bar.middle_n / 1000, rel=0.01)
        assert number(part(svg, "beyond"), "x") == number(part(svg, "proof"), "x1")

    @pytest.mark.parametrize(
        ("bars", "told"),
        [
            ((), "One to three bars"),
            ((BARS[0],) * 4, "One to three bars"),
            ((SpreadBar("falls", 3, 2, 1),), "must rise"),
            ((SpreadBar("none", math.nan, 2, 3),), "must be a finite number"),
        ],
    )
    def test_bars_that_cannot_be_are_refused(self, bars: tuple[SpreadBar, ...], told: str) -> None:
        with pytest.raises(ValueError, match=told):
            clamp_spread_svg(bars, proof_n=1e4, uid="c")


class TestBolt:
    @pytest.mark.parametrize(("thread", "pitch"), [(8, 1.25), (12, 1.25), (12, 1.5), (16, 1.5), (18, 1.5)])
    @pytest.mark.parametrize("nut", [False, True])
    def test_thread_and_pitch_are_to_one_scale(self, thread: float, pitch: float, nut: bool) -> None:
        svg = clamped_bolt_svg(thread, pitch, "10.9", nut=nut, uid="b")
        points = [
            tuple(map(float, pair.split(","))) for pair in part(svg, "thread").get("points", "").split()
        ]
        thick = max(y for _, y in points) - min(y for _, y in points)
        turns = segments(part(svg, "turns"))
        steps = [b[0] - a[0] for a, b in pairwise(turns)]
        assert sum(steps) / len(steps) / thick == pytest.approx(pitch / thread, rel=0.08)
        assert lines(svg, "turns") and part(svg, "mark").text == "10.9"
        assert f"M{thread:g} × {pitch:g}" in words(svg)

    def test_larger_bolts_are_drawn_larger(self) -> None:
        heights = [
            number(part(clamped_bolt_svg(d, 1.25, "8.8", uid="b"), "hexagon"), "height") for d in (8, 12)
        ]
        assert heights[1] / heights[0] == pytest.approx(1.5, rel=0.01)

    def test_what_cannot_be_is_refused(self) -> None:
        for wrong in ((5, 1.5, "8.8"), (12, 4, "8.8"), (12, 1.5, " ")):
            with pytest.raises(ValueError, match=r"must be"):
                clamped_bolt_svg(*wrong, uid="b")
