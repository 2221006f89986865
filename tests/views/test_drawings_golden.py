"""The drawings are the stored ones, letter by letter.

A change of a drawing must be seen and wanted. After looking at it, store it anew with
``python tests/views/test_drawings_golden.py``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.trade.pads import PadReading
from brakecourse.views.drawings import (
    Bottle,
    CaliperCut,
    HubAndRotor,
    bench_sheet_svg,
    boiling_tester_svg,
    bore_pair_svg,
    caliper_follow_svg,
    clamp_spread_svg,
    clamped_bolt_svg,
    curve_plot_svg,
    depth_gauge_svg,
    dial_on_rotor_svg,
    dial_svg,
    energy_bars_svg,
    fluid_bottles_svg,
    force_flow_svg,
    hub_face_svg,
    hub_section_svg,
    infrared_thermometer_svg,
    job_record_svg,
    job_sheet_svg,
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
    stopping_road_svg,
    thickness_plot_svg,
    torque_levers_svg,
    torque_wrench_svg,
    wheel_nuts_svg,
    workshop_svg,
)
from brakecourse.views.drawings._pad_shape import DrawnPad
from brakecourse.views.drawings._retraction_places import Push
from brakecourse.views.drawings.bench_sheet import SheetCause, SheetCheck
from brakecourse.views.drawings.boots_card import boots_card_svg
from brakecourse.views.drawings.bracket_parts import BracketLook, PinLook, bracket_parts_svg
from brakecourse.views.drawings.caliper_hung import caliper_hung_svg
from brakecourse.views.drawings.clamp_spread import SpreadBar
from brakecourse.views.drawings.hose_card import hose_card_svg
from brakecourse.views.drawings.job_record import RecordLine
from brakecourse.views.drawings.pin_bore import pin_bore_svg
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.drawings.slide_force import slide_force_svg
from brakecourse.views.drawings.slide_places import SlideCut
from brakecourse.views.drawings.step_cards import StepCard
from brakecourse.views.drawings.stopping_road import Strip
from brakecourse.views.force_chain import Bores, follow

GOLDEN = Path(__file__).parent / "golden"

ANGLES = (0, 45, 90, 135, 180, 225, 270, 315)
DIAL = (0.00, 0.02, 0.05, 0.07, 0.06, 0.03, 0.00, -0.01)
THICK = (22.01, 22.00, 21.99, 21.98, 22.00, 22.02, 22.02, 22.01)

HEATING = [(0, 30), (20, 180), (40, 260), (80, 330), (120, 360)]
COOLER = [(0, 30), (40, 140), (80, 180), (120, 200)]

ESTATE, TRUCK = (motor_pool()[key] for key in ("dog_wardens_estate", "street_lighting_truck"))
OTHER_BORES = Bores(21.8, 54.0, 42.0)

PICKUP: Any = {
    "kind": "pickup",
    "wheelbase_mm": 3150,
    "gravity_to_front_mm": 1480,
    "gravity_height_mm": 690,
    "tyre_radius_mm": 345,
}

SHEET_TOLD = "The minibus (LM-40) has come in. Its driver says that it pulls to the left when braking."
SHEET_CHECKS = [
    SheetCheck("Press the pedal slowly and feel it", "The pedal is firm", 1, True),
    SheetCheck(
        "Look for fluid at hoses, fittings and calipers", "Hoses, fittings and calipers are dry", 6, True
    ),
    SheetCheck(
        "Calipers off: draw the slide pins, one at a time",
        "A pin's bore is packed with grease, and the pin does not reach its seat",
        30,
        False,
    ),
]
SHEET_CAUSES = [
    SheetCause("a slide pin's bore is packed with grease", 0.93),
    SheetCause("the master cylinder leaks past its primary seal into the booster", 0.004),
]

PAD = DrawnPad(PadReading(5.5, 5.7, 9.2, 9.3), 150, 50, 12, looks=("glazed", "cracked"))
OTHER_PAD = DrawnPad(PadReading(7.7, 7.7, 7.4, 7.3, 1.1), 150, 50, 12, looks=("contaminated with grease",))

HUB = HubAndRotor(142, 90, 116, 66, 22, 114, 5)

SLIDE = SlideCut(57, 1, 128, 12, 24, 10.3, 56, 10, 47)
BORE: Any = {"bore_mm": 10.3, "depth_mm": 56, "pin_mm": 10, "seated_mm": 47}
BAD_LOOK = BracketLook(
    (PinLook(0.1, True, False, True), PinLook(1.9, False, True)), 10, 47, (0.62, 0.05), True
)
SOUND_LOOK = BracketLook((PinLook(0.5), PinLook(0.4, flat=True)), 14, 70, (0.1, 0.0))

WORN = Push(54, 50, 22, 11.5, 4.1, 4.9)
HOME = replace(WORN, pushed_mm=14.0)

DRAWINGS: dict[str, Callable[[], str]] = {
    "micrometer": lambda: micrometer_svg(21.87, uid="golden"),
    "micrometer-half-line": lambda: micrometer_svg(12.5, uid="golden"),
    "micrometer-just-short": lambda: micrometer_svg(12.994, uid="golden"),
    "micrometer-25": lambda: micrometer_svg(27.345, uid="golden", start_mm=25),
    "micrometer-closed": lambda: micrometer_svg(0, uid="golden"),
    "micrometer-open": lambda: micrometer_svg(50, uid="golden", start_mm=25),
    "micrometer-scale-only": lambda: micrometer_svg(8.26, uid="golden", whole=False),
    "dial": lambda: dial_svg(0.37, uid="golden"),
    "dial-negative": lambda: dial_svg(-0.035, uid="golden"),
    "dial-turns": lambda: dial_svg(2.648, uid="golden"),
    "dial-on-rotor": lambda: dial_on_rotor_svg(0.03, 45, uid="golden"),
    "dial-on-rotor-loose": lambda: dial_on_rotor_svg(-0.21, 200, uid="golden", studs=4, nuts_fitted=False),
    "run-out": lambda: run_out_plot_svg(ANGLES, DIAL, uid="golden", limit_mm=0.10),
    "run-out-over": lambda: run_out_plot_svg(ANGLES, DIAL, uid="golden", limit_mm=0.05, tell_total=False),
    "run-out-flat": lambda: run_out_plot_svg(ANGLES, [0.0] * 8, uid="golden"),
    "thickness": lambda: thickness_plot_svg(ANGLES, THICK, uid="golden", discard_mm=21, machine_to_mm=21.5),
    "thickness-low": lambda: thickness_plot_svg(
        ANGLES, THICK, uid="golden", discard_mm=22, machine_to_mm=22.1, tell_variation=False
    ),
    "limit-grey": lambda: limit_svg(21.51, 21.5, "minimum", 0.02, uid="golden"),
    "limit-far": lambda: limit_svg(22.6, 21.5, "minimum", 0.02, uid="golden"),
    "limit-maximum": lambda: limit_svg(0.085, 0.1, "maximum", 0.012, uid="golden"),
    "limit-no-band": lambda: limit_svg(0.07, 0.1, "maximum", 0, uid="golden"),
    "limit-torque": lambda: limit_svg(110.2, 108, "maximum", 4, unit="N·m", uid="golden"),
    "section": lambda: rotor_section_svg(uid="golden", ridge_mm=0.3, groove_mm=0.4, worn_mm=1.0),
    "section-ridge": lambda: rotor_section_svg(
        uid="golden", ridge_mm=0.3, groove_mm=0, worn_mm=1.0, anvils="ridge"
    ),
    "sheet": lambda: bench_sheet_svg(
        SHEET_CHECKS, SHEET_CAUSES, uid="golden", heading="Minibus, LM-40", told=SHEET_TOLD
    ),
    "sheet-empty": lambda: bench_sheet_svg([], [], uid="golden", note="That is the question."),
    "sheet-long": lambda: bench_sheet_svg(SHEET_CHECKS * 4, SHEET_CAUSES, uid="golden"),
    "pedal-stopwatch": lambda: pedal_svg(57.4, room_mm=135, uid="golden", force_n=200, stopwatch_s=38.5),
    "reservoir": lambda: reservoir_svg(43.4, min_mm=20, max_mm=50, height_mm=70, uid="golden"),
    "reservoir-dark": lambda: reservoir_svg(
        15, min_mm=25, max_mm=70, height_mm=90, uid="golden", fluid="dark"
    ),
    "reservoir-empty": lambda: reservoir_svg(0, min_mm=20, max_mm=50, height_mm=70, uid="golden"),
    "pressure": lambda: pressure_gauge_svg(6.5, uid="golden"),
    "pressure-low": lambda: pressure_gauge_svg(0.63, full_mpa=1.6, psi_numeral=10, uid="golden"),
    "depth": lambda: depth_gauge_svg(6.34, uid="golden"),
    "depth-no-lining": lambda: depth_gauge_svg(0, full_mm=20, uid="golden"),
    "wrench": lambda: torque_wrench_svg(86, low_nm=20, high_nm=200, uid="golden"),
    "wrench-straight": lambda: torque_wrench_svg(
        109.5, low_nm=40, high_nm=200, uid="golden", extension_mm=150
    ),
    "wrench-angled": lambda: torque_wrench_svg(
        24, low_nm=10, high_nm=60, uid="golden", extension_mm=200, angle_deg=45, wrench_mm=300
    ),
    "wrench-folded": lambda: torque_wrench_svg(
        200, low_nm=20, high_nm=200, uid="golden", extension_mm=200, angle_deg=135
    ),
    "wrench-down": lambda: torque_wrench_svg(
        20, low_nm=20, high_nm=200, uid="golden", extension_mm=120, angle_deg=-90
    ),
    "fluid-bottles": lambda: fluid_bottles_svg(
        [Bottle("DOT 4"), Bottle("DOT 5"), Bottle("mineral oil"), Bottle("DOT 5.1", 7)], uid="golden"
    ),
    "moisture": lambda: moisture_tester_svg(2.34, uid="golden"),
    "boiling": lambda: boiling_tester_svg(183.4, uid="golden"),
    "boiling-fahrenheit": lambda: boiling_tester_svg(183.4, uid="golden", fahrenheit=True),
    "infrared": lambda: infrared_thermometer_svg(214, uid="golden"),
    "infrared-hat": lambda: infrared_thermometer_svg(-12, uid="golden", target="hat", fahrenheit=True),
    "infrared-caliper": lambda: infrared_thermometer_svg(96, uid="golden", target="caliper"),
    "pedal": lambda: pedal_svg(48.4, room_mm=130, uid="golden"),
    "pedal-force": lambda: pedal_svg(3, room_mm=180, uid="golden", force_n=512, strokes=7),
    "pedal-floor": lambda: pedal_svg(60, room_mm=60, uid="golden", force_n=0),
    "curve": lambda: curve_plot_svg(
        [("front rotor", HEATING), ("rear rotor", COOLER)],
        x_label="time, s",
        y_label="rotor temperature, °C",
        uid="golden",
        title="Rotor temperature",
        limit=450,
        limit_words="not above this",
        band=(250, 350, "burnish between these"),
        marks=[(40, 260, "stop 3")],
    ),
    "curve-one": lambda: curve_plot_svg(
        [("a fluid after two years", [(0, 205), (2, 165), (4, 145)])],
        x_label="water, % by mass",
        y_label="boiling point, °C",
        uid="golden",
        title="Boiling point",
    ),
    "spring": lambda: spring_gauge_svg(23.4, uid="golden"),
    "spring-strong": lambda: spring_gauge_svg(312, full_n=500, line_n=5, uid="golden"),
    "rule": lambda: rule_svg(37.4, uid="golden"),
    "force-flow": lambda: force_flow_svg(ESTATE, follow(ESTATE, 250), uid="golden"),
    "force-flow-upper": lambda: force_flow_svg(
        TRUCK, follow(TRUCK, 180), upto="pressure", part="upper", uid="golden"
    ),
    "force-flow-lower": lambda: force_flow_svg(
        ESTATE, follow(ESTATE, 400, OTHER_BORES), OTHER_BORES, part="lower", uid="golden"
    ),
    "bore-pair": lambda: bore_pair_svg(23.8, 25.4, what="master cylinder", uid="golden"),
    "stopping-road": lambda: stopping_road_svg(
        [Strip("your stop", 22.2, 35.3), Strip("from half that speed", 11.1, 8.8)], gap_m=52, uid="golden"
    ),
    "stopping-road-asked": lambda: stopping_road_svg(
        [Strip("How long is it?", 14, 36, told=False)], scaled=False, uid="golden"
    ),
    "pads": lambda: pads_at_rotor_svg(PAD, OTHER_PAD, rotor_mm=26.4, ridge_mm=1.1, uid="golden"),
    "pad-edge": lambda: pad_measured_svg(PAD, "outer edge", "trailing", "inner", 9.31, uid="golden"),
    "pad-end": lambda: pad_measured_svg(OTHER_PAD, "leading end", "leading", "outer", 7.68, uid="golden"),
    "pad-face": lambda: pad_measured_svg(PAD, "face", "leading", "inner", 5.72, uid="golden"),
    "step-cards": lambda: step_cards_svg(
        [
            StepCard("a", "Wash the pin.", 1),
            StepCard("b", "Oil the pin.", 2, mark="danger: too early"),
            StepCard(
                "c",
                "Dry the pin with a cloth that leaves no threads, and look at it in light.",
                None,
                True,
            ),
            StepCard("d", "Put it back."),
        ],
        uid="golden",
    ),
    "step-cards-still": lambda: step_cards_svg(
        [StepCard("a", "Wash the pin."), StepCard("b", "Oil it.")], uid="golden", movable=False
    ),
    "on-stands-front": lambda: on_stands_svg(
        **PICKUP, end="front", uid="golden", loads=("1140 kg", "1010 kg")
    ),
    "on-stands-rear": lambda: on_stands_svg(**PICKUP | {"kind": "bus"}, end="rear", uid="golden"),
    "slide-force": lambda: slide_force_svg(
        SLIDE, 3828, 1850, full_n=7656, inner_mm=5.4, outer_mm=8.6, uid="golden"
    ),
    "slide-force-two-pistons": lambda: slide_force_svg(
        SlideCut(64, 2, 210, 17, 40, 14.5, 84, 14, 70),
        0,
        0,
        full_n=9000,
        inner_mm=17,
        outer_mm=17,
        uid="golden",
    ),
    "pin-bore": lambda: pin_bore_svg(0.45, uid="golden", **BORE),
    "pin-bore-dry": lambda: pin_bore_svg(0, uid="golden", **BORE),
    "pin-bore-packed": lambda: pin_bore_svg(1.26, uid="golden", **BORE),
    "bracket-parts": lambda: bracket_parts_svg(BAD_LOOK, uid="golden"),
    "bracket-parts-sound": lambda: bracket_parts_svg(SOUND_LOOK, uid="golden"),
    "retraction": lambda: retraction_svg(replace(WORN, bleeder="not told"), uid="golden"),
    "retraction-open": lambda: retraction_svg(
        replace(HOME, bleeder="open", bottle_ml=32, press=False, air=True), uid="golden"
    ),
    "retraction-shut": lambda: retraction_svg(replace(HOME, pushed_mm=6, level_mm=26), uid="golden"),
    "hose-card": lambda: hose_card_svg("cracked to the cords", uid="golden", wet=True),
    "hose-card-blister": lambda: hose_card_svg("blister", uid="golden", wet_fitting=True),
    "boots-card": lambda: boots_card_svg(uid="golden", pin_torn=True, wet=True),
    "boots-card-fixed": lambda: boots_card_svg(uid="golden", piston_torn=True, pins=False),
    "caliper-hung": lambda: caliper_hung_svg("hook", uid="golden"),
    "caliper-hung-twisted": lambda: caliper_hung_svg("twisted", uid="golden", mirrored=True),
    "workshop-sound": lambda: workshop_svg(
        ("estate", 2700, 310, 565),
        {
            "support": "stands",
            "dust": "wet",
            "caliper": "hook",
            "heat": "cool",
            "spring": "covered",
            "cleaner": "apart",
        },
        uid="golden",
        told=["x"] * 6,
    ),
    "workshop-unsound": lambda: workshop_svg(
        ("truck", 3800, 395, 1050),
        {
            "support": "jack",
            "chock": "none",
            "dust": "brush",
            "caliper": "hose",
            "heat": "hot",
            "fluid": "spilt",
        },
        uid="golden",
        told=["x"] * 6,
        heat_c=212,
    ),
    "workshop-blocks": lambda: workshop_svg(
        ("hatchback", 2450, 285, 530),
        {"support": "blocks", "dust": "air", "spring": "levered", "cleaner": "heater"},
        uid="golden",
        told=["x"] * 4,
    ),
    "workshop-leaving": lambda: workshop_svg(
        ("van", 2750, 305, 650), {"sheet": "unpumped", "fluid": "closed"}, uid="golden", told=["x"] * 2
    ),
    "energy-bars": lambda: energy_bars_svg(
        [("First: 20 to 0 mph", 32.2, 0, 156, "156 kJ"), ("Second: 40 to 20 mph", 64.4, 32.2, 468, "468 kJ")],
        uid="golden",
    ),
    "speed-one": lambda: speed_line_svg([(40, 0)], uid="golden"),
    "speed-two": lambda: speed_line_svg([(20, 0), (40, 20)], uid="golden"),
    "road-test": lambda: road_test_svg(
        (146, 144, 83, 84), wheelbase_mm=3650, tyre_radius_mm=350, uid="golden"
    ),
    "road-test-haze": lambda: road_test_svg(
        (341, 338, 83, 84), wheelbase_mm=2450, tyre_radius_mm=285, uid="golden", haze=(0, 1)
    ),
    "road-test-smoke": lambda: road_test_svg(
        (146, 380, 83, 84),
        wheelbase_mm=3100,
        tyre_radius_mm=320,
        uid="golden",
        pull="right",
        smoke=(1,),
        noise=True,
    ),
    "levers": lambda: torque_levers_svg(uid="golden", given="N·m", wanted="lbf·in"),
    "wheel-nuts": lambda: wheel_nuts_svg(
        5,
        stud_circle_mm=114,
        thread_mm=12,
        rim_radius_mm=203.2,
        tyre_radius_mm=310,
        tight=(1, 3, 5),
        chosen=2,
        uid="golden",
    ),
    "clamp-spread": lambda: clamp_spread_svg(
        [
            SpreadBar("the maker's way", 22_800, 27_800, 34_700),
            SpreadBar("your way", 19_800, 46_300, 83_500),
        ],
        proof_n=53_400,
        uid="golden",
    ),
    "bolt": lambda: clamped_bolt_svg(12, 1.25, "8.8", uid="golden"),
    "stud": lambda: clamped_bolt_svg(18, 1.5, "10.9", nut=True, uid="golden"),
    "caliper-follow": lambda: caliper_follow_svg(
        CaliperCut("floating", 57, 46, 24, 12, 5.9, 0.4),
        level_mm=23.4,
        min_mm=9,
        max_mm=36,
        height_mm=50,
        uid="golden",
    ),
    "caliper-follow-fixed": lambda: caliper_follow_svg(
        CaliperCut("fixed", 38, 42, 12, 10), level_mm=36, min_mm=9, max_mm=36, height_mm=50, uid="golden"
    ),
    "job-record": lambda: job_record_svg(
        [("Vehicle", "minibus, LM-40 (invented)")],
        [
            RecordLine("Find it", "Cause", "a rotor's thickness varies", "right at the first answer"),
            RecordLine("Measure", "Total run-out"),
        ],
        uid="golden",
    ),
    "job-sheet": lambda: job_sheet_svg(uid="golden"),
    "job-sheet-filled": lambda: job_sheet_svg(
        {"vehicle": ["minibus"], "discard": ["22.0"], "left_dial": ["0.00", "0.02", "-0.01"]},
        ["Left rotor: keep the rotor."],
        units="mm, N·m and °C",
        uid="golden",
    ),
    "level-band": lambda: level_band_svg(76.3, 90, 5.66, uid="golden"),
    "level-band-far": lambda: level_band_svg(30, 130, 3.5, uid="golden"),
    "hub-section": lambda: hub_section_svg(HUB, 0.08, uid="golden", reading_mm=0.07),
    "hub-section-behind": lambda: hub_section_svg(
        HUB, 0.15, uid="golden", flake_deg=90, turned_deg=300, reading_mm=-0.05
    ),
    "hub-section-bare": lambda: hub_section_svg(HUB, 0, uid="golden"),
    "hub-face-rusty": lambda: hub_face_svg(HUB, uid="golden", rusty=True, flake_deg=70),
    "hub-face": lambda: hub_face_svg(HUB, uid="golden", rusty=False),
    "rotor-index": lambda: rotor_index_svg(HUB, (0.05, 190), (0.07, 170), 3, uid="golden"),
    "rotor-index-asked": lambda: rotor_index_svg(
        HUB, (0.05, 190), (0.07, 170), 0, uid="golden", tell_together=False
    ),
    "rotor-off": lambda: rotor_off_svg(HUB, uid="golden", screw=True, holes=True),
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_the_drawing_is_the_stored_one(name: str) -> None:
    stored = (GOLDEN / f"{name}.svg").read_text(encoding="utf-8")
    assert DRAWINGS[name]() + "\n" == stored, f"{name} changed: look at it, then store it anew (see above)"


def test_no_stored_drawing_is_left_over() -> None:
    assert {path.stem for path in GOLDEN.glob("*.svg")} == set(DRAWINGS)


def write() -> None:
    """Store every drawing. All are drawn before the first is stored: one that fails costs none."""
    drawn = {name: draw() + "\n" for name, draw in DRAWINGS.items()}
    GOLDEN.mkdir(exist_ok=True)
    for old in GOLDEN.glob("*.svg"):
        old.unlink()
    for name, text in drawn.items():
        (GOLDEN / f"{name}.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write()
