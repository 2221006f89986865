"""Which shape each vehicle of the motor pool is drawn with."""

from __future__ import annotations

from brakecourse.bench.vehicles import Vehicle
from brakecourse.views.drawings._vehicle_side import Kind

_SHAPES: dict[str, Kind] = {
    "library_van": "van",
    "parks_pickup": "pickup",
    "surveyors_hatchback": "hatchback",
    "meals_delivery_van": "van",
    "night_patrol_saloon": "saloon",
    "minibus": "bus",
    "dog_wardens_estate": "estate",
    "street_lighting_truck": "truck",
}


def shape_of(vehicle: Vehicle) -> Kind:
    """Return the shape that a vehicle is drawn with; a van for one that the motor pool does not know."""
    return _SHAPES.get(vehicle.key, "van")
