"""What is true of the rotor behind a case, and how it is drawn."""

from __future__ import annotations

from pydantic import Field

from brakecourse.bench.cases import RotorCase, draw_case
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import SHARES, Difficulty
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.marking.sealed import Finite, Row, Truth
from brakecourse.trade import rotor as trade
from brakecourse.trade.rotor import Instruments, RotorSpec

MODULE = "08_rotor_measurement"
CONFIDENCE = 0.95
MOST_TRIES = 200
U_PLACES = 4  # decimal places of an uncertainty on the work order, in mm

Reads = tuple[SealedReading, ...]


class RotorTruth(Truth):
    """The rotor behind a case.

    Attributes:
        spec: the rotor's limits.
        instruments: standard uncertainties of the gauges, as printed on the work order.
        confidence: probability of a right decision that the guard band is made for.
        in_from_edge_mm: how far in from the outer edge the gauges stood.
        micrometer_from_mm: lower end of the micrometer's range.
        thickness: the micrometer at the eight places.
        ridge: the micrometer on the outer ridge.
        dial_seated, dial_loose: the dial at the eight places, with all wheel nuts snug and with none.
    """

    spec: RotorSpec
    instruments: Instruments
    confidence: Finite = Field(ge=0.5, lt=1)
    in_from_edge_mm: Finite
    micrometer_from_mm: Finite
    thickness: Reads
    ridge: SealedReading
    dial_seated: Reads
    dial_loose: Reads

    @property
    def readings_mm(self) -> Row:
        """The micrometer at the eight places, to the nearest line."""
        return tuple(one.reading for one in self.thickness)

    @property
    def dial_readings_mm(self) -> Row:
        """The dial with all wheel nuts snug, to the nearest line."""
        return tuple(one.reading for one in self.dial_seated)

    @property
    def loose_readings_mm(self) -> Row:
        """The dial with the wheel nuts off, to the nearest line."""
        return tuple(one.reading for one in self.dial_loose)

    def finding(self, smallest: float, variation: float, run_out: float) -> trade.RotorFinding:
        """Return the trade's verdict on values that need not come from readings, mm."""
        readings = (smallest, smallest + variation)
        return trade.verdict(readings, (0.0, run_out), self.spec, self.instruments, self.confidence)


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> RotorTruth:
    """Draw a rotor; it is drawn again where rounding the uncertainties, as printed, changes what to do."""
    wanted = next((one for one in SHARES[difficulty] if one == situation), None)
    for again in range(MOST_TRIES):
        case = draw_case(Draw(seed).child(f"rotor {again}").seed, MODULE, difficulty, wanted)
        wanted = case.situation
        truth = _truth(case)
        found = truth.finding(
            trade.smallest_mm(truth.readings_mm),
            trade.thickness_variation_mm(truth.readings_mm),
            trade.run_out_mm(truth.dial_readings_mm),
        )
        if found.action == case.finding.action:
            return truth
    raise RuntimeError(f"No rotor that survives rounding was found for seed {seed}; please report this.")


def _truth(case: RotorCase) -> RotorTruth:
    exact, front = case.instruments, case.vehicle.front
    return RotorTruth(
        situation=case.situation,
        vehicle=case.vehicle.name,
        fleet_number=case.vehicle.fleet_number,
        complaint=case.complaint,
        spec=case.spec,
        instruments=Instruments(
            round(exact.thickness_u_mm, U_PLACES),
            round(exact.thickness_difference_u_mm, U_PLACES),
            round(exact.dial_difference_u_mm, U_PLACES),
        ),
        confidence=CONFIDENCE,
        in_from_edge_mm=front.rotor_outer_radius_mm - front.measuring_radius_mm,
        micrometer_from_mm=case.micrometer.low_mm,
        thickness=tuple(seal_reading(case.micrometer, value) for value in case.thickness_mm),
        ridge=seal_reading(case.micrometer, case.ridge_mm),
        dial_seated=tuple(seal_reading(case.dial, value) for value in case.dial_seated_mm),
        dial_loose=tuple(seal_reading(case.dial, value) for value in case.dial_loose_mm),
    )
