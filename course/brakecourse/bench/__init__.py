"""The bench: simulated vehicles with a hidden condition, and the gauges that read it.

The two names that everything begins with are fetched when they are first asked for, so that importing the
room costs next to nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from brakecourse.bench.vehicles import Vehicle, motor_pool

__all__ = ["Vehicle", "motor_pool"]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from brakecourse.bench import vehicles

    return getattr(vehicles, name)
