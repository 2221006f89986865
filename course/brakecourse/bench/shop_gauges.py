"""Every gauge of the bench in one place, by the name that a drawing or a lesson calls."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from brakecourse.bench.fluid_gauges import (
    BoilingTester,
    MoistureTester,
    PressureGauge,
    boiling_tester,
    moisture_tester,
    pressure_gauge,
)
from brakecourse.bench.force_gauges import (
    PullGauge,
    Stopwatch,
    TorqueWrench,
    force_gauge,
    stopwatch,
    torque_wrench,
)
from brakecourse.bench.gauge_base import Readable
from brakecourse.bench.gauges import boxed_micrometer, dial_indicator, shop_micrometer
from brakecourse.bench.heat_gauge import EMISSIVITY, InfraredThermometer, infrared_thermometer
from brakecourse.bench.length_gauges import (
    DepthGauge,
    LevelRule,
    PedalRule,
    depth_gauge,
    level_rule,
    pedal_rule,
)
from brakecourse.bench.scale import Scale
from brakecourse.bench.shop_gauge_base import ShopGauge

__all__ = [
    "EMISSIVITY",
    "GAUGES",
    "BoilingTester",
    "DepthGauge",
    "InfraredThermometer",
    "LevelRule",
    "MoistureTester",
    "PedalRule",
    "PressureGauge",
    "PullGauge",
    "Readable",
    "Scale",
    "ShopGauge",
    "Stopwatch",
    "TorqueWrench",
    "boiling_tester",
    "boxed_micrometer",
    "depth_gauge",
    "dial_indicator",
    "force_gauge",
    "gauge",
    "infrared_thermometer",
    "level_rule",
    "moisture_tester",
    "pedal_rule",
    "pressure_gauge",
    "shop_micrometer",
    "stopwatch",
    "torque_wrench",
]

GAUGES: Mapping[str, Callable[[], Readable]] = MappingProxyType(
    {
        "boxed_micrometer": lambda: boxed_micrometer(0),
        "shop_micrometer": lambda: shop_micrometer(0),
        "dial_indicator": dial_indicator,
        "depth_gauge": depth_gauge,
        "level_rule": level_rule,
        "pedal_rule": pedal_rule,
        "moisture_tester": moisture_tester,
        "boiling_tester": boiling_tester,
        "pressure_gauge": pressure_gauge,
        "torque_wrench": torque_wrench,
        "force_gauge": force_gauge,
        "stopwatch": stopwatch,
        "infrared_thermometer": infrared_thermometer,
    }
)
"""What makes each gauge of the bench in its usual size."""


def gauge(name: str) -> Readable:
    """Return a gauge of the bench in its usual size.

    Args:
        name: one of ``GAUGES``, e.g. ``"depth_gauge"``.

    Raises:
        ValueError: the bench has no such gauge.

    >>> gauge("torque_wrench").scale.unit
    'N·m'
    """
    if not isinstance(name, str) or name not in GAUGES:
        raise ValueError(f"name must be one of {', '.join(GAUGES)}, but it was {name!r}.")
    return GAUGES[name]()
