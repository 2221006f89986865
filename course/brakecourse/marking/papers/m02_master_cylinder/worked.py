"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m02_master_cylinder.truth import LevelTruth
from brakecourse.marking.worked_text import row
from brakecourse.trade.fluid import CaliperTravel, WheelWear


def worked(truth: LevelTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    return {
        "level_mm": f"{truth.level.reading:.1f}",
        "reservoir": row([truth.max_mm, truth.area_mm2], 1),
        "bores_mm": row([one.piston_bore_mm for one in truth.calipers], 1),
        "wheels": f"[{', '.join(map(_wheel, truth.wheels))}]",
        "uncertainties_ml": row(truth.contributions_ml),
        "what_next": repr(given.words("2.8")),
        "calipers": f"[{', '.join(map(_caliper, truth.calipers))}]",
    }


def _wheel(one: WheelWear) -> str:
    return (
        f"fluid.WheelWear({one.piston_bore_mm:.1f}, {one.pistons}, {one.lining_wear_mm:.1f}, "
        f"{one.rotor_wear_mm:.1f}, {one.caliper!r})"
    )


def _caliper(one: CaliperTravel) -> str:
    return (
        f"fluid.CaliperTravel({one.piston_bore_mm:.1f}, {one.pistons}, {one.lining_new_mm:.1f}, "
        f"{one.lining_worn_mm:.1f}, {one.rotor_wear_mm:.1f}, {one.clearance_mm:.2f}, {one.caliper!r})"
    )
