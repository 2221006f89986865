"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m04_pedal_to_pad.truth import Brake, ForceTruth


def worked(push: ForceTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    return {
        "pedal": (
            f"dict(pedal_force_n={push.foot_n:g}, pedal_ratio={push.pedal_ratio:g}, "
            f"master_bore_mm={push.master_mm:g}, assist_force_n={push.booster_n:g})"
        ),
        "gauge_mpa": f"{push.gauge.reading:.1f}  # the line of the outer ring nearest to the needle",
        "does_it_fit": repr(given.words("4.3")),
        "front": _brake(push.front),
        "rear": _brake(push.rear),
        "valve": f"{push.rear_share:g}  # share of the pressure that reaches the rear calipers",
        "vehicle": f"dict(tyre_radius_mm={push.tyre_mm:g}, mass_kg={push.mass_kg:g})",
        "body": f"dict(wheelbase_mm={push.wheelbase_mm:g}, height_mm={push.height_mm:g})",
        "journey": f"dict(speed_kmh={push.speed_kmh:g}, reaction_s={push.reaction_s:g})",
        "new_bore": repr(given.words("4.9")),
    }


def _brake(brake: Brake) -> str:
    return (
        f"dict(bore_mm={brake.bore_mm:g}, pistons={brake.pushing}, friction={brake.friction:g}, "
        f"radius_mm={brake.radius_mm:g}, standing_n={brake.standing_n:g})"
    )
