"""Read the plots back by their own scales, and the limit's picture by its own zones."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from brakecourse.trade.conformity import decide
from brakecourse.views.drawings import limit_svg, run_out_plot_svg, thickness_plot_svg
from hypothesis import assume, given
from hypothesis import strategies as st

NS = "{http://www.w3.org/2000/svg}"
ANGLES = [45.0 * k for k in range(8)]


def parts(svg: str, name: str) -> list[ET.Element]:
    return [node for node in ET.fromstring(svg).iter() if node.get("data-part") == name]


def scales(svg: str) -> list[list[tuple[float, float]]]:
    """Return each plot's scale, from the numbers on its left: (height on the picture, value)."""
    found: list[list[tuple[float, float]]] = []
    for text in ET.fromstring(svg).iter(f"{NS}text"):
        if text.get("text-anchor") == "end" and re.fullmatch("\N{MINUS SIGN}?\\d+\\.\\d+", text.text or ""):
            y = float(text.get("y", "")) - 4.5
            value = float((text.text or "").replace("\N{MINUS SIGN}", "-"))
            if not found or y > found[-1][-1][0]:
                found.append([])  # a scale is written from below upwards, so a lower number begins the next
            found[-1].append((y, value))
    return found


def value_at(scale: list[tuple[float, float]], y: float) -> float:
    (y0, v0), (y1, v1) = scale[0], scale[-1]
    return v0 + (v1 - v0) * (y - y0) / (y1 - y0)


rows = st.lists(st.integers(-40, 40).map(lambda n: n / 100), min_size=8, max_size=8)


@given(rows)
def test_run_out_points_stand_at_their_readings(readings: list[float]) -> None:
    svg = run_out_plot_svg(ANGLES, readings, uid="p", limit_mm=0.1)
    (scale,) = scales(svg)
    dots = parts(svg, "reading")
    assert [value_at(scale, float(dot.get("cy", ""))) for dot in dots] == pytest.approx(readings, abs=0.002)
    across = [float(dot.get("cx", "")) for dot in dots]
    steps = [b - a for a, b in pairwise(across)]
    assert steps == pytest.approx([(500 - 78) / 8] * 7, abs=0.02)


@given(rows)
def test_the_bracket_spans_the_total_and_the_limit_stands_above_the_lowest(readings: list[float]) -> None:
    svg = run_out_plot_svg(ANGLES, readings, uid="p", limit_mm=0.08)
    (scale,) = scales(svg)
    ends = [float(pair.split(",")[1]) for pair in parts(svg, "bracket")[0].get("points", "").split()]
    total = max(readings) - min(readings)
    assert value_at(scale, min(ends)) - value_at(scale, max(ends)) == pytest.approx(total, abs=0.002)
    limit = float(parts(svg, "limit")[0].get("y1", ""))
    assert value_at(scale, limit) == pytest.approx(min(readings) + 0.08, abs=0.002)
    assert f"{total:.2f} mm" in svg
    assert f">{total:.2f} mm<" not in run_out_plot_svg(ANGLES, readings, uid="p", tell_total=False)


@given(st.lists(st.integers(2150, 2400).map(lambda n: n / 100), min_size=8, max_size=8))
def test_thickness_stands_right_in_both_plots(readings: list[float]) -> None:
    svg = thickness_plot_svg(ANGLES, readings, uid="p", discard_mm=21, machine_to_mm=21.6)
    whole, large = scales(svg)
    heights = [float(dot.get("cy", "")) for dot in parts(svg, "reading")]
    assert [value_at(whole, y) for y in heights[:8]] == pytest.approx(readings, abs=0.02)
    assert [value_at(large, y) for y in heights[8:]] == pytest.approx(readings, abs=0.02)
    limits = [value_at(whole, float(line.get("y1", ""))) for line in parts(svg, "limit")]
    assert limits == pytest.approx([21, 21.6], abs=0.02)
    ends = [float(pair.split(",")[1]) for pair in parts(svg, "bracket")[0].get("points", "").split()]
    spanned = value_at(large, min(ends)) - value_at(large, max(ends))
    assert spanned == pytest.approx(max(readings) - min(readings), abs=0.02)


def test_points_may_come_in_any_order() -> None:
    readings = [0.0, 0.01, 0.03, 0.05]
    turned = run_out_plot_svg([180, 270, 0, 90], [0.03, 0.05, 0.0, 0.01], uid="p")
    assert turned == run_out_plot_svg([0, 90, 180, 270], readings, uid="p")


def test_all_of_a_plot_stays_on_the_picture() -> None:
    for readings in ([0.0] * 8, [0, 5, -5, 0, 0, 0, 0, 0], [0.001 * k for k in range(8)]):
        svg = run_out_plot_svg(ANGLES, readings, uid="p", limit_mm=0.05)
        assert all(44 <= float(dot.get("cy", "")) <= 272 for dot in parts(svg, "reading"))


@pytest.mark.parametrize(
    ("angles", "readings"),
    [
        ([0, 90], [0.0, 0.1]),
        ([0, 90, 180], [0.0, 0.1]),
        ([0, 90, 360], [0.0, 0.1, 0.2]),
        ([0, -90, 180], [0.0, 0.1, 0.2]),
        ([0, 90, 90], [0.0, 0.1, 0.2]),
        ([0, 90, 180], [0.0, math.nan, 0.2]),
        ([0, 90, 180], [0.0, "0.1", 0.2]),
        ([0, 90, 180], [0.0, True, 0.2]),
        ([0, 90, 180], "abc"),
        ([0, 90, 180], None),
        ([], []),
    ],
)
def test_rows_that_do_not_fit_are_refused_in_a_sentence(angles: object, readings: object) -> None:
    sentence = r"^[A-Z][^.]*(\d\.\d[^.]*)*\.$"
    with pytest.raises(ValueError, match=sentence):
        run_out_plot_svg(angles, readings, uid="p")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=sentence):
        thickness_plot_svg(angles, readings, uid="p", discard_mm=1, machine_to_mm=2)  # type: ignore[arg-type]


@pytest.mark.parametrize("limit", [0, -0.1, math.nan, "0.1", True])
def test_a_run_out_limit_that_is_none_is_refused(limit: object) -> None:
    with pytest.raises(ValueError, match=r"^The run-out limit in mm must be .*\.$"):
        run_out_plot_svg(ANGLES, [0.0] * 8, uid="p", limit_mm=limit)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("discard", "machine_to"), [(22, 22), (22, 21), (0, 21), (-1, 21), (math.nan, 21), (20, "21")]
)
def test_thickness_limits_out_of_order_are_refused(discard: object, machine_to: object) -> None:
    with pytest.raises(ValueError, match=r"^The .* must be .*\.$"):
        thickness_plot_svg(ANGLES, [22.0] * 8, uid="p", discard_mm=discard, machine_to_mm=machine_to)  # type: ignore[arg-type]


class TestLimit:
    """The picture and the trade's decision must agree, wherever the reading lies."""

    def zone_of_marker(self, svg: str) -> str:
        corners = parts(svg, "measured")[0].get("points", "").split()
        x = sum(float(corner.split(",")[0]) for corner in corners) / 4
        for name in ("within", "too", "outside"):
            for zone in parts(svg, f"zone-{name}"):
                left = float(zone.get("x", ""))
                if left <= x <= left + float(zone.get("width", "")):
                    return {"too": "too close to call"}.get(name, name)
        raise AssertionError(f"no zone at {x}")

    @given(st.floats(-0.3, 0.3), st.floats(0.001, 0.05), st.sampled_from(["minimum", "maximum"]))
    def test_the_marker_stands_in_the_zone_of_the_verdict(self, off: float, u: float, side: str) -> None:
        decision = decide(20 + off, 20, side, u)  # type: ignore[arg-type]
        # On the border between two zones a hundredth of a pixel decides; the trade's tests look there.
        assume(abs(abs(off) - decision.guard_band) > decision.guard_band / 1000)
        svg = limit_svg(20 + off, 20, side, decision.guard_band, uid="l")  # type: ignore[arg-type]
        assert self.zone_of_marker(svg) == decision.verdict

    @pytest.mark.parametrize(
        ("side", "order"),
        [("minimum", ["outside", "too", "within"]), ("maximum", ["within", "too", "outside"])],
    )
    def test_the_zones_stand_in_order(self, side: str, order: list[str]) -> None:
        svg = limit_svg(20, 20, side, 0.02, uid="l")  # type: ignore[arg-type]
        spans = {name: parts(svg, f"zone-{name}")[0] for name in order}
        assert sorted(spans, key=lambda name: float(spans[name].get("x", ""))) == order

    def test_the_band_is_as_wide_as_the_grey_zone(self) -> None:
        svg = limit_svg(20.01, 20, "minimum", 0.02, uid="l")
        band, zone, limit = parts(svg, "band")[0], parts(svg, "zone-too")[0], parts(svg, "limit")[0]
        assert float(band.get("x2", "")) - float(band.get("x1", "")) == pytest.approx(
            float(zone.get("width", "")), abs=0.05
        )
        middle = (float(band.get("x2", "")) + float(band.get("x1", ""))) / 2
        # Half of the guard band past the limit.
        assert middle - float(limit.get("x1", "")) == pytest.approx(
            float(zone.get("width", "")) / 4, abs=0.05
        )

    def test_without_a_guard_band_there_are_two_zones(self) -> None:
        svg = limit_svg(0.07, 0.1, "maximum", 0, uid="l")
        assert not parts(svg, "zone-too")
        assert "too close" not in svg
        assert self.zone_of_marker(svg) == "within"
        assert self.zone_of_marker(limit_svg(0.11, 0.1, "maximum", 0, uid="l")) == "outside"

    def test_a_reading_far_off_is_told_as_such(self) -> None:
        far, near = (
            limit_svg(25, 20, "minimum", 0.02, uid="l"),
            limit_svg(20.03, 20, "minimum", 0.02, uid="l"),
        )
        assert parts(far, "break")
        assert "farther off than drawn" in far
        assert not parts(near, "break")

    def test_only_lengths_get_inches(self) -> None:
        assert "(0.787 in)" in limit_svg(20.01, 20, "minimum", 0.02, uid="l")
        assert " in)" not in limit_svg(110, 108, "maximum", 4, unit="N·m", uid="l")

    @pytest.mark.parametrize(
        ("measured", "limit", "side", "guard"),
        [
            (math.nan, 20, "minimum", 0.1),
            ("20", 20, "minimum", 0.1),
            (20, True, "minimum", 0.1),
            (20, 20, "least", 0.1),
            (20, 20, "minimum", -0.1),
            (20, 20, "minimum", math.inf),
        ],
    )
    def test_what_is_no_decision_is_refused(
        self, measured: object, limit: object, side: object, guard: object
    ) -> None:
        with pytest.raises(ValueError, match=r"^The .* must be .*\.$"):
            limit_svg(measured, limit, side, guard, uid="l")  # type: ignore[arg-type]
