"""The bench: simulated vehicles with a hidden condition, and the gauges that read it."""

from __future__ import annotations

from brakecourse.bench.vehicles import Vehicle, motor_pool

__all__ = ["Vehicle", "motor_pool"]
