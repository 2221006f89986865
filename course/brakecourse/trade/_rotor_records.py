"""The records of a rotor: its limits, the gauges' uncertainty, and what was found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade.conformity import Decision, Side

Check = Literal["thickness", "variation", "run-out", "machining"]
Action = Literal["keep", "machine", "replace"]

_NAMES: dict[Check, tuple[str, str]] = {
    "thickness": ("smallest thickness", "discard thickness"),
    "variation": ("thickness variation", "largest permitted variation"),
    "run-out": ("total run-out", "largest permitted run-out"),
    "machining": ("thickness left after truing", "machine-to thickness"),
}


@dataclass(frozen=True)
class RotorSpec:
    """The limits of one rotor, all in mm. The maker's service information gives them.

    Attributes:
        nominal_mm: thickness when new.
        machine_to_mm: least thickness that may be left after machining.
        discard_mm: thickness below which the rotor must be discarded.
        max_variation_mm: largest permitted thickness variation round the rotor.
        max_run_out_mm: largest permitted total run-out with the wheel nuts fitted.

    Raises:
        ValueError: a value is no number above 0, or the thicknesses are not in falling order.
    """

    nominal_mm: float
    machine_to_mm: float
    discard_mm: float
    max_variation_mm: float
    max_run_out_mm: float

    def __post_init__(self) -> None:
        nominal = _checks.positive(self.nominal_mm, "thickness when new in mm")
        machine_to = _checks.positive(self.machine_to_mm, "machine-to thickness in mm")
        discard = _checks.positive(self.discard_mm, "discard thickness in mm")
        _checks.positive(self.max_variation_mm, "largest thickness variation in mm")
        _checks.positive(self.max_run_out_mm, "largest run-out in mm")
        if not nominal > machine_to > discard:
            raise ValueError(
                "rotor thicknesses must fall from new over machine-to to discard, but they were "
                f"{nominal:g}, {machine_to:g} and {discard:g} mm."
            )


@dataclass(frozen=True)
class Instruments:
    """Standard uncertainties of the gauges, in mm.

    Attributes:
        thickness_u_mm: of one thickness reading.
        thickness_difference_u_mm: of the difference of two thickness readings of the same micrometer.
        dial_difference_u_mm: of the difference of two dial readings.

    Raises:
        ValueError: a value is no number of 0 or more.
    """

    thickness_u_mm: float
    thickness_difference_u_mm: float
    dial_difference_u_mm: float

    def __post_init__(self) -> None:
        _checks.not_negative(self.thickness_u_mm, "standard uncertainty of a thickness in mm")
        _checks.not_negative(
            self.thickness_difference_u_mm, "standard uncertainty of a thickness difference in mm"
        )
        _checks.not_negative(self.dial_difference_u_mm, "standard uncertainty of a dial difference in mm")


@dataclass(frozen=True)
class Reason:
    """One check of a rotor against one limit.

    Attributes:
        check: ``"thickness"``, ``"variation"``, ``"run-out"`` or ``"machining"``.
        measured_mm: the value that was compared; for machining, what would be left after truing.
        limit_mm: the limit that it was compared with.
        side: which side of the limit is the good one: ``"minimum"`` or ``"maximum"``.
        decision: verdict, margin, guard band and probability.
    """

    check: Check
    measured_mm: float
    limit_mm: float
    side: Side
    decision: Decision

    @property
    def words(self) -> str:
        """The check in three short sentences, in mm and inches.

        Made when asked for, because units are loaded then: a decision alone stays quick.
        """
        what, against = _NAMES[self.check]
        band = _both(self.decision.guard_band)
        distance = _both(abs(self.decision.margin))
        says = {
            "within": f"Within the limit: the margin of {distance} covers the guard band of {band}.",
            "outside": f"Outside the limit: it misses by {distance}, and the guard band is {band}.",
            "too close to call": f"Too close to call: it lies {distance} from the limit, "
            f"less than the guard band of {band}, so it proves nothing.",
        }[self.decision.verdict]
        return f"The {what} is {_both(self.measured_mm)}. The {against} is {_both(self.limit_mm)}. {says}"


@dataclass(frozen=True)
class RotorFinding:
    """What to do with a rotor, and why.

    Attributes:
        action: ``"keep"``, ``"machine"`` or ``"replace"``.
        deciding: the reason that fixes the action.
        reasons: every check made, in order: thickness, variation, run-out, and machining if it was needed.
        smallest_mm: smallest thickness reading.
        variation_mm: thickness variation.
        run_out_mm: total run-out.
        allowance_mm: metal above the machine-to thickness, both faces together; 0 when there is none.
    """

    action: Action
    deciding: Reason
    reasons: tuple[Reason, ...]
    smallest_mm: float
    variation_mm: float
    run_out_mm: float
    allowance_mm: float


def _both(value_mm: float) -> str:
    places_mm = 2 if f"{value_mm:.3f}".endswith("0") else 3
    # A hundredth of a millimetre is 0.0004 in: a small value needs the fourth place, a thickness does not.
    places_in = 3 if abs(value_mm) >= 1 else 4
    inches = published.convert(value_mm, "mm", "in")
    return f"{value_mm:.{places_mm}f} mm ({inches:.{places_in}f} in)"
