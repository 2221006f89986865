"""Wheel nuts and fluid of a job sheet, held against the sheet's own limits."""

from __future__ import annotations

from brakecourse.trade import fasteners
from brakecourse.trade.conformity import decide, rectangular
from brakecourse.views.job_sheet_fields import FIELD
from brakecourse.views.job_sheet_values import SheetFinding, Values, has, number_of
from brakecourse.views.units import both


def nuts(values: Values) -> list[SheetFinding]:
    """Judge the torque set for the wheel nuts, and tell their order."""
    found = []
    if has(values, "nut_torque", "wrench"):
        wanted, applied = number_of(values, "nut_torque"), number_of(values, "wrench")
        share = fasteners.wrench_tolerance(wanted)
        decision = fasteners.in_tolerance(applied, wanted, share)
        kept = decision.verdict == "within"
        found.append(
            SheetFinding(
                "Wheel nuts",
                f"{'it fits' if kept else 'set it anew'} "
                f"({both(applied, 'N·m')} set, {both(wanted, 'N·m')} asked)",
                f"A torque wrench itself may be off by {100 * share:.0f} %. "
                + ("The setting lies inside that." if kept else "The setting lies outside that."),
            )
        )
    if "nuts" in values:
        count = number_of(values, "nuts")
        if not count.is_integer():
            raise ValueError(f"{FIELD['nuts'].label}: a whole number was expected, but it was {count:g}.")
        order = fasteners.tightening_order(int(count))
        found.append(
            SheetFinding(
                "Order of the nuts", ", ".join(map(str, order)), "Counted round the wheel, in steps."
            )
        )
    return found


def fluid(values: Values) -> list[SheetFinding]:
    """Judge the boiling point of the fluid."""
    if not has(values, "boiling", "boiling_limit"):
        return []
    measured, limit = number_of(values, "boiling"), number_of(values, "boiling_limit")
    error = number_of(values, "boiling_error") if "boiling_error" in values else 0.0
    decision = decide(measured, limit, "minimum", rectangular(error))
    action = "the fluid may stay" if decision.verdict == "within" else "renew the fluid"
    without = "" if "boiling_error" in values else " Without the tester's error, nothing is kept in reserve."
    says = {
        "within": "It is proven above the limit.",
        "outside": "It is below the limit.",
        "too close to call": "It is too close to the limit to call.",
    }[decision.verdict]
    return [
        SheetFinding(
            "Brake fluid",
            f"{action} (boils at {both(measured, '°C')})",
            f"The limit is {both(limit, '°C')}. {says}{without}",
        )
    ]
