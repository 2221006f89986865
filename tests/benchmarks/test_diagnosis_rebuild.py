"""What rebuilding the diagnosis table takes, and that it comes out as it is stored."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import pytest
from brakecourse.bench.diagnosis_table import simulate, tally
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.trade.leaks import diagnosis_table

from tests.bench.make_diagnosis import FIRST_SEED, VEHICLES


@pytest.mark.timeout(900)
def test_the_cost_of_rebuilding_the_diagnosis_table(benchmark: Any, tell: Callable[[str], None]) -> None:
    stored = diagnosis_table()
    seconds: list[float] = []

    def rebuild() -> None:
        begun = time.process_time()  # of one core: what else the computer does does not count
        assert tally(simulate(VEHICLES, FIRST_SEED)) == stored.counts
        seconds.append(time.process_time() - begun)

    benchmark.pedantic(rebuild, rounds=1)
    begun = time.process_time()
    for seed in range(500):
        draw_vehicle(seed)
    drawing = (time.process_time() - begun) / 500
    each = seconds[0] / VEHICLES
    benchmark.extra_info["seconds of one core"] = seconds[0]
    tell(
        f"diagnosis table of {VEHICLES} vehicles: {seconds[0]:.0f} s of one core (wished: below 120); "
        f"{1000 * each:.2f} ms a vehicle, {each / drawing:.2f} times what drawing it takes"
    )
