"""The rotor behind a case of module 08, read back from what was sealed."""

from __future__ import annotations

from brakecourse.marking import SealedCase
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth


def rotor_of(case: SealedCase) -> RotorTruth:
    """Return the rotor behind a case."""
    return RotorTruth.model_validate(case.truth)


def thickness_mm(case: SealedCase) -> tuple[float, ...]:
    """Return what the micrometer shows at the eight places, between its lines."""
    return tuple(one.indication for one in rotor_of(case).thickness)


def dial_mm(case: SealedCase) -> tuple[float, ...]:
    """Return what the dial shows with all wheel nuts snug, between its lines."""
    return tuple(one.indication for one in rotor_of(case).dial_seated)
