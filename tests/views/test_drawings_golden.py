"""The drawings are the stored ones, letter by letter.

A change of a drawing must be seen and wanted. After looking at it, store it anew with
``python tests/views/test_drawings_golden.py``.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from brakecourse.views.drawings import (
    dial_on_rotor_svg,
    dial_svg,
    limit_svg,
    micrometer_svg,
    rotor_section_svg,
    run_out_plot_svg,
    thickness_plot_svg,
)

GOLDEN = Path(__file__).parent / "golden"

ANGLES = (0, 45, 90, 135, 180, 225, 270, 315)
DIAL = (0.00, 0.02, 0.05, 0.07, 0.06, 0.03, 0.00, -0.01)
THICK = (22.01, 22.00, 21.99, 21.98, 22.00, 22.02, 22.02, 22.01)

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
