"""The drawings of lesson 09, read back as a person does: areas give volumes, the rule the gap."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from typing import Any

import pytest
from brakecourse.trade.slide_pins import free_volume_ml, pad_force_split_n, seated_gap_mm
from brakecourse.views.drawings.bracket_parts import BracketLook, PinLook, bracket_parts_svg
from brakecourse.views.drawings.pin_bore import pin_bore_svg
from brakecourse.views.drawings.slide_force import slide_force_svg
from brakecourse.views.drawings.slide_places import SlideCut

from tests.views.picture import corners, described, number, numbers, numerals, part, parts, scale

VAN = SlideCut(57, 1, 128, 12, 24, 10.3, 56, 10, 47)
TRUCK = SlideCut(64, 2, 210, 17, 40, 14.5, 84, 14, 70)
BORES: list[tuple[float, float, float, float]] = [(10.3, 56, 10, 47), (14.5, 84, 14, 70), (8.2, 44, 8, 36)]
SOUND = BracketLook((PinLook(0.5), PinLook(0.5, flat=True)), 10, 47, (0.05, 0.0))


def bore(grease: float, sizes: tuple[float, float, float, float]) -> str:
    names = ("bore_mm", "depth_mm", "pin_mm", "seated_mm")
    return pin_bore_svg(grease, uid="b", **dict(zip(names, sizes, strict=True)))


def box(svg: str, name: str) -> tuple[float, float, float, float]:
    node = part(svg, name)
    return number(node, "x"), number(node, "y"), number(node, "width"), number(node, "height")


@pytest.mark.parametrize("sizes", BORES)
@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 1.2, 1.8])
def test_the_grease_that_is_drawn_is_the_grease_that_was_put_in(
    sizes: tuple[float, float, float, float], share: float
) -> None:
    # Solids of revolution from the picture: a full cylinder at the bottom, a ring round the pin.
    grease = share * free_volume_ml(*sizes)
    svg = bore(grease, sizes)
    px = box(svg, "bore")[2] / sizes[1]
    pin = box(svg, "pin")[3] / px
    across = box(svg, "bore")[3] / px
    assert across == pytest.approx(sizes[0], abs=0.01) and pin == pytest.approx(sizes[2], abs=0.01)
    slug = max((number(node, "width") / px for node in parts(svg, "slug")), default=0.0)
    film = max(number(node, "width") / px for node in parts(svg, "film"))
    drawn = math.pi / 4 * (slug * across**2 + film * (across**2 - pin**2)) / 1000
    assert drawn == pytest.approx(grease, rel=0.02, abs=0.003)


@pytest.mark.parametrize("sizes", BORES)
@pytest.mark.parametrize("share", [0.0, 0.6, 1.3, 1.9])
def test_the_rule_tells_how_far_short_the_pin_stops(
    sizes: tuple[float, float, float, float], share: float
) -> None:
    grease = share * free_volume_ml(*sizes)
    svg = bore(grease, sizes)
    read = scale({value: spot[0] for value, spot in numerals(svg, "rule-number").items()})
    gap = seated_gap_mm(grease, *sizes)
    assert read(number(part(svg, "reach"), "x1")) == pytest.approx(gap, abs=0.05)
    left, _, width, _ = box(svg, "collar")
    assert left + width == pytest.approx(number(part(svg, "reach"), "x1"), abs=0.1)
    assert ("short of its seat" in described(svg)) == (gap > 0)


def test_the_pin_never_goes_through_grease_or_iron() -> None:
    for share in (0.0, 0.7, 1.0, 1.5, 2.0):
        svg = bore(share * free_volume_ml(*BORES[0]), BORES[0])
        x, _, width, _ = box(svg, "bore")
        pin_x, _, pin_width, _ = box(svg, "pin")
        front = min((number(node, "x") for node in parts(svg, "slug")), default=x + width)
        assert pin_x + pin_width <= front + 0.05 <= x + width + 0.1


def length(node: ET.Element) -> float:
    spots = corners(node)
    xs, ys = zip(*spots, strict=True)
    return max(max(xs) - min(xs) if "left" in node.get("data-part", "") else 0, max(ys) - min(ys))


@pytest.mark.parametrize(
    ("clamp", "drag"), [(3828, 0), (3828, 1000), (3828, 1850), (7000, 1850), (2000, 2500)]
)
def test_arrows_and_bar_go_with_the_forces(clamp: float, drag: float) -> None:
    svg = slide_force_svg(VAN, clamp, drag, full_n=7656, inner_mm=12, outer_mm=12, uid="f")
    split = pad_force_split_n(clamp, drag)
    full = box(svg, "bar-piston")[2]
    outer = box(svg, "bar-outer")[2] if split.outer_n else 0.0
    assert outer / full == pytest.approx(split.outer_n / split.inner_n, abs=0.002)
    inner_arrow = length(part(svg, "arrow-inner"))
    arrows = parts(svg, "arrow-outer")
    assert len(arrows) == bool(split.outer_n)
    if arrows:
        assert length(arrows[0]) / inner_arrow == pytest.approx(split.outer_n / split.inner_n, abs=0.02)
    held = sum(length(node) for node in parts(svg, "arrow-drag"))
    assert held / inner_arrow == pytest.approx((clamp - split.outer_n) / clamp, abs=0.02)


def test_two_pistons_share_the_force() -> None:
    svg = slide_force_svg(TRUCK, 9000, 0, full_n=9000, inner_mm=17, outer_mm=17, uid="f")
    both = [length(node) for node in parts(svg, "arrow-inner")]
    assert len(both) == 2 and sum(both) == pytest.approx(length(part(svg, "arrow-outer")), abs=0.2)


@pytest.mark.parametrize("cut", [VAN, TRUCK])
@pytest.mark.parametrize("left", [(1.0, 1.0), (0.4, 0.7), (0.0, 0.5)])
def test_pads_pins_and_bracket_are_at_true_proportion(cut: SlideCut, left: tuple[float, float]) -> None:
    inner, outer = (share * cut.lining_new_mm for share in left)
    svg = slide_force_svg(cut, 3000, 500, full_n=9000, inner_mm=inner, outer_mm=outer, uid="f")
    px = box(svg, "rotor")[3] / cut.rotor_mm
    for name, lining in (("inner-lining", inner), ("outer-lining", outer)):
        if lining:
            _, _, width, height = box(svg, name)
            assert height / px == pytest.approx(lining, abs=0.05)
            assert width / px == pytest.approx(cut.pad_length_mm, abs=0.1)
    _, y, width, height = box(svg, "bore-leading")
    assert (width / px, height / px) == pytest.approx((cut.bore_mm, cut.depth_mm), abs=0.1)
    _, pin_y, pin_width, pin_height = box(svg, "pin-leading")
    assert pin_width / px == pytest.approx(cut.pin_mm, abs=0.05)
    # The body follows the outer pad, and the pin comes out of its bore by as much.
    inserted = (pin_y + pin_height - y) / px
    assert inserted == pytest.approx(cut.seated_mm - (cut.lining_new_mm - outer), abs=0.1)


def test_the_caliper_stays_inside_the_picture_as_the_pads_wear() -> None:
    for cut in (VAN, TRUCK):
        for left in (cut.lining_new_mm, 0.0):
            svg = slide_force_svg(cut, 3000, 0, full_n=9000, inner_mm=left, outer_mm=left, uid="f")
            ys = [y for _, y in corners(part(svg, "body"))]
            assert 30 < min(ys) < max(ys)


def test_clips_lie_on_their_rust() -> None:
    svg = bracket_parts_svg(replace(SOUND, clip_rust_mm=(0.6, 0.0)), uid="p")
    ends = sorted(y for _, y1, _, y2 in [line_of(svg, "clip-scale")] for y in (y1, y2))
    per_mm = ends[1] - ends[0]
    clip = box(svg, "clip-leading")
    iron = max(y for _, y in corners(part(svg, "rust-leading")))
    assert (iron - (clip[1] + clip[3])) / per_mm == pytest.approx(0.6, abs=0.02)
    assert not parts(svg, "rust-trailing")


def line_of(svg: str, name: str) -> tuple[float, float, float, float]:
    first = part(svg, name).get("d", "").split("M")[1]
    start, end = first.split("L")
    (x1, y1), (x2, y2) = (map(float, spot.split()) for spot in (start, end))
    return x1, y1, x2, y2


@pytest.mark.parametrize(
    ("look", "shown", "words"),
    [
        (replace(SOUND, piston_boot_torn=True), "piston-tear", "piston's boot is torn"),
        (replace(SOUND, pins=(PinLook(0.05, scored=True), SOUND.pins[1])), "rust-spot-leading", "nearly dry"),
        (replace(SOUND, pins=(PinLook(2.0), SOUND.pins[1])), "lump-leading", "lump of grease"),
        (replace(SOUND, pins=(PinLook(0.5, boot_torn=True), SOUND.pins[1])), "tear-leading", "boot is torn"),
        (
            replace(SOUND, pins=(PinLook(0.5, flat=True), PinLook(0.5))),
            "flat-leading",
            "leading bore .* with the",
        ),
    ],
)
def test_what_is_wrong_is_drawn_and_told_and_else_it_is_not(
    look: BracketLook, shown: str, words: str
) -> None:
    assert parts(bracket_parts_svg(look, uid="p"), shown)
    assert re.search(words, described(bracket_parts_svg(look, uid="p")))
    assert not parts(bracket_parts_svg(SOUND, uid="p"), shown)


def test_no_picture_tells_a_length_or_a_force() -> None:
    assert numbers(bracket_parts_svg(SOUND, uid="p")) <= {"1"}  # the scale of 1 mm
    assert numbers(slide_force_svg(VAN, 3828, 900, full_n=9000, inner_mm=7, outer_mm=9, uid="f")) == set()
    assert numbers(bore(1.26, BORES[0])) == {"0", "5", "10", "15"}  # the rule's own


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: pin_bore_svg(9, bore_mm=10.3, depth_mm=56, pin_mm=10, seated_mm=47, uid="b"),
        lambda: pin_bore_svg(0.1, bore_mm=10, depth_mm=56, pin_mm=10.3, seated_mm=47, uid="b"),
        lambda: slide_force_svg(VAN, 9000, 0, full_n=100, inner_mm=7, outer_mm=9, uid="f"),
        lambda: slide_force_svg(VAN, 90, -1, full_n=100, inner_mm=7, outer_mm=9, uid="f"),
        lambda: SlideCut(57, 1, 128, 12, 24, 10.3, 56, 11, 47),
        lambda: PinLook(math.nan),
        lambda: BracketLook(SOUND.pins, 10, 47, (-1, 0)),
        lambda: bracket_parts_svg(SOUND, uid="1 2"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_one_sentence(wrong: Any) -> None:
    with pytest.raises(ValueError, match=r"^[A-Za-z].*[.]$") as caught:
        wrong()
    assert "\n" not in str(caught.value)
