"""The drawings are the stored ones, letter by letter.

A change of a drawing must be seen and wanted. After looking at it, store it anew with
``python tests/views/test_drawings_golden.py``.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.trade.pads import PadReading
from brakecourse.views.drawings import (
    boiling_tester_svg,
    curve_plot_svg,
    depth_gauge_svg,
    dial_on_rotor_svg,
    dial_svg,
    energy_bars_svg,
    infrared_thermometer_svg,
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
    rotor_section_svg,
    rule_svg,
    run_out_plot_svg,
    speed_line_svg,
    spring_gauge_svg,
    step_cards_svg,
    thickness_plot_svg,
    torque_wrench_svg,
    workshop_svg,
)
from brakecourse.views.drawings._pad_shape import DrawnPad
from brakecourse.views.drawings.step_cards import StepCard

GOLDEN = Path(__file__).parent / "golden"

ANGLES = (0, 45, 90, 135, 180, 225, 270, 315)
DIAL = (0.00, 0.02, 0.05, 0.07, 0.06, 0.03, 0.00, -0.01)
THICK = (22.01, 22.00, 21.99, 21.98, 22.00, 22.02, 22.02, 22.01)

HEATING = [(0, 30), (20, 180), (40, 260), (80, 330), (120, 360)]
COOLER = [(0, 30), (40, 140), (80, 180), (120, 200)]

PICKUP: Any = {
    "kind": "pickup",
    "wheelbase_mm": 3150,
    "gravity_to_front_mm": 1480,
    "gravity_height_mm": 690,
    "tyre_radius_mm": 345,
}

PAD = DrawnPad(PadReading(5.5, 5.7, 9.2, 9.3), 150, 50, 12, looks=("glazed", "cracked"))
OTHER_PAD = DrawnPad(PadReading(7.7, 7.7, 7.4, 7.3, 1.1), 150, 50, 12, looks=("contaminated with grease",))

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
    "road-test": lambda: road_test_svg((146, 144, 83, 84), wheelbase_mm=3650, tyre_radius_mm=350, uid="golden"),
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
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_the_drawing_is_the_stored_one(name: str) -> None:
    stored = (GOLDEN / f"{name}.svg").read_text(encoding="utf-8")
    assert DRAWINGS[name]() + "\n" == stored, f"{name} changed: look at it, then store it anew (see above)"


def test_no_stored_drawing_is_left_over() -> None:
    assert {path.stem for path in GOLDEN.glob("*.svg")} == set(DRAWINGS)


def write() -> None:
    """Store every drawing."""
    GOLDEN.mkdir(exist_ok=True)
    for old in GOLDEN.glob("*.svg"):
        old.unlink()
    for name, draw in DRAWINGS.items():
        (GOLDEN / f"{name}.svg").write_text(draw() + "\n", encoding="utf-8")


if __name__ == "__main__":
    write()
