"""Measure the pads on the pictures themselves, and look at what their faces show."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from brakecourse.trade.pads import PadReading
from brakecourse.views.drawings import pad_measured_svg, pads_at_rotor_svg
from brakecourse.views.drawings._pad_shape import LOOKS, DrawnPad
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import corners, heard, number, numbers, part, parts, round_scale, tip_deg, words

PAD = DrawnPad(PadReading(6.0, 6.0, 8.0, 8.0), 150, 50, 12)
thick = st.integers(5, 120).map(lambda n: n / 10)


def pad(*lining: float, **more: object) -> DrawnPad:
    return replace(PAD, reading=PadReading(*lining), **more)  # type: ignore[arg-type]


def heights(svg: str, name: str = "pad-near", scale: float = 0.0) -> tuple[float, float]:
    """Return the lining at the left and the right end of a side, read off its outline, in mm."""
    outline = corners(part(svg, name))
    base = outline[0][1]
    px = scale or (outline[-1][0] - outline[0][0]) / PAD.length_mm
    (x1, y1), (x2, y2) = outline[2], outline[-3]  # the corners of the face, inside the chamfers
    slope = (y2 - y1) / (x2 - x1)
    left, right = outline[0][0], outline[-1][0]
    return (base - (y1 + slope * (left - x1))) / px, (base - (y1 + slope * (right - x1))) / px


@given(thick, thick)
def test_both_long_edges_are_drawn_at_true_proportion(leading: float, trailing: float) -> None:
    drawn = pad(leading, leading, trailing, trailing)
    if drawn.chamfer_mm(drawn.mean_mm) == 0:
        return
    inner = pad_measured_svg(drawn, "inner edge", "leading", "inner", 5, uid="q")
    outer = pad_measured_svg(drawn, "outer edge", "leading", "inner", 5, uid="q")
    assert heights(inner) == pytest.approx((leading, trailing), abs=0.03)
    assert heights(outer) == pytest.approx((trailing, leading), abs=0.03)  # turned round


@pytest.mark.parametrize(("view", "left", "right"), [("leading end", 5.0, 7.0), ("trailing end", 7.0, 5.0)])
def test_an_end_shows_the_taper_in_height(view: str, left: float, right: float) -> None:
    svg = pad_measured_svg(pad(5.0, 7.0, 5.0, 7.0), view, "leading", "inner", 5, uid="q")
    outline = corners(part(svg, "pad-near"))
    px = (outline[-1][0] - outline[0][0]) / PAD.height_mm
    base = outline[0][1]
    assert [(base - outline[1][1]) / px, (base - outline[-2][1]) / px] == pytest.approx(
        [left, right], abs=0.03
    )


@given(st.integers(0, 1500).map(lambda n: n / 100))
def test_the_gauge_is_read_beside_the_pad(shown: float) -> None:
    svg = pad_measured_svg(PAD, "face", "trailing", "outer", shown, uid="q")
    assert round_scale(svg, "mm")(tip_deg(svg)) == pytest.approx(shown, abs=0.02)
    assert heard(svg, 0.1, "The needle stands") == pytest.approx(shown, abs=0.051)


@pytest.mark.parametrize("end", ["leading", "trailing"])
@pytest.mark.parametrize("edge", ["outer", "inner"])
def test_the_ring_tells_the_corner(end: str, edge: str) -> None:
    svg = pad_measured_svg(PAD, "inner edge", end, edge, 5, uid="q")
    spot = part(svg, "spot")
    slot_x = 445.0  # about the middle of the small face
    assert (number(spot, "cx") < slot_x) == (end == "leading")
    assert f"{end} end, {edge} edge" in words(svg)


def test_the_foot_stands_on_the_lining_and_the_pin_on_the_plate() -> None:
    svg = pad_measured_svg(PAD, "inner edge", "leading", "inner", 6, uid="q")
    foot, plate = part(svg, "gauge-foot"), part(svg, "pad-plate")
    pin = part(svg, "gauge-pin")
    outline = corners(part(svg, "pad-near"))
    px = (outline[-1][0] - outline[0][0]) / PAD.length_mm
    foot_low = number(foot, "y") + number(foot, "height")
    assert number(plate, "y") - foot_low == pytest.approx(6.0 * px, abs=0.1)
    assert number(pin, "x") + number(pin, "width") < outline[0][0]
    assert number(plate, "x") < number(pin, "x")


def beside(inner: DrawnPad, outer: DrawnPad, rotor: float = 24.0, ridge: float = 0.0) -> str:
    return pads_at_rotor_svg(inner, outer, rotor_mm=rotor, ridge_mm=ridge, uid="q")


def test_pads_and_rotor_share_one_scale() -> None:
    svg = beside(pad(6, 6, 8, 8), pad(9, 9, 7, 7))
    rotor = part(svg, "rotor")
    outline = corners(part(svg, "inner-near"))
    px = (outline[-1][0] - outline[0][0]) / PAD.length_mm
    assert number(rotor, "height") / px == pytest.approx(24.0, abs=0.05)
    assert number(part(svg, "inner-plate"), "height") / px == pytest.approx(5.5, abs=0.05)
    lower = corners(part(svg, "outer-near"))
    left, right = (lower[0][1] - lower[2][1]) / px, (lower[0][1] - lower[-3][1]) / px
    assert left > right  # the outer pad is thick at its leading end, which stands at the left
    hanging = [(y - outline[0][1]) / px for _, y in (outline[2], outline[-3])]
    assert hanging[0] < hanging[1]


def test_each_look_has_a_mark_of_its_own() -> None:
    marks = {
        "glazed": "look-gloss",
        "contaminated with brake fluid": "look-fluid",
        "contaminated with grease": "look-grease",
        "uneven transfer": "look-patch",
        "cracked": "look-crack",
    }
    for look, mark in marks.items():
        svg = beside(replace(PAD, looks=(look,)), PAD)
        assert parts(svg, mark)
        assert all(not parts(svg, other) for name, other in marks.items() if name != look)
    stepped = beside(pad(6, 6, 6, 6, 1.2), PAD, ridge=1.0)
    assert len(parts(stepped, "look-step")) == 1 and len(parts(stepped, "ridge")) == 2
    assert set(marks) < set(LOOKS)


def test_wear_takes_the_chamfers_away() -> None:
    assert parts(beside(pad(10, 10, 10, 10), PAD), "chamfer")
    assert len(parts(beside(pad(4, 4, 4, 4), pad(4, 4, 4, 4)), "chamfer")) == 0


def test_the_thin_end_keeps_the_smaller_chamfer() -> None:
    leading, trailing = (
        number(one, "width") for one in parts(beside(pad(7, 7, 10, 10), pad(4, 4, 4, 4)), "chamfer")
    )
    assert 0 < leading < trailing


@given(thick, thick)
def test_no_picture_says_a_thickness(one: float, two: float) -> None:
    drawn = pad(one, one, two, two)
    assert not {f"{one:g}", f"{two:g}"} & {n for n in numbers(beside(drawn, PAD)) if "." in n}


@pytest.mark.parametrize("reading", [math.nan, 13.5, -0.1])
def test_a_pad_that_cannot_be_is_refused(reading: float) -> None:
    with pytest.raises(ValueError, match=r"lining thickness"):
        pad(reading, 6, 6, 6)


def test_bad_arguments_are_refused_in_one_sentence() -> None:
    for call in (
        lambda: beside(PAD, "pad"),  # type: ignore[arg-type]
        lambda: beside(PAD, PAD, rotor=math.inf),
        lambda: beside(PAD, PAD, ridge=-1),
        lambda: replace(PAD, looks=("rosy",)),
        lambda: replace(PAD, reading=(1, 2, 3, 4)),  # type: ignore[arg-type]
        lambda: pad_measured_svg(PAD, "above", "leading", "inner", 5, uid="q"),
        lambda: pad_measured_svg(PAD, "face", "left", "inner", 5, uid="q"),
        lambda: pad_measured_svg(PAD, "face", "leading", "upper", 5, uid="q"),
        lambda: pad_measured_svg(PAD, "face", "leading", "inner", 99, uid="q"),
    ):
        with pytest.raises(ValueError, match=r"^[A-Z].*\.$"):
            call()
