"""A whole job of the bench: the same for the same seed, measured at the right wheel, read as it is."""

from __future__ import annotations

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import PLACES_DEG, draw_whole_job, fits_one_micrometer, measure, worst_wheel
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import SeizedPiston, ThinRotor

LEVELS = ("easy", "normal", "hard")


@pytest.mark.parametrize("difficulty", LEVELS)
def test_the_same_seed_gives_the_same_job_and_the_level_says_how_many_faults(difficulty: str) -> None:
    for seed in range(12):
        job = draw_whole_job(seed, difficulty)
        assert job == draw_whole_job(seed, difficulty)
        assert len(job.faults) == (2 if difficulty == "hard" else 1)
        assert len(job.readings_mm) == len(job.dial_readings_mm) == len(PLACES_DEG) == 8


def test_readings_lie_near_the_truth() -> None:
    for seed in range(20):
        job = draw_whole_job(seed)
        rotor, radius = job.condition.rotor.rotor, job.brake.measuring_radius_mm
        for angle, reading in zip(PLACES_DEG, job.readings_mm, strict=True):
            assert abs(reading - rotor.between_anvils_mm(angle, radius)) <= 0.02
        for corner, read in zip(job.condition.pads.inner.corners_mm, job.pads.inner.corners_mm, strict=True):
            assert abs(read - corner) <= 0.3


def test_a_job_is_measured_where_its_fault_is() -> None:
    for seed in range(10):
        case = draw_vehicle(seed, 1, "easy", (SeizedPiston,))
        assert worst_wheel(case) == case.faults[0].wheel == measure(case, Draw(seed)).wheel


def test_no_micrometer_is_asked_beyond_its_range() -> None:
    """A thin rotor of the library van or the truck may lie between the two micrometers' ranges."""
    seen = set()
    for vehicle in motor_pool().values():
        for seed in range(15):
            case = draw_vehicle(seed, 1, "normal", (ThinRotor,), vehicle)
            if fits_one_micrometer(case, worst_wheel(case)):
                job = measure(case, Draw(seed))
                assert job.micrometer.low_mm < min(job.thickness_mm)
                assert max(job.thickness_mm) < job.micrometer.high_mm
                seen.add(job.micrometer.low_mm)
    assert seen == {0.0, 25.0}


@pytest.mark.parametrize("arguments", [(1, "harder"), (1, "normal", "tram"), (-1,), (True,)])
def test_what_is_no_job_is_refused_in_words(arguments: tuple[object, ...]) -> None:
    with pytest.raises(ValueError, match=r"must be .*but it was|must be .* or more"):
        draw_whole_job(*arguments)  # type: ignore[arg-type]
