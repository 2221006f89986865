"""The values that a solved notebook is worked with, as Python text, taken from a sealed case.

They stand typed in the notebook, as an instructor would type them from the drawings. This module is how
they come from the case and not from a keyboard.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from brakecourse.errors import CourseError
from brakecourse.marking.rotor_values import true_values
from brakecourse.marking.sealed import SealedCase
from brakecourse.marking.simulated_words import customer_words


def worked_values(case: SealedCase) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value.

    Raises:
        CourseError: the module has no solved notebook.
    """
    if case.module not in _WORKED:
        raise CourseError(f"A module with a solved notebook was expected, but found '{case.module}'.")
    return _WORKED[case.module](case)


def _rotor(case: SealedCase) -> dict[str, str]:
    rotor = case.rotor
    spec, gauges = rotor.spec, rotor.instruments
    action = case.question("8.8")
    assert action is not None
    return {
        "thickness_mm": _row(rotor.readings_mm),
        "dial_mm": _row(rotor.dial_readings_mm),
        "limits": (
            f"rotor.RotorSpec(nominal_mm={spec.nominal_mm:.2f}, machine_to_mm={spec.machine_to_mm:.2f}, "
            f"discard_mm={spec.discard_mm:.2f}, max_variation_mm={spec.max_variation_mm:.3f}, "
            f"max_run_out_mm={spec.max_run_out_mm:.2f})"
        ),
        "gauges": (
            f"rotor.Instruments(thickness_u_mm={gauges.thickness_u_mm:.4f}, "
            f"thickness_difference_u_mm={gauges.thickness_difference_u_mm:.4f}, "
            f"dial_difference_u_mm={gauges.dial_difference_u_mm:.4f})"
        ),
        "what_to_do": repr(action.accepted[0]),
        "letter": customer_words(1.0, case, true_values(rotor)),
    }


def _row(values: Sequence[float]) -> str:
    return "[" + ", ".join(f"{value:.2f}" for value in values) + "]"


_WORKED: dict[str, Callable[[SealedCase], dict[str, str]]] = {"08_rotor_measurement": _rotor}
