"""The records of the reservoir: one caliper's wear, one caliper's whole travel, and what a level tells."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._counts import whole

MOST_PISTONS = 12
"""No caliper of this trade has more: assumption, no source."""

CaliperKind = Literal["floating", "fixed"]
LevelVerdict = Literal["wear explains it", "suspect a leak", "fluid was added", "too close to call"]

_SAYS: dict[LevelVerdict, str] = {
    "wear explains it": "Wear explains it.",
    "suspect a leak": "Fluid is missing that wear does not explain: suspect a leak, and find it before the "
    "vehicle moves.",
    "fluid was added": "The level fell less than the wear asks: fluid was added, so the level cannot rule "
    "out a leak, and it will rise when the pistons go back.",
    "too close to call": "Too close to call: the level proves nothing, so look for a leak all the same.",
}


def volume_ml(
    piston_bore_mm: float,
    pistons: int,
    lining_wear_mm: float,
    rotor_wear_mm: float,
    caliper: CaliperKind,
) -> float:
    """Return the volume behind the pistons of one caliper, mL; the public functions tell the rest."""
    bore = _checks.positive(piston_bore_mm, "piston bore in mm")
    count = piston_count(pistons, caliper)
    lining = _checks.not_negative(lining_wear_mm, "lining wear in mm")
    rotor = _checks.not_negative(rotor_wear_mm, "rotor wear in mm")
    # Floating: every piston follows both pads and both faces. Fixed: half of the pistons follow each side.
    following = count if caliper == "floating" else count / 2
    return following * math.pi / 4 * bore**2 * (2 * lining + rotor) / 1000


def piston_count(pistons: object, caliper: object) -> int:
    """Return the count of pistons if such a caliper can have it, or refuse it."""
    _checks.one_of(caliper, "caliper", get_args(CaliperKind))
    count = whole(pistons, "number of pistons", 1, MOST_PISTONS)
    if caliper == "fixed" and count % 2:
        raise ValueError(
            f"number of pistons must be even in a fixed caliper, half on each side, but it was {pistons!r}."
        )
    return count


@dataclass(frozen=True)
class WheelWear:
    """What has worn at one wheel since the reservoir was last filled to its mark.

    Attributes:
        piston_bore_mm: diameter of one piston, mm.
        pistons: how many pistons the caliper has, both sides together.
        lining_wear_mm: wear of one pad, mm; the mean of inner and outer pad when they differ.
        rotor_wear_mm: thickness that the rotor has lost, both faces together, mm.
        caliper: ``"floating"`` or ``"fixed"``.

    Raises:
        ValueError: a value is outside its range, or a fixed caliper has an odd number of pistons.
    """

    piston_bore_mm: float
    pistons: int
    lining_wear_mm: float
    rotor_wear_mm: float = 0.0
    caliper: CaliperKind = "floating"

    def __post_init__(self) -> None:
        _ = self.volume_ml

    @property
    def volume_ml(self) -> float:
        """The fluid that this wear has drawn from the reservoir, mL."""
        return volume_ml(
            self.piston_bore_mm, self.pistons, self.lining_wear_mm, self.rotor_wear_mm, self.caliper
        )


@dataclass(frozen=True)
class CaliperTravel:
    """The whole travel of one caliper's pistons: from new linings, drawn back, to worn out and applied.

    Attributes:
        piston_bore_mm: diameter of one piston, mm.
        pistons: how many pistons the caliper has, both sides together.
        lining_new_mm: lining thickness of one new pad, mm.
        lining_worn_mm: lining thickness at which a pad is fully worn, mm, 0 or more, below new.
        rotor_wear_mm: thickness that the rotor may lose, both faces together, mm.
        clearance_mm: gap between one pad and the rotor when drawn back, mm.
        caliper: ``"floating"`` or ``"fixed"``.

    Raises:
        ValueError: a value is outside its range, or the worn lining is not thinner than the new one.
    """

    piston_bore_mm: float
    pistons: int
    lining_new_mm: float
    lining_worn_mm: float
    rotor_wear_mm: float = 0.0
    clearance_mm: float = 0.0
    caliper: CaliperKind = "floating"

    def __post_init__(self) -> None:
        new = _checks.positive(self.lining_new_mm, "lining thickness of a new pad in mm")
        worn = _checks.not_negative(self.lining_worn_mm, "lining thickness of a worn pad in mm")
        _checks.not_negative(self.clearance_mm, "clearance in mm")
        if worn >= new:
            raise ValueError(
                "lining thickness of a worn pad in mm must be below that of a new one of "
                f"{new:g}, but it was {worn:g}."
            )
        _ = self.volume_ml

    @property
    def volume_ml(self) -> float:
        """The fluid that this travel takes, mL."""
        per_pad = self.lining_new_mm - self.lining_worn_mm + self.clearance_mm
        return volume_ml(self.piston_bore_mm, self.pistons, per_pad, self.rotor_wear_mm, self.caliper)


@dataclass(frozen=True)
class LevelFinding:
    """What the reservoir's level tells.

    Attributes:
        expected_ml: fluid that the wear has drawn, mL.
        unexplained_ml: observed drop minus expected, mL; above 0, fluid is missing.
        verdict: ``"wear explains it"``, ``"suspect a leak"``, ``"fluid was added"`` or
            ``"too close to call"``.
    """

    expected_ml: float
    unexplained_ml: float
    verdict: LevelVerdict

    @property
    def words(self) -> str:
        """The finding in short sentences, in mL and US fluid ounces."""
        more = "more" if self.unexplained_ml >= 0 else "less"
        gap = _both(abs(self.unexplained_ml))
        return (
            f"The wear asks for {_both(self.expected_ml)}. The level fell by {gap} {more} than that. "
            f"{_SAYS[self.verdict]}"
        )


def _both(millilitres: float) -> str:
    ounces = published.convert(millilitres, "mL", "fluid_ounce")
    return f"{millilitres:.1f} mL ({ounces:.2f} fl oz)"
