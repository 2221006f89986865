"""One rotor as one lump of iron: warmed by a braking, cooled by the air, in closed form.

In a steady braking the heat flow falls evenly with the speed, so the temperature above the air, θ,
obeys ``dθ/dt = q - k t - θ/τ``, which has an exact solution. Nothing is stepped.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.trade._burnish_records import BurnishVehicle, Series


@dataclass(frozen=True)
class Heating:
    """How one kind of braking warms one front rotor, temperatures above the air's.

    Attributes:
        rate_ks: warming at the start of the braking, without cooling, K/s.
        fall_ks2: how fast that warming falls, K/s².
        time_constant_s: cooling time constant, s.
        seconds: how long the braking lasts, s.
    """

    rate_ks: float
    fall_ks2: float
    time_constant_s: float
    seconds: float

    @classmethod
    def of(cls, series: Series, vehicle: BurnishVehicle) -> Heating:
        """Return how these brakings warm a front rotor of this vehicle."""
        rotor = vehicle.rotor_mass_kg * vehicle.specific_heat_j_kgk
        newtons = vehicle.mass_kg * series.deceleration_ms2 * vehicle.front_share / 2
        rate = newtons * series.from_kmh / 3.6 / rotor
        fall = newtons * series.deceleration_ms2 / rotor
        return cls(rate, fall, vehicle.time_constant_s, series.braking_s)

    def after(self, start_k: float, seconds: float) -> float:
        """Return the temperature above the air's, K, some seconds into the braking."""
        tau = self.time_constant_s
        x = seconds / tau
        gained = -math.expm1(-x)
        return start_k * math.exp(-x) + self.rate_ks * tau * gained - self.fall_ks2 * tau**2 * _lag(x)

    def end(self, start_k: float) -> float:
        """Return the temperature above the air's at the end of the braking, K."""
        return self.after(start_k, self.seconds)

    def peak(self, start_k: float) -> float:
        """Return the highest temperature above the air's during the braking, K.

        It comes a little before the end of a full stop, when the last slow turns of the wheel bring less
        heat than the air takes away.
        """
        tau = self.time_constant_s
        surplus = (self.rate_ks * tau - start_k) / (tau**2 * self.fall_ks2)
        if surplus <= 0:  # so hot that it cools from the first moment
            return start_k
        at = min(self.seconds, tau * math.log1p(surplus))
        return max(start_k, self.after(start_k, at))

    def warmest_start(self, limit_k: float) -> float:
        """Return the warmest start from which the peak keeps a limit, both above the air's, K.

        0 when no start above the air's temperature keeps it.
        """
        low, high = 0.0, limit_k
        if limit_k <= 0 or self.peak(low) > limit_k:
            return 0.0
        while low < (middle := (low + high) / 2) < high:
            if self.peak(middle) > limit_k:
                high = middle
            else:
                low = middle
        return low


def _lag(x: float) -> float:
    """Return ``x - (1 - exp(-x))`` without losing digits when x is small."""
    if x < 1e-3:
        return x**2 / 2 * (1 - x / 3 * (1 - x / 4 * (1 - x / 5)))
    return x + math.expm1(-x)
