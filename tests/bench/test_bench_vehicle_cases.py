"""Drawn vehicles: the same seed, the same vehicle; as many faults as asked; the patterns that lessons need.

If a change of the bench is meant to change the vehicles, raise the course's version and write the stored
ones anew, from the repository's top folder:

    python tests/bench/test_bench_vehicle_cases.py
"""

from __future__ import annotations

import hashlib
import json
import time
from collections import Counter
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import axle_of
from brakecourse.bench.vehicle_cases import SEVERITIES, VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import (
    FAULTS,
    DryPins,
    HoseLeak,
    OldFluid,
    SeizedPin,
    VehicleFault,
)
from brakecourse.trade.pads import PadLimits, classify_wear

FILE = Path(__file__).with_name("golden_vehicles.json")
GOLDEN: tuple[tuple[int, int, Difficulty], ...] = tuple(
    (seed, faults, level)
    for faults, level in ((0, "normal"), (1, "easy"), (1, "normal"), (2, "normal"), (2, "hard"))
    for seed in range(3)
)  # type: ignore[assignment]
GAUGE_U_MM = 0.05


def _rounded(value: Any) -> Any:
    """Numbers to seven places, so that the last digit of a processor's arithmetic does not count."""
    if isinstance(value, float):
        return round(value, 7) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list | tuple) else value


def told(case: VehicleCase) -> dict[str, Any]:
    """What a case tells, the headline numbers of its truth, and a digest of all of it."""
    condition = case.condition
    whole = json.dumps(_rounded([asdict(case.roots), asdict(condition)]), sort_keys=True, ensure_ascii=True)
    found = {
        "seed": case.seed,
        "faults": [{"fault": fault.id, **asdict(fault)} for fault in case.faults],
        "difficulty": case.difficulty,
        "vehicle": case.vehicle.key,
        "km": case.km,
        "complaint": case.complaint,
        "inner_mm": [one.pads.inner.corners_mm for one in condition.wheels],
        "outer_mm": [one.pads.outer.corners_mm for one in condition.wheels],
        "travel_mm": condition.pedal.travel_mm,
        "drop_ml": condition.fluid.drop_ml,
        "digest": hashlib.sha256(whole.encode()).hexdigest(),
    }
    plain: dict[str, Any] = _rounded(found)
    return plain


@pytest.mark.parametrize("place", range(len(GOLDEN)))
def test_a_seed_gives_the_vehicle_that_it_always_gave(place: int) -> None:
    stored = json.loads(FILE.read_text(encoding="utf-8"))
    seed, faults, level = GOLDEN[place]
    assert told(draw_vehicle(seed, faults, level)) == stored[place]


def test_the_stored_vehicles_are_all_that_are_compared() -> None:
    stored = json.loads(FILE.read_text(encoding="utf-8"))
    assert len(stored) == len(GOLDEN) and len({case["digest"] for case in stored}) == len(GOLDEN)


def test_the_same_seed_gives_the_same_vehicle_and_another_seed_another() -> None:
    for faults in (0, 1, 2):
        assert draw_vehicle(11, faults) == draw_vehicle(11, faults)
        assert draw_vehicle(11, faults) != draw_vehicle(12, faults)


def test_the_twin_without_faults_is_the_same_whatever_the_faults() -> None:
    for seed in range(5):
        cases = [draw_vehicle(seed, faults) for faults in (0, 1, 2)]
        assert len({case.vehicle.key for case in cases}) == len({case.km for case in cases}) == 1
        assert cases[0].sound_roots == cases[1].sound_roots == cases[2].sound_roots
        assert cases[0].condition == cases[1].sound == cases[2].sound
        assert cases[1].condition != cases[1].sound


@pytest.mark.slow
def test_as_many_faults_as_asked_each_of_another_kind_and_every_kind_comes() -> None:
    seen: Counter[str] = Counter()
    for seed in range(250):
        faults = draw_vehicle(seed, 2).faults
        assert len(faults) == 2 and type(faults[0]) is not type(faults[1])
        seen.update(fault.id for fault in faults)
    assert set(seen) == {kind.id for kind in FAULTS}
    assert max(seen.values()) < 5 * min(seen.values()) + 20


@pytest.mark.parametrize("level", list(SEVERITIES))
def test_a_harder_vehicle_hides_slighter_faults(level: Difficulty) -> None:
    low, high = SEVERITIES[level]
    severities = [fault.severity for seed in range(40) for fault in draw_vehicle(seed, 2, level).faults]
    assert low <= min(severities) and max(severities) <= high
    assert max(severities) - min(severities) > 0.7 * (high - low)


def test_kinds_and_vehicle_can_be_chosen() -> None:
    saloon = motor_pool()["night_patrol_saloon"]
    for seed in range(10):
        case = draw_vehicle(seed, 2, kinds=(OldFluid, SeizedPin), vehicle=saloon)
        assert case.vehicle == saloon and [fault.id for fault in case.faults] == ["old_fluid", "seized_pin"]
        pin = case.faults[1]
        assert isinstance(pin, SeizedPin) and saloon.axle(axle_of(pin.wheel)).caliper.pin is not None


def test_what_cannot_be_drawn_is_refused_in_a_sentence() -> None:
    for faults in (-1, 3, 1.5, True, "two"):
        with pytest.raises(ValueError, match="faults must be a whole number"):
            draw_vehicle(1, faults)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="difficulty must be"):
        draw_vehicle(1, 1, "very hard")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="seed"):
        draw_vehicle(-1)
    with pytest.raises(ValueError, match="kinds must hold at least 2"):
        draw_vehicle(1, 2, kinds=(DryPins,))
    with pytest.raises(ValueError, match="kinds must hold faults of a vehicle only"):
        draw_vehicle(1, 1, kinds=(int,))  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="vehicle must be a Vehicle"):
        draw_vehicle(1, 1, vehicle="van")  # type: ignore[arg-type]


def test_the_customer_never_names_a_fault() -> None:
    part_words = (
        "pin",
        "piston",
        "hose",
        "rotor",
        "air ",
        "caliper",
        "master",
        "glaz",
        "fluid is old",
        "hub",
    )
    complaints = [draw_vehicle(seed, faults).complaint for seed in range(80) for faults in (1, 2)]
    for said in complaints:
        told_part = said.split("has come in", 1)[1]
        assert not [word for word in part_words if f" {word}" in told_part], said
        assert said.endswith(".") and "  " not in said
    assert len(set(complaints)) > 60


def test_a_sound_vehicle_comes_for_its_check_and_a_leak_is_felt() -> None:
    for seed in range(20):
        assert "has noticed nothing" in draw_vehicle(seed, 0).complaint
        leaking = draw_vehicle(seed, 1, "easy", kinds=(HoseLeak,)).complaint
        assert "sinks" in leaking or "creeps" in leaking


# --- pad wear for the lessons ---------------------------------------------------------------------


def pattern(case: VehicleCase, place: int) -> tuple[object, ...]:
    """What a learner can tell apart: patterns, thin sides, which pad is thinner, how the faces look."""
    one = case.condition.wheels[place]
    pad = case.vehicle.axle(axle_of(one.wheel)).pad
    limits = PadLimits(
        pad.minimum_mm,
        pad.max_taper_mm,
        pad.max_pair_difference_mm,
        pad.max_step_mm,
        GAUGE_U_MM,
        GAUGE_U_MM,
    )
    finding = classify_wear(one.pads.inner, one.pads.outer, limits)
    outside = [each for each in finding.evidence if each.decision.verdict == "outside" and each.thin]
    sides = tuple(sorted({(each.check, each.place, each.thin) for each in outside}))
    faces = tuple(sorted({*one.pads.inner_surface, *one.pads.outer_surface}))
    return finding.pattern, sides, faces


@pytest.mark.slow
def test_lessons_find_every_pattern_of_pad_wear() -> None:
    seen: Counter[tuple[object, ...]] = Counter()
    by_fault: dict[str, set[str]] = {kind.id: set() for kind in FAULTS}
    for kind in FAULTS:
        for seed in range(12):
            case = draw_vehicle(seed, 1, "easy", kinds=(kind,))
            for place in range(4):
                found = pattern(case, place)
                seen[found] += 1
                by_fault[kind.id].add(str(found[0]))
    assert len(seen) >= 15

    def there(kind: type[VehicleFault] | str, words: str) -> bool:
        return any(words in one for one in by_fault[kind if isinstance(kind, str) else kind.id])

    assert there("worn_pads", "below minimum")
    assert there(SeizedPin, "tapered lengthwise") and there("rust_under_clips", "tapered lengthwise")
    assert there("under_torqued", "tapered in height") and there("ridged_rotor", "stepped edge")
    assert there(DryPins, "uneven inner and outer") and there("seized_piston", "uneven inner and outer")
    sides = {side for found in seen for side in found[1]}  # type: ignore[attr-defined]
    checks = {(check, thin) for check, _, thin in sides}
    assert {("pair", "inner"), ("pair", "outer")} <= checks
    assert {("taper in length", "leading"), ("taper in length", "trailing")} <= checks
    faces = {face for found in seen for face in found[2]}  # type: ignore[attr-defined]
    assert faces == {
        "sound",
        "glazed",
        "uneven transfer",
        "contaminated with grease",
        "contaminated with brake fluid",
    }


def test_drawing_a_vehicle_takes_little_time() -> None:
    draw_vehicle(0)  # tables are read once
    times = []
    for start in (100, 120, 140):
        begun = time.process_time()
        for seed in range(start, start + 20):
            draw_vehicle(seed, 2)
        times.append((time.process_time() - begun) / 20)
    assert min(times) < 0.02  # 3 ms on the machine that it was written on


if __name__ == "__main__":
    cases = [told(draw_vehicle(*arguments)) for arguments in GOLDEN]
    text = "[\n" + ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases) + "\n]\n"
    FILE.write_text(text, encoding="utf-8")
    print(f"Wrote {len(cases)} vehicles to {FILE.name}.")
