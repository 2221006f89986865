"""What every drawing keeps: well-formed, named, described without the reading, readable, and quick."""

from __future__ import annotations

import re
import subprocess
import sys
import timeit
import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest
from brakecourse.trade.pads import PadReading
from brakecourse.views import palette
from brakecourse.views.drawings import (
    Bottle,
    CaliperCut,
    HubAndRotor,
    boiling_tester_svg,
    caliper_follow_svg,
    clamp_spread_svg,
    clamped_bolt_svg,
    curve_plot_svg,
    depth_gauge_svg,
    dial_on_rotor_svg,
    dial_svg,
    energy_bars_svg,
    fluid_bottles_svg,
    hub_face_svg,
    hub_section_svg,
    infrared_thermometer_svg,
    level_band_svg,
    limit_svg,
    micrometer_svg,
    moisture_tester_svg,
    on_stands_svg,
    pad_measured_svg,
    pads_at_rotor_svg,
    pedal_svg,
    pressure_gauge_svg,
    reservoir_svg,
    road_test_svg,
    rotor_index_svg,
    rotor_off_svg,
    rotor_section_svg,
    rule_svg,
    run_out_plot_svg,
    speed_line_svg,
    spring_gauge_svg,
    step_cards_svg,
    thickness_plot_svg,
    torque_levers_svg,
    torque_wrench_svg,
    wheel_nuts_svg,
    workshop_svg,
)
from brakecourse.views.drawings._pad_shape import DrawnPad
from brakecourse.views.drawings.clamp_spread import SpreadBar
from brakecourse.views.drawings.step_cards import StepCard
from hypothesis import given
from hypothesis import strategies as st

NS = "{http://www.w3.org/2000/svg}"
ANGLES = [0, 45, 90, 135, 180, 225, 270, 315]

HUB = HubAndRotor(142, 90, 116, 66, 22, 114, 5)

# One of each, with only the uid and the title open.
PAD = DrawnPad(PadReading(5.5, 5.7, 9.2, 9.3), 150, 50, 12)

EACH: dict[str, Callable[..., str]] = {
    "micrometer": lambda **k: micrometer_svg(21.87, **k),
    "dial": lambda **k: dial_svg(-0.035, **k),
    "dial on rotor": lambda **k: dial_on_rotor_svg(0.03, 45, **k),
    "dial on rotor, loose": lambda **k: dial_on_rotor_svg(0.03, 50, nuts_fitted=False, **k),
    "run-out": lambda **k: run_out_plot_svg(
        ANGLES, [0, 0.02, 0.05, 0.07, 0.06, 0.03, 0, -0.01], limit_mm=0.1, **k
    ),
    "thickness": lambda **k: thickness_plot_svg(
        ANGLES, [22.0, 22.01, 22, 22, 21.99, 22, 22.02, 22], discard_mm=21, machine_to_mm=21.5, **k
    ),
    "limit": lambda **k: limit_svg(21.51, 21.5, "minimum", 0.02, **k),
    "section": lambda **k: rotor_section_svg(ridge_mm=0.3, groove_mm=0.4, worn_mm=1, **k),
    "reservoir": lambda **k: reservoir_svg(43.4, min_mm=20, max_mm=50, height_mm=70, **k),
    "reservoir, tall": lambda **k: reservoir_svg(8, min_mm=20, max_mm=50, height_mm=150, fluid="dark", **k),
    "pressure": lambda **k: pressure_gauge_svg(6.5, **k),
    "depth": lambda **k: depth_gauge_svg(6.34, **k),
    "pads": lambda **k: pads_at_rotor_svg(PAD, PAD, rotor_mm=26.4, ridge_mm=1.1, **k),
    "pad, on edge": lambda **k: pad_measured_svg(PAD, "outer edge", "trailing", "inner", 9.31, **k),
    "pad, on its face": lambda **k: pad_measured_svg(PAD, "face", "leading", "inner", 5.72, **k),
    "wrench": lambda **k: torque_wrench_svg(86, low_nm=20, high_nm=200, **k),
    "wrench, angled": lambda **k: torque_wrench_svg(
        86, low_nm=20, high_nm=200, extension_mm=200, angle_deg=-60, **k
    ),
    "bottles": lambda **k: fluid_bottles_svg([Bottle("DOT 4"), Bottle("mineral oil", 7)], **k),
    "moisture": lambda **k: moisture_tester_svg(2.34, **k),
    "boiling": lambda **k: boiling_tester_svg(183.4, **k),
    "infrared": lambda **k: infrared_thermometer_svg(214, **k),
    "pedal": lambda **k: pedal_svg(48.4, room_mm=130, force_n=512, strokes=7, **k),
    "curve": lambda **k: curve_plot_svg(
        [("front & <rear>", [(0, 20), (1, 300)]), ("b", [(0, 20), (1, -100)])],
        **{"x_label": "s", "y_label": "°C", "limit": 250, "band": (50, 90, "b"), "title": "A curve", **k},
    ),
    "spring": lambda **k: spring_gauge_svg(23.4, **k),
    "rule": lambda **k: rule_svg(37.4, **k),
    "step cards": lambda **k: step_cards_svg(
        [
            StepCard("a", "Wash <it> & dry it.", 1, mark="too early"),
            StepCard("b", "Oil the pin.", None, True),
        ],
        **k,
    ),
    "on stands": lambda **k: on_stands_svg(
        kind="saloon",
        wheelbase_mm=2850,
        gravity_to_front_mm=1340,
        gravity_height_mm=540,
        tyre_radius_mm=325,
        end="rear",
        **k,
    ),
    "workshop": lambda **k: workshop_svg(
        ("van", 2750, 305, 650),
        {"support": "blocks", "dust": "air", "spring": "levered", "fluid": "spilt", "cleaner": "heater"},
        **{"told": ["Blocks.", "Air & dust.", "A <spring>.", "Spilt fluid.", "A heater."], **k},
    ),
    "workshop, leaving": lambda **k: workshop_svg(
        ("bus", 3650, 350, 850),
        {"sheet": "loose nuts"},
        told=["The job sheet says that the nuts are loose."],
        **k,
    ),
    "energy bars": lambda **k: energy_bars_svg(
        [("First", 32.0, 0, 156, "156 kJ"), ("Second", 64.0, 32.0, 468, "468 kJ")], **k
    ),
    "speed line": lambda **k: speed_line_svg([(20, 0), (40, 20)], **k),
    "road test": lambda **k: road_test_svg(
        (341, 338, 83, 84),
        wheelbase_mm=3650,
        tyre_radius_mm=350,
        pull="left",
        smoke=(0,),
        haze=(1,),
        noise=True,
        **k,
    ),
    "levers": lambda **k: torque_levers_svg(given="N·m", wanted="lbf·ft", **k),
    "wheel nuts": lambda **k: wheel_nuts_svg(
        5, stud_circle_mm=114, thread_mm=12, rim_radius_mm=203, tyre_radius_mm=310, tight=(1, 3), **k
    ),
    "clamp spread": lambda **k: clamp_spread_svg(
        [SpreadBar("a & <b>", 22e3, 28e3, 35e3), SpreadBar("your way", 20e3, 46e3, 84e3)], proof_n=53e3, **k
    ),
    "bolt": lambda **k: clamped_bolt_svg(12, 1.25, "8.8", **k),
    "stud": lambda **k: clamped_bolt_svg(18, 1.5, "10.9", nut=True, **k),
    "caliper follows": lambda **k: caliper_follow_svg(
        CaliperCut("floating", 57, 46, 24, 12, 5.9, 0.4), level_mm=23, min_mm=9, max_mm=36, height_mm=50, **k
    ),
    "level band": lambda **k: level_band_svg(76.3, 90, 5.66, **k),
    "hub section": lambda **k: hub_section_svg(HUB, 0.08, flake_deg=180, turned_deg=40, reading_mm=0.05, **k),
    "hub faces": lambda **k: hub_face_svg(HUB, rusty=True, flake_deg=200, **k),
    "rotor on studs": lambda **k: rotor_index_svg(HUB, (0.05, 190), (0.07, 170), 2, **k),
    "rotor stuck": lambda **k: rotor_off_svg(HUB, screw=True, holes=True, **k),
}
each = pytest.mark.parametrize("draw", EACH.values(), ids=EACH.keys())


def words_of(svg: str) -> str:
    """Return all that can be read or heard: title, description and words on the picture."""
    return " | ".join("".join(node.itertext()) for node in ET.fromstring(svg) if node.tag != f"{NS}defs")


@each
def test_it_is_named_and_described(draw: Callable[..., str]) -> None:
    root = ET.fromstring(draw(uid="x-1", title='A & B <c> "d"'))
    assert root.tag == f"{NS}svg"
    assert root.get("role") == "img"
    title, desc = root.find(f"{NS}title"), root.find(f"{NS}desc")
    assert title is not None and desc is not None
    assert title.text == 'A & B <c> "d"'
    assert len(desc.text or "") > 60
    assert (desc.text or "").endswith(".")
    assert root.get("aria-labelledby", "").split() == [title.get("id"), desc.get("id")]


@each
def test_ids_are_unique_on_a_page_and_every_reference_is_met(draw: Callable[..., str]) -> None:
    page = draw(uid="a") + draw(uid="a2") + draw(uid="b.1")
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids)) >= 6
    assert set(re.findall(r"url\(#([^)]+)\)", page)) <= set(ids)
    assert all(re.match(r"(a|a2|b\.1)-", one) for one in ids)


@each
def test_it_needs_nothing_from_outside_and_runs_nothing(draw: Callable[..., str]) -> None:
    svg = draw(uid="a").replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert not re.search(r"https?:|<script|<image|<foreignObject|href| on\w+=|@import", svg)
    assert 'font-family="sans-serif"' in svg
    assert "nan" not in svg
    assert not re.search(r"(?<![\d.])-0(?![\d.])", svg), "a negative zero"


@each
def test_it_scales_to_the_page(draw: Callable[..., str]) -> None:
    root = ET.fromstring(draw(uid="a"))
    width, height = map(int, root.get("viewBox", "").split()[2:])
    assert root.get("style") == f"width:100%;max-width:{width}px;height:auto"
    assert 380 <= width <= 640
    assert height <= 512


@each
def test_the_same_input_gives_the_same_text(draw: Callable[..., str]) -> None:
    assert draw(uid="a") == draw(uid="a")


@each
@pytest.mark.parametrize("uid", ["", "1a", "a b", 'a"b', "a<b", None, 7])
def test_a_uid_that_is_no_id_is_refused(draw: Callable[..., str], uid: object) -> None:
    with pytest.raises(ValueError, match=r"^A drawing's uid must begin with a letter .*\.$"):
        draw(uid=uid)


@each
@pytest.mark.parametrize("title", ["", "  ", None, 3])
def test_a_drawing_without_a_name_is_refused(draw: Callable[..., str], title: object) -> None:
    with pytest.raises(ValueError, match=r"^A drawing's title must be some words.*\.$"):
        draw(uid="a", title=title)


@given(st.integers(1, 24_999).filter(lambda n: n % 1000), st.sampled_from([0, 25]))
def test_a_micrometer_nowhere_says_its_reading(thousandth: int, start: int) -> None:
    reading = start + thousandth / 1000
    told = words_of(micrometer_svg(reading, uid="a", start_mm=start))
    # The gauge's own two values stand on every picture of it.
    told = told.replace("one turn: 0.5 mm", "").replace("one thimble line: 0.01 mm", "")
    assert not re.search(r"\d[.,]\d", told), "only whole numbers, as engraved on the gauge"
    hundredths = round(reading * 100)
    assert str(hundredths) not in re.findall(r"\d{3,}", told)


@given(st.integers(-4999, 4999).filter(lambda n: n % 1000))
def test_a_dial_nowhere_says_its_reading(thousandth: int) -> None:
    reading = thousandth / 1000
    for svg in (dial_svg(reading, uid="a"), dial_on_rotor_svg(reading, 90, uid="a")):
        assert not re.search(r"\d[.,]\d", words_of(svg).replace("0.01 mm", ""))


@pytest.mark.parametrize(("ink", "ground"), palette.TEXT_PAIRS)
def test_words_stand_out_from_their_ground(ink: str, ground: str) -> None:
    # W3C, Web Content Accessibility Guidelines 2.1, success criterion 1.4.3 (from memory): 4.5 to 1.
    assert palette.contrast(ink, ground) >= 4.5


def test_contrast_agrees_with_known_pairs() -> None:
    # Known pairs from the same guidelines' reading (from memory): the lightest grey that passes on white
    # is #767676 at 4.54, and black on white is 21.
    assert palette.contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert palette.contrast("#777777", "#FFFFFF") < 4.5
    assert palette.contrast("#FFFFFF", "#000000") == pytest.approx(21)
    assert palette.contrast("#FF0000", "#FFFFFF") == pytest.approx(4.0, abs=0.005)


@pytest.mark.parametrize("colour", ["blue", "#12345", "#12345G", "", None, 7])
def test_a_colour_that_is_none_is_refused(colour: object) -> None:
    with pytest.raises(ValueError, match=r"^A colour must be written like .*\.$"):
        palette.contrast(colour, "#000000")  # type: ignore[arg-type]


@each
def test_only_checked_colours_are_used_for_words_and_only_the_palette_for_the_rest(
    draw: Callable[..., str],
) -> None:
    svg = draw(uid="a")
    inks = {node.get("fill") for node in ET.fromstring(svg).iter(f"{NS}text")}
    assert inks <= {ink for ink, _ in palette.TEXT_PAIRS}
    known = {value for name, value in vars(palette).items() if name.isupper() and isinstance(value, str)}
    assert set(re.findall(r"#[0-9A-Fa-f]{6}", svg)) <= known


@each
def test_words_are_large_enough(draw: Callable[..., str]) -> None:
    # Drawn 640 wide and shown at 560 or more, so 12 becomes 10.5. The dial on the rotor is shrunk once more.
    shrunk = 0.72 if "dial drawn larger" in draw(uid="a") else 1.0
    sizes = [float(node.get("font-size", "")) for node in ET.fromstring(draw(uid="a")).iter(f"{NS}text")]
    assert min(sizes) >= 12
    assert min(sizes) * shrunk > 9


@each
def test_it_is_drawn_quickly_enough_to_follow_a_slider(draw: Callable[..., str]) -> None:
    # About one or two thousandths of a second on a small machine; the bound leaves room for a busy one.
    assert min(timeit.repeat(lambda: draw(uid="a"), number=1, repeat=20)) < 0.01


def test_the_eight_accents_are_apart_and_named() -> None:
    assert len(set(palette.OKABE_ITO.values())) == 8
    assert all(re.fullmatch(r"#[0-9A-F]{6}", colour) for colour in palette.OKABE_ITO.values())


def test_drawings_do_not_wake_the_widgets() -> None:
    asked = "import sys, brakecourse.views.drawings; print('ipywidgets' in sys.modules)"
    found = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, timeout=60, check=True
    )
    assert found.stdout.strip() == "False"
