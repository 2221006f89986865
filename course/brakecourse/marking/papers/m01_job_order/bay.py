"""The bay next door: eight places, of which some can hurt someone."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.sealed import Finite, Record
from brakecourse.views.hazards import SPOTS
from brakecourse.views.units import both
from brakecourse.views.vehicle_shapes import shape_of

Lifting = Literal["fine", "jack", "blocks", "none"]
Dust = Literal["fine", "air", "brush"]
Bench = Literal["hose", "hot", "levered", "spilt", "heater"]

LIFTING: dict[Lifting, float] = {"fine": 0.2, "jack": 0.3, "blocks": 0.25, "none": 0.25}
DUST: dict[Dust, float] = {"fine": 0.2, "air": 0.4, "brush": 0.4}
"""How often each is drawn. Assumption, no source."""

PLACE_OF: dict[str, str] = {
    "jack": "support",
    "blocks": "support",
    "none": "chock",
    "air": "dust",
    "brush": "dust",
    "hose": "caliper",
    "hot": "heat",
    "levered": "spring",
    "spilt": "fluid",
    "heater": "cleaner",
}
"""Where each hazard is to be seen."""

PLACES = ("support", "chock", "dust", "caliper", "heat", "spring", "fluid", "cleaner")
"""The places that are shown, in the order of their numbers."""

HOT_C, COOL_C = (120, 260), (18, 24)


class Bay(Record):
    """What is to be seen next door.

    Attributes:
        vehicle: the name of the vehicle there.
        view: its shape, wheelbase, tyre radius and height of the centre of gravity in mm.
        lifting: what is wrong with how it is held, or that nothing is.
        dust: what is wrong with the work on dust, or that nothing is.
        bench: what else can hurt someone.
        heat_c: what the thermometer shows.
    """

    vehicle: str
    view: tuple[str, Finite, Finite, Finite]
    lifting: Lifting
    dust: Dust
    bench: Bench
    heat_c: Finite

    @property
    def spots(self) -> dict[str, str]:
        """Each place and its state, as the drawing takes them."""
        wrong = {PLACE_OF[one]: one for one in (self.lifting, self.dust, self.bench) if one != "fine"}
        return {place: wrong.get(place, SPOTS[place].state) for place in PLACES}

    @property
    def seen(self) -> tuple[str, ...]:
        """What is to be seen at each place, in sentences that do not judge."""
        heat = both(self.heat_c, "°C", 0)
        return tuple(_seen(place, state).format(heat=heat) for place, state in self.spots.items())

    def why(self, hazard: str) -> str:
        """Say which place a hazard is at, what is to be seen there and what can happen."""
        place = PLACE_OF[hazard]
        told = _seen(place, hazard).format(heat=both(self.heat_c, "°C", 0))
        found = next(one for one in SPOTS[place].hazards if one.state == hazard)
        return f"Place {PLACES.index(place) + 1}: {told} {found.why}"


def _seen(place: str, state: str) -> str:
    spot = SPOTS[place]
    return next((one.seen for one in spot.hazards if one.state == state), spot.seen)


def draw_bay(vehicle: Vehicle, draw: Draw) -> Bay:
    """Draw what is to be seen next door, where that vehicle stands."""
    bench = draw.child("bench").choice(get_args(Bench))
    low, high = HOT_C if bench == "hot" else COOL_C
    return Bay(
        vehicle=vehicle.name,
        view=(shape_of(vehicle), vehicle.wheelbase_mm, vehicle.tyre_radius_mm, vehicle.cg_height_mm),
        lifting=draw.child("lifting").weighted(LIFTING),
        dust=draw.child("dust").weighted(DUST),
        bench=bench,
        heat_c=float(draw.child("heat").integer(low, high)),
    )
