"""What is true of the rotor on its hub behind a case, as it is sealed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Row, Truth
from brakecourse.trade.hub_fit import RunOut, at_radius, stack_run_out_mm

MODULE = "10_hub_and_rotor_fit"
PLACES = 8
ASKED_STUDS = (1, 2, 3)
"""The positions that are asked for: every hub has them. A colleague has tried those that lie beyond."""

Measure = Literal["radius", "diameter"]
Reads = tuple[SealedReading, ...]


class Sizes(Record):
    """What the drawings need, mm.

    Attributes:
        outer, inner: radii of the ring that the pads sweep.
        thickness: of the rotor when new.
        stud_circle: diameter of the circle of the wheel studs.
    """

    outer: Finite
    inner: Finite
    thickness: Finite
    stud_circle: Finite


class FitTruth(Truth):
    """The rotor on its hub behind a case.

    Attributes:
        wheel: which one.
        studs: how many wheel studs, so how many positions.
        limit_mm: largest total run-out of the fitted rotor.
        seat_mm, track_mm: seat radius and measuring radius.
        seat_as, track_as: how the work order gives them; one of the two is a diameter.
        flake_mm, flake_deg: the flake of rust at the seat's edge, and where it lies.
        flange_mm, hub_deg: run-out of the bare flange at the seat's edge, and where it is high.
        rotor_mm, rotor_deg: the rotor's own run-out at the track, and where it is high, not turned on.
        tried_mm: run-out in the positions beyond the asked ones, as a colleague found it.
        screw, holes: what is in the hat.
        found: the dial at the eight places, as the vehicle came in.
        clean: the same with both faces clean.
        edge: the dial at the outer edge, on the rust, with both faces clean.
        difference_u_mm: standard uncertainty of a difference of two dial readings, as printed.
        sizes: for the drawings.
    """

    wheel: str
    studs: int = Field(ge=4, le=10)
    limit_mm: Finite = Field(gt=0)
    seat_mm: Finite = Field(gt=0)
    track_mm: Finite = Field(gt=0)
    seat_as: Measure
    track_as: Measure
    flake_mm: Finite = Field(gt=0)
    flake_deg: Finite
    flange_mm: Finite = Field(ge=0)
    hub_deg: Finite
    rotor_mm: Finite = Field(ge=0)
    rotor_deg: Finite
    tried_mm: Row
    screw: bool
    holes: bool
    found: Reads
    clean: Reads
    edge: SealedReading
    difference_u_mm: Finite
    sizes: Sizes

    @property
    def found_mm(self) -> Row:
        """The dial as the vehicle came in, to the nearest line."""
        return tuple(one.reading for one in self.found)

    @property
    def clean_mm(self) -> Row:
        """The dial with both faces clean, to the nearest line."""
        return tuple(one.reading for one in self.clean)

    @property
    def at_seat(self) -> RunOut:
        """The bare flange's arrow at the edge of the seat."""
        return RunOut(self.flange_mm, self.hub_deg)

    @property
    def hub(self) -> RunOut:
        """The bare flange's arrow at the track."""
        return at_radius(self.at_seat, self.seat_mm, self.track_mm)

    @property
    def rotor(self) -> RunOut:
        """The rotor's own arrow at the track, not turned on."""
        return RunOut(self.rotor_mm, self.rotor_deg)

    def together_mm(self, hub: RunOut, index: int) -> float:
        """Return the run-out of a hub's arrow and the rotor's, turned on by some studs.

        Args:
            hub: the arrow to take for the hub's.
            index: how many studs the rotor is turned on; beyond a turn it begins again.
        """
        return stack_run_out_mm(hub, self.rotor, index % self.studs, self.studs)

    def positions_mm(self, not_turned: float, asked: Sequence[float]) -> Row:
        """Return the run-out at every position, from what was read and worked out.

        Args:
            not_turned: what the dial shows before the rotor is turned on, mm.
            asked: the asked positions, mm.
        """
        return (not_turned, *asked, *self.tried_mm)
