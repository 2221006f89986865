"""Hub and rotor against solid geometry, the small-angle rule, numpy's FFT and a search over all places."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.hub_fit import (
    RunOut,
    at_radius,
    best_index,
    debris_run_out_mm,
    once_a_turn,
    rotor_alone,
    slope,
    stack_run_out_mm,
    tilt_deg,
)
from scipy import optimize

from tests.published.comparison import Compare

ANGLES = np.arange(3600) * 0.1


def face(run_out: RunOut, angles_deg: np.ndarray = ANGLES, turned_deg: float = 0.0) -> np.ndarray:
    """Height of a tilted face under a dial, one wave a turn, from its own definition."""
    return run_out.total_mm / 2 * np.cos(np.radians(angles_deg - run_out.high_deg - turned_deg))


@pytest.mark.parametrize(
    ("debris", "seat", "radius"), [(0.05, 70.0, 126.0), (0.3, 60.0, 98.0), (5.0, 60.0, 140.0)]
)
def test_debris_against_a_plane_in_space(debris: float, seat: float, radius: float, compare: Compare) -> None:
    # Source: solid geometry with numpy. The rotor's plane goes through the far edge of the seat (a line
    # square to the diameter) and the top of the flake. A dial along the axis reads it round one turn.
    far, along_edge = np.array([-seat, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    top = np.array([seat, 0.0, debris])
    normal = np.cross(top - far, along_edge)
    turn = np.radians(ANGLES)
    x, y = radius * np.cos(turn), radius * np.sin(turn)
    height = -(normal[0] * (x - far[0]) + normal[1] * (y - far[1])) / normal[2]
    known: dict[str, Any] = {"source": "solid geometry: a plane in space, numpy.cross", "how_known": "run"}
    found = debris_run_out_mm(debris, seat, radius)
    where = f"a flake of {debris:g} mm at {seat:g} mm"
    compare(
        "hub_fit.debris_run_out_mm",
        f"run-out at {radius:g} mm from {where}",
        found,
        np.ptp(height),
        "mm",
        **known,
    )
    lean = math.degrees(math.acos(abs(normal[2]) / np.linalg.norm(normal)))
    compare(
        "hub_fit.tilt_deg", f"lean from {where}", tilt_deg(debris, seat), lean, "degrees", share=1e-6, **known
    )


@pytest.mark.parametrize("debris", [0.001, 0.05, 0.5])
def test_debris_against_the_small_angle_rule(debris: float) -> None:
    # Source: tan a = a + a^3/3 + ...: run-out is 2 r a, a in radians, short by a share of a^2/3.
    tilt = math.radians(tilt_deg(debris, 70.0))
    exact = debris_run_out_mm(debris, 70.0, 126.0)
    small = 2 * 126.0 * tilt
    assert 0 <= (exact - small) / exact <= tilt**2 / 3 * (1 + 1e-6) + 1e-14
    assert small == pytest.approx(exact, rel=1e-5)


def test_a_flake_thinner_than_the_usual_limit_uses_it_up() -> None:
    # Source: row runout_general_limit, from memory, so only as an illustration.
    limit = published.value("runout_general_limit").value  # memory
    assert debris_run_out_mm(0.03, 70.0, 126.0) > limit


def test_a_slope_is_the_derivative_of_the_face(compare: Compare) -> None:
    # Source: numpy.gradient across the diameter.
    run_out = RunOut(0.08, 0.0)
    across = np.linspace(-120, 120, 25)
    height = run_out.total_mm / 2 * across / 120
    known: dict[str, Any] = {"source": "numpy.gradient across the diameter", "how_known": "run"}
    steep, found = np.gradient(height, across)[12], slope(run_out.total_mm, 120)
    compare("hub_fit.slope", "slope of 0.08 mm of run-out at 120 mm", found, steep, "mm/mm", **known)
    inside = at_radius(run_out, 120, 60).total_mm
    compare("hub_fit.at_radius", "the same run-out at 60 mm", inside, np.ptp(height[6:19]), "mm", **known)


PARTS = [
    (RunOut(0.04, 20.0), RunOut(0.05, 65.0)),
    (RunOut(0.10, 300.0), RunOut(0.02, 10.0)),
    (RunOut(0.06, 0.0), RunOut(0.06, 0.0)),
]


@pytest.mark.parametrize(("hub", "rotor"), PARTS)
@pytest.mark.parametrize("studs", [4, 5, 6])
def test_stacked_waves_against_the_fast_fourier_transform(
    hub: RunOut, rotor: RunOut, studs: int, compare: Compare
) -> None:
    # Source: numpy.fft.rfft of the added profiles: the first line is n/2 times the amplitude.
    for index in range(studs):
        profile = face(hub) + face(rotor, turned_deg=360 / studs * index)
        amplitude = 2 * abs(np.fft.rfft(profile)[1]) / len(profile)
        found = stack_run_out_mm(hub, rotor, index, studs)
        compare(
            "hub_fit.stack_run_out_mm",
            f"{hub.total_mm:g} and {rotor.total_mm:g} mm together, {index} of {studs} studs on",
            found,
            2 * amplitude,
            "mm",
            within=1e-12,
            source="numpy.fft.rfft of the added faces",
            how_known="run",
        )
        assert found == pytest.approx(np.ptp(profile), abs=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_the_best_index_against_a_search_over_added_profiles(seed: int, compare: Compare) -> None:
    # Source: numpy.ptp and numpy.argmin over every mounting position.
    rng = np.random.default_rng(seed)
    studs = int(rng.integers(3, 11))
    hub, rotor = (
        RunOut(float(total), float(deg)) for total, deg in rng.uniform((0.01, 0), (0.1, 360), (2, 2))
    )
    seen = [np.ptp(face(hub) + face(rotor, turned_deg=360 / studs * index)) for index in range(studs)]
    index, run_out, table = best_index(hub, rotor, studs)
    assert table == pytest.approx(seen, abs=1e-6)
    assert run_out == pytest.approx(min(seen), abs=1e-6)
    compare(
        "hub_fit.best_index",
        f"best of {studs} mounting positions, pair {seed}",
        index,
        int(np.argmin(seen)),
        source="numpy.argmin over the added faces of every position",
        how_known="run",
    )


@pytest.mark.parametrize(("hub", "rotor"), PARTS)
def test_no_turn_at_all_could_beat_the_difference_of_the_two(hub: RunOut, rotor: RunOut) -> None:
    # Source: scipy.optimize.minimize_scalar over any angle, not only whole studs.
    free = optimize.minimize_scalar(
        lambda deg: np.ptp(face(hub) + face(rotor, turned_deg=deg)), bounds=(0, 360), method="bounded"
    ).fun
    assert free == pytest.approx(abs(hub.total_mm - rotor.total_mm), abs=2e-4)
    _, run_out, _ = best_index(hub, rotor, 10)
    worst_step = 2 * math.sqrt(hub.total_mm * rotor.total_mm) * math.sin(math.pi / 20)
    assert free - 2e-4 <= run_out <= math.hypot(abs(hub.total_mm - rotor.total_mm), worst_step) + 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_the_once_a_turn_part_of_rough_readings_is_that_of_the_fft(seed: int, compare: Compare) -> None:
    # Source: numpy.fft.rfft: phase of the first line, with the sign turned, is where the wave is highest.
    rough = np.random.default_rng(seed).normal(0, 0.02, 8) + face(RunOut(0.08, 130.0), np.arange(8) * 45.0)
    line = np.fft.rfft(rough)[1]
    found = once_a_turn(rough)
    compare(
        "hub_fit.once_a_turn",
        f"once-a-turn part of eight rough readings, row {seed}",
        found.total_mm,
        2 * 2 * abs(line) / 8,
        "mm",
        source="numpy.fft.rfft",
        how_known="run",
    )
    assert found.high_deg == pytest.approx(np.degrees(-np.angle(line)) % 360)


@pytest.mark.parametrize(("hub", "rotor"), PARTS)
def test_the_rotors_own_run_out_is_what_is_left_of_the_readings(
    hub: RunOut, rotor: RunOut, compare: Compare
) -> None:
    # Source: numpy: the readings together less the hub's, place by place.
    places = np.arange(8) * 45.0
    together = once_a_turn(face(hub, places) + face(rotor, places))
    left = rotor_alone(hub, together)
    assert face(left, places) == pytest.approx(face(rotor, places), abs=1e-12)
    compare(
        "hub_fit.rotor_alone",
        f"rotor's part of the readings on a hub of {hub.total_mm:g} mm",
        left.total_mm,
        rotor.total_mm,
        "mm",
        source="numpy: readings together less the hub's, place by place",
        how_known="run",
    )
