"""A drawn job becomes the record that is sealed: every gauge read, every number as it is printed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import cast

from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import boiling_tester
from brakecourse.bench.gauge_base import Readable
from brakecourse.bench.job_cases import JobCase
from brakecourse.bench.level_sums import rule_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.papers.m13_whole_job.checks_done import told
from brakecourse.marking.papers.m13_whole_job.steps import STEPS
from brakecourse.marking.papers.m13_whole_job.truth import CONFIDENCE, Bedding, JobTruth, Reads, Torques
from brakecourse.marking.readings import seal_reading
from brakecourse.trade.fluid import MixingGrade
from brakecourse.trade.rotor import Instruments
from brakecourse.views.torque_sums import Bolt, lbfft

_AIR_C = 20.0
_EXTENSIONS_MM = (50.0, 60.0, 75.0, 100.0, 120.0)
_WRENCHES_MM = ((40.0, 300.0), (200.0, 450.0), (math.inf, 650.0))
_STARTS_C = (140.0, 160.0, 180.0, 200.0, 220.0)
_CLEAR_MM = 2.0  # the fluid stands so far from the floor and from MAX
_REACH_MM = 25.0


def sealed(
    job: JobCase, situation: str, cause: str, found: Mapping[str, str], chance: Draw
) -> JobTruth | None:
    """Return what is true of a job; None when a gauge cannot show it.

    Args:
        job: the vehicle and the gauges at its wheel.
        situation, cause: what was drawn.
        found: what the checks showed.
        chance: where the chance of hand and gauge comes from.
    """
    case, vehicle, brake = job.case, job.vehicle, job.brake
    system, fluid, heat, rule = vehicle.hydraulics, case.condition.fluid, boiling_tester(), rule_of(vehicle)
    rotor = job.condition.rotor.rotor
    ridge = rotor.between_anvils_mm(0, rotor.ridge_radius_mm)
    inside = _CLEAR_MM <= fluid.level_mm <= system.reservoir_max_mm - _CLEAR_MM
    if not inside or not job.micrometer.low_mm < ridge < job.micrometer.low_mm + _REACH_MM:
        return None
    boiling = seal_reading(heat, heat.indicate_clear(fluid.boiling_c, chance.child("boiling")))
    exact, limits = job.instruments, job.pads.limits
    faults = sorted((one.id for one in job.faults), key=lambda one: one != cause)
    return JobTruth(
        situation=situation,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=case.complaint,
        wheel=job.wheel,
        faults=tuple(faults),
        checks=told(found),
        max_mm=system.reservoir_max_mm,
        min_mm=system.reservoir_min_mm,
        height_mm=rule.scale.end,
        level=seal_reading(rule, rule.indicate_clear(fluid.level_mm, chance.child("level"))),
        grade=cast(MixingGrade, system.fluid_grade),
        boiling=boiling,
        boiling_u_c=round(boiling.u, 2),
        hottest_c=float(round(case.sound.fluid.hottest_c)),
        plate_mm=job.pads.gauge.plate_mm,
        lining_new_mm=brake.pad.lining_new_mm,
        pad_limits=replace(
            limits,
            thickness_u_mm=round(limits.thickness_u_mm, 3),
            difference_u_mm=round(limits.difference_u_mm, 3),
        ),
        lining=_ends(job),
        soaked=found.get("pad_soil") == "wet",
        spec=brake.rotor,
        instruments=Instruments(
            round(exact.thickness_u_mm, 4),
            round(exact.thickness_difference_u_mm, 4),
            round(exact.dial_difference_u_mm, 4),
        ),
        in_from_edge_mm=brake.rotor_outer_radius_mm - brake.measuring_radius_mm,
        micrometer_from_mm=job.micrometer.low_mm,
        thickness=_reads(job.micrometer, job.thickness_mm),
        ridge=seal_reading(job.micrometer, job.micrometer.indicate_clear(ridge, chance.child("ridge"))),
        dial=_reads(job.dial, job.dial_mm),
        confidence=CONFIDENCE,
        torques=_torques(job, chance.child("torque")),
        bedding=_bedding(vehicle, chance.child("bedding")),
        listed=tuple(chance.child("steps").shuffled(STEPS)),
    )


def _reads(gauge: Readable, shown: Sequence[float]) -> Reads:
    return tuple(seal_reading(gauge, value) for value in shown)


def _ends(job: JobCase) -> Reads:
    """Read each end of each pad at the thinner one of its two corners."""
    thinner = [min(pad[at : at + 2]) for pad in (job.pads.inner_mm, job.pads.outer_mm) for at in (0, 2)]
    return _reads(job.pads.gauge, thinner)


def _torques(job: JobCase, chance: Draw) -> Torques:
    bolt = Bolt(job.vehicle, job.axle, job.brake.caliper.bracket_bolt)
    return Torques(
        bolt=bolt.name,
        nut_lbfft=round(lbfft(job.vehicle.wheel_nut.torque_nm)),
        bolt_lbfft=round(lbfft(bolt.fastener.torque_nm)),
        wrench_mm=next(length for largest, length in _WRENCHES_MM if bolt.fastener.torque_nm <= largest),
        extension_mm=chance.choice(_EXTENSIONS_MM),
    )


def _bedding(vehicle: Vehicle, chance: Draw) -> Bedding:
    front = vehicle.front
    return Bedding(
        mass_kg=vehicle.mass_kg,
        front_percent=round(100 * vehicle.front_share),
        rotor_kg=front.rotor_mass_kg,
        air_c=_AIR_C,
        start_c=chance.child("start").choice(_STARTS_C),
        half_time_min=round(front.cooling_time_constant_s * math.log(2) / 60, 1),
        half_times=chance.child("half-times").integer(1, 2),
    )
