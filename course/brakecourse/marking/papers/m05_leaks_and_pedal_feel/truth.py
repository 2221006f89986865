"""What is true of the vehicles behind a case."""

from __future__ import annotations

from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import Job
from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Truth
from brakecourse.trade.leaks import air_ml_from_travel, atmosphere_mpa, leak_ml_per_min_from_sink

MODULE = "05_leaks_and_pedal_feel"


class DiagnosisTruth(Truth):
    """The vehicles behind a case. The first one's pedal is measured as well.

    Attributes:
        pedal_ratio, master_bore_mm, room_mm: of the first vehicle's pedal.
        force_n: what the foot holds, for the drawing.
        hold_s: how long it is held.
        held: the rule at the start and at the end.
        soft: the rule after the repair, at a light push.
        usual_mm: what it shows there without air, as printed.
        pressure_mpa: line pressure of that push, as printed.
        jobs: the sheets of the three vehicles whose cause is asked; the first one is the measured one.
        half: the sheet of a fourth, half way.
        half_state: what that one has come to.
        checks: the checks to be put in order, in one right order.
        listed: the same as the work order lists them.
    """

    pedal_ratio: Finite
    master_bore_mm: Finite
    room_mm: Finite
    force_n: Finite
    hold_s: int
    held: tuple[SealedReading, SealedReading]
    soft: SealedReading
    usual_mm: Finite
    pressure_mpa: Finite
    jobs: tuple[Job, Job, Job]
    half: Job
    half_state: str
    checks: tuple[str, ...]
    listed: tuple[str, ...]

    @property
    def share_lost(self) -> float:
        """Share of its volume that air loses at that push."""
        return self.pressure_mpa / (self.pressure_mpa + atmosphere_mpa())

    def leak_ml_per_min(self, sink_mm_per_min: float) -> float:
        """Return what leaves while the pedal sinks so fast."""
        return leak_ml_per_min_from_sink(sink_mm_per_min, self.master_bore_mm, self.pedal_ratio)

    def air_ml(self, extra_mm: float) -> float:
        """Return how much air there is at rest, from how much further the pedal goes."""
        return air_ml_from_travel(extra_mm, self.pressure_mpa, self.master_bore_mm, self.pedal_ratio)
