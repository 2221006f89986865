"""Hub and rotor pictures, read back as a person reads them: lean, flake, arrows, marks."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.trade.hub_fit import RunOut, stack_run_out_mm, tilt_deg
from brakecourse.views.drawings.hub_face import hub_face_svg
from brakecourse.views.drawings.hub_section import LARGER, hub_section_svg
from brakecourse.views.drawings.hub_shapes import HubAndRotor
from brakecourse.views.drawings.rotor_index import rotor_index_svg
from brakecourse.views.drawings.rotor_off import rotor_off_svg
from brakecourse.views.mating_fit import size_of
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.views.picture import corners, described, number, part, parts, words

HUB = HubAndRotor(142, 90, 116, 66, 22, 114, 5)
POOL = list(motor_pool().values())


def lean_deg(svg: str) -> float:
    return float(re.findall(r"rotate\((-?[\d.]+)\)", part(svg, "leaning").get("transform", ""))[0])


def tip(node: ET.Element) -> tuple[float, float]:
    return corners(node)[0]


@pytest.mark.parametrize("flake", [0.01, 0.05, 0.15])
def test_the_lean_is_the_trades_tilt_drawn_larger(flake: float) -> None:
    drawn = math.tan(math.radians(lean_deg(hub_section_svg(HUB, flake, uid="a"))))
    true = math.tan(math.radians(tilt_deg(flake, HUB.seat_mm)))
    assert drawn / true == pytest.approx(LARGER, rel=0.02)
    assert f"drawn {LARGER} times larger" in words(hub_section_svg(HUB, flake, uid="a"))


@pytest.mark.parametrize(
    ("flake_deg", "turned", "side"), [(0, 0, 1), (180, 0, -1), (90, 90, 1), (90, 270, -1), (30, 120, 0)]
)
def test_the_top_leans_outwards_when_the_flake_stands_at_the_top(
    flake_deg: float, turned: float, side: int
) -> None:
    svg = hub_section_svg(HUB, 0.1, uid="a", flake_deg=flake_deg, turned_deg=turned)
    lean = lean_deg(svg)
    assert (lean > 1) == (side == 1) and (lean < -1) == (side == -1)
    told = {1: "leans outwards", -1: "leans inwards", 0: "stands upright"}[side]
    assert told in described(svg)


def test_radii_are_drawn_at_true_proportion_for_every_vehicle() -> None:
    for vehicle in POOL:
        svg = hub_section_svg(size_of(vehicle), 0.05, uid="a")
        long, short = (
            abs(number(line, "y1") - number(line, "y2"))
            for line in (part(svg, "radius-r"), part(svg, "radius-s"))
        )
        brake = vehicle.front
        assert long / short == pytest.approx(brake.measuring_radius_mm / brake.seat_radius_mm, rel=0.002)
        outer = max(abs(y) for node in parts(svg, "rotor") for _, y in corners(node))
        assert outer / long == pytest.approx(
            brake.rotor_outer_radius_mm / brake.measuring_radius_mm, rel=0.002
        )


def test_the_tip_of_the_dial_stays_on_the_leaning_face() -> None:
    for flake, turned in ((0.0, 0), (0.1, 0), (0.1, 180), (0.15, 77)):
        svg = hub_section_svg(HUB, flake, uid="a", turned_deg=turned, reading_mm=0.0)
        look = re.findall(r"translate\((-?[\d.]+) (-?[\d.]+)\) scale\(([\d.]+)\)", svg)[0]
        dial_x, dial_y, scale = map(float, look)
        tip_x = dial_x - scale * (number(part(svg, "tip"), "cy") + 6)
        seat_x, axle_y = map(float, re.findall(r"translate\((178) (282)\)", svg)[0])
        shift = float(re.findall(r"translate\((-?[\d.]+) 0\) rotate", svg)[0])
        turn = math.radians(lean_deg(svg))
        # The face's line, undone: in the rotor's own frame every point of it has the same x.
        x, y = tip_x - seat_x - shift, dial_y - axle_y
        own = x * math.cos(turn) + y * math.sin(turn)
        upright = max(x for x, _ in corners(parts(svg, "rotor")[0]) if x < -1)
        assert own == pytest.approx(upright, abs=0.15)


def test_a_flake_is_named_and_none_is_not() -> None:
    assert "flake of rust" in words(hub_section_svg(HUB, 0.05, uid="a"))
    bare = hub_section_svg(HUB, 0, uid="a")
    assert not parts(bare, "flake") and not parts(bare, "flake-spot") and "stands upright" in described(bare)


@pytest.mark.parametrize("svg", [hub_section_svg(HUB, 0.06, uid="a", reading_mm=0.05)])
def test_the_section_nowhere_says_a_run_out(svg: str) -> None:
    assert not re.search(r"0\.\d\d", words(svg).replace("0.01 mm", ""))


arrow = st.tuples(st.integers(1, 12).map(lambda n: n / 100), st.integers(0, 71).map(lambda n: 5 * n))


@settings(max_examples=40)
@given(arrow, arrow, st.sampled_from(POOL), st.data())
def test_the_arrows_end_to_end_are_as_long_as_the_trade_says(
    hub: Any, rotor: Any, vehicle: Any, data: Any
) -> None:
    index = data.draw(st.integers(0, vehicle.studs - 1))
    svg = rotor_index_svg(size_of(vehicle), hub, rotor, index, uid="a")
    ruler = part(svg, "ruler")
    named = float(re.findall(r"([\d.]+) mm of run-out", svg)[0])
    mm_per_px = named / (number(ruler, "x2") - number(ruler, "x1"))
    start = part(svg, "rotor-laid")
    end = (number(start, "cx"), number(start, "cy")) if start.tag.endswith("circle") else tip(start)
    length = math.hypot(*end) * mm_per_px
    right = stack_run_out_mm(RunOut(*hub), RunOut(*rotor), index, vehicle.studs)
    assert length == pytest.approx(right, abs=0.002)


def test_the_rotors_arrow_and_the_chalk_turn_and_the_hubs_stays() -> None:
    seen = []
    for index in range(5):
        svg = rotor_index_svg(HUB, (0.05, 20), (0.05, 80), index, uid="a")
        chalk = parts(svg, "chalk")[0]
        angles = [
            math.degrees(math.atan2(x, -y)) % 360
            for x, y in (
                tip(part(svg, "hub-arrow")),
                tip(part(svg, "rotor-arrow")),
                (number(chalk, "x2"), number(chalk, "y2")),
            )
        ]
        seen.append([round(angle) for angle in angles])
    assert seen == [[20, (80 + 72 * index) % 360, 72 * index] for index in range(5)]


def test_the_sum_is_not_drawn_when_it_is_asked_for() -> None:
    svg = rotor_index_svg(HUB, (0.05, 20), (0.05, 80), 1, uid="a", tell_together=False)
    assert not parts(svg, "together") and "both together" not in words(svg)


def test_the_faces_tell_rust_from_bare_metal() -> None:
    rusty, bare = (hub_face_svg(HUB, uid="a", rusty=rusty, flake_deg=90) for rusty in (True, False))
    assert len(parts(rusty, "rust")) > 8 and len(parts(rusty, "flake")) == 1
    assert not parts(bare, "rust") and not parts(bare, "flake")
    assert "near 3 o'clock" in described(rusty) and "bare metal" in described(bare)
    spots = corners(part(rusty, "flake"))
    assert sum(x for x, _ in spots) / len(spots) > 30  # right of the middle, as 3 o'clock says


@pytest.mark.parametrize("studs", [3, 4, 5, 6, 8])
def test_threaded_holes_lie_between_the_studs_and_clear_of_the_screw(studs: int) -> None:
    size = HubAndRotor(142, 90, 116, 66, 22, 114, studs)
    svg = rotor_off_svg(size, uid="a", screw=True, holes=True)
    holes = parts(svg, "threaded-hole")
    others = parts(svg, "stud") + parts(svg, "screw")
    assert len(holes) == 2 and len(parts(svg, "stud")) == studs
    for hole in holes:
        for other in others:
            gap = math.dist(*((number(one, "cx"), number(one, "cy")) for one in (hole, other)))
            assert gap > number(hole, "r") + number(other, "r")
    plain = rotor_off_svg(size, uid="a", screw=False, holes=False)
    assert not parts(plain, "threaded-hole") and not parts(plain, "screw")
    assert "no screw and no threaded hole" in described(plain)


@pytest.mark.parametrize(
    "make",
    [
        lambda: hub_section_svg(HUB, -0.01, uid="a"),
        lambda: hub_section_svg(HUB, 0.3, uid="a"),
        lambda: hub_section_svg(HUB, math.nan, uid="a"),
        lambda: hub_section_svg(HUB, 0.05, uid="a", flake_deg=math.inf),
        lambda: hub_section_svg(HUB, 0.05, uid="a", reading_mm=9),
        lambda: hub_face_svg(HUB, uid="a", rusty=True, flake_deg=math.nan),
        lambda: rotor_index_svg(HUB, (0.05, 0), (0.05, 0), 5, uid="a"),
        lambda: rotor_index_svg(HUB, (0.05, 0), (0.05, 0), True, uid="a"),
        lambda: rotor_index_svg(HUB, (-0.05, 0), (0.05, 0), 0, uid="a"),
        lambda: rotor_index_svg(HUB, (0.05, math.nan), (0.05, 0), 0, uid="a"),
        lambda: HubAndRotor(142, 90, 116, 66, 22, 114, 2),
        lambda: HubAndRotor(142, 90, 80, 66, 22, 114, 5),
        lambda: HubAndRotor(142, 90, 116, 0, 22, 114, 5),
        lambda: HubAndRotor("142", 90, 116, 66, 22, 114, 5),  # type: ignore[arg-type]
    ],
)
def test_what_cannot_be_drawn_is_refused_in_one_sentence(make: Any) -> None:
    with pytest.raises(ValueError, match=r"^[A-Z][^\n]*\.$"):
        make()
