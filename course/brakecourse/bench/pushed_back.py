"""After the pads are fitted: how the pedal gets firm, and where the fluid ends up."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.pedal import fluid_sent_ml, line_pressure_mpa, pedal_travel_mm
from brakecourse.bench.reference import PEDAL_FORCE_N
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.burnish import strokes_to_firm_pedal
from brakecourse.trade.fluid import level_drop_mm
from brakecourse.trade.hydraulics import pedal_travel_mm as travel_of_volume_mm

STROKE_SHARE = 0.5
"""A careful stroke goes half the way to the floor, so that the seals of an old master cylinder never run
where rust and dirt lie in its bore. Common practice, no source."""

_ROOM_ABOVE_MM = 12.0  # the drawn reservoir is this much taller than its upper mark
_CALIPERS = 2


@dataclass(frozen=True)
class PushedBack:
    """A vehicle whose front pistons were pushed back for new pads.

    Attributes:
        vehicle: which one.
        gap_mm: room between each front pad and its rotor, mm.
        level_mm: fluid in the reservoir now, above its floor, mm.
    """

    vehicle: Vehicle
    gap_mm: float
    level_mm: float

    @property
    def caliper_ml(self) -> float:
        """What closes the gaps of one front caliper, to the nearest 0.1 mL, as the job sheet says."""
        return round(self.vehicle.front.wear(self.gap_mm).volume_ml, 1)

    @property
    def clearance_ml(self) -> float:
        """What closes the gaps of both front calipers, mL."""
        return _CALIPERS * self.caliper_ml

    @property
    def stroke_mm(self) -> float:
        """How far the foot goes in one careful stroke, mm."""
        return self.vehicle.hydraulics.pedal_room_mm * STROKE_SHARE

    @property
    def stroke_ml(self) -> float:
        """What one careful stroke sends out, to the nearest 0.1 mL, as the job sheet says."""
        system = self.vehicle.hydraulics
        one_ml_mm = travel_of_volume_mm(1.0, system.master_bore_mm, system.pedal_ratio)
        return round((self.stroke_mm - system.free_play_mm) / one_ml_mm, 1)

    @property
    def strokes(self) -> int:
        """How many strokes make the pedal firm."""
        return strokes_to_firm_pedal(self.clearance_ml, self.stroke_ml)

    @property
    def drop_mm(self) -> float:
        """How far the level falls while the gaps fill, mm."""
        return level_drop_mm(self.clearance_ml, self.vehicle.hydraulics.reservoir_area_mm2)

    @property
    def final_level_mm(self) -> float:
        """The level once the pedal is firm, mm."""
        return self.level_mm - self.drop_mm

    @property
    def to_pour_ml(self) -> float:
        """What brings that level up to the upper mark, mL."""
        system = self.vehicle.hydraulics
        short_mm = system.reservoir_max_mm - self.final_level_mm
        return short_mm / level_drop_mm(1.0, system.reservoir_area_mm2)

    @property
    def height_mm(self) -> float:
        """How tall the reservoir is drawn, mm."""
        return self.vehicle.hydraulics.reservoir_max_mm + _ROOM_ABOVE_MM

    def left_ml(self, strokes: int) -> float:
        """Return what is still missing between pistons and firm pads after some strokes, mL."""
        return max(0.0, self.clearance_ml - strokes * self.stroke_ml)

    def travel_mm(self, strokes: int) -> float:
        """Return how far the foot goes in the last of some strokes, mm; 0 before the first.

        A stroke that finds the pads still open ends where the foot stops it. Once they are closed, the
        pedal holds against a firm push where it does on a sound vehicle.
        """
        if strokes == 0:
            return 0.0
        pressed_ml = fluid_sent_ml(self.vehicle, line_pressure_mpa(self.vehicle, PEDAL_FORCE_N))
        needed_ml = self.left_ml(strokes - 1) + pressed_ml
        return min(self.stroke_mm, pedal_travel_mm(self.vehicle, needed_ml))

    def is_firm(self, strokes: int) -> bool:
        """Return whether the pads are closed after some strokes."""
        return strokes >= self.strokes
