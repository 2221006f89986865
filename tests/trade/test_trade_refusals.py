"""Every public function of the trade refuses what cannot be a measured quantity, in one sentence."""

from __future__ import annotations

import inspect
import math
from decimal import Decimal
from fractions import Fraction
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from brakecourse.trade import conformity, rotor

SPEC = rotor.RotorSpec(24.0, 22.6, 22.0, 0.030, 0.10)
GAUGES = rotor.Instruments(0.005, 0.004, 0.005)
THICKNESSES = [23.10, 23.04, 23.07]
DIAL = [0.00, 0.03, -0.01]

# For each public function: a good call, and for each argument what it is and the word that its refusal must
# hold. Kinds: number, not negative, positive, confidence, side, row (with the least count), positive row,
# freedoms, record.
GOOD_CALLS: dict[tuple[ModuleType, str], dict[str, tuple[Any, str, str]]] = {
    (conformity, "guard_band"): {
        "standard_uncertainty": (0.01, "not negative", "standard uncertainty"),
        "confidence": (0.95, "confidence", "confidence"),
    },
    (conformity, "decide"): {
        "measured": (22.03, "number", "measured value"),
        "limit": (22.0, "number", "limit"),
        "side": ("minimum", "side", "side"),
        "standard_uncertainty": (0.01, "not negative", "standard uncertainty"),
        "confidence": (0.95, "confidence", "confidence"),
    },
    (conformity, "type_a"): {"readings": ([24.01, 24.03, 24.02], "row 2", "repeated reading")},
    (conformity, "rectangular"): {"half_width": (0.005, "not negative", "half width")},
    (conformity, "expanded"): {
        "standard_uncertainty": (0.004, "not negative", "standard uncertainty"),
        "k": (2, "positive", "coverage factor"),
    },
    (conformity, "standard_from_expanded"): {
        "expanded_uncertainty": (0.008, "not negative", "expanded uncertainty"),
        "k": (2, "positive", "coverage factor"),
    },
    (conformity, "effective_degrees_of_freedom"): {
        "standard_uncertainties": ([3.0, 4.0], "positive row 1", "standard uncertainty"),
        "degrees_of_freedom": ([4, 9], "freedoms", "degrees of freedom"),
    },
    (rotor, "thickness_variation_mm"): {
        "readings": (THICKNESSES, "positive row 2", "thickness reading in mm")
    },
    (rotor, "smallest_mm"): {"readings": (THICKNESSES, "positive row 1", "thickness reading in mm")},
    (rotor, "run_out_mm"): {"dial_readings": (DIAL, "row 2", "dial reading in mm")},
    (rotor, "harmonics"): {"readings": (DIAL, "row 3", "reading")},
    (rotor, "machining_allowance_mm"): {
        "readings": (THICKNESSES, "positive row 1", "thickness reading in mm"),
        "machine_to_mm": (22.6, "positive", "machine-to thickness in mm"),
    },
    (rotor, "cut_to_true_mm"): {
        "variation_mm": (0.04, "not negative", "thickness variation in mm"),
        "run_out_mm": (0.09, "not negative", "run-out in mm"),
    },
    (rotor, "verdict"): {
        "readings": (THICKNESSES, "positive row 2", "thickness reading in mm"),
        "dial_readings": (DIAL, "row 2", "dial reading in mm"),
        "spec": (SPEC, "record", "spec"),
        "instruments": (GAUGES, "record", "instruments"),
        "confidence": (0.95, "confidence", "confidence"),
    },
    (rotor, "RotorSpec"): {
        "nominal_mm": (24.0, "positive", "thickness when new in mm"),
        "machine_to_mm": (22.6, "positive", "machine-to thickness in mm"),
        "discard_mm": (22.0, "positive", "discard thickness in mm"),
        "max_variation_mm": (0.03, "positive", "largest thickness variation in mm"),
        "max_run_out_mm": (0.1, "positive", "largest run-out in mm"),
    },
    (rotor, "Instruments"): {
        "thickness_u_mm": (0.005, "not negative", "standard uncertainty of a thickness in mm"),
        "thickness_difference_u_mm": (
            0.004,
            "not negative",
            "standard uncertainty of a thickness difference",
        ),
        "dial_difference_u_mm": (0.005, "not negative", "standard uncertainty of a dial difference"),
    },
}

NO_NUMBERS: list[Any] = [
    math.nan,
    math.inf,
    -math.inf,
    True,
    False,
    "3",
    "",
    b"3",
    None,
    1 + 2j,
    [1.0],
    {},
    object(),
    10**400,
    1e300,
    Decimal("NaN"),
    np.float64("nan"),
    np.bool_(True),
    np.array(3.0),
    np.complex128(3),
]
NO_ROWS: list[Any] = [
    [],
    (),
    np.array([]),
    "24.0 24.1",
    b"24",
    None,
    24.0,
    True,
    {24.0, 24.1, 24.2},
    {24.0: 1, 24.1: 2, 24.2: 3},
    iter([24.0, 24.1, 24.2]),
    np.array(24.0),
    np.full((3, 3), 24.0),
    [[24.0, 24.1], [24.2], [24.3]],
]


def _rows_with(member: Any) -> list[Any]:
    return [[24.0, member, 24.2], (member, 24.1, 24.2)]


def _bad_values(kind: str) -> list[Any]:
    if kind == "number":
        return NO_NUMBERS
    if kind == "not negative":
        return [*NO_NUMBERS, -0.001, np.float64(-1)]
    if kind == "positive":
        return [*NO_NUMBERS, -0.001, 0, 0.0]
    if kind == "confidence":
        return [*NO_NUMBERS, 0.4999, 1, 1.0, 95, -0.95]
    if kind == "side":
        return ["", "min", "Minimum", None, 1, ["minimum"]]
    if kind == "record":
        return [None, {}, (24.0, 22.6, 22.0, 0.03, 0.1), "spec", 24.0]
    name, _, least = kind.rpartition(" ")
    members = [bad for bad in NO_NUMBERS if not (kind == "freedoms" and bad == math.inf)]
    rows = NO_ROWS + [row for member in members for row in _rows_with(member)]
    if name == "row":
        return [*rows, [24.0] * (int(least) - 1)]
    if name == "positive row":
        return [*rows, [24.0] * (int(least) - 1), [24.0, -24.1, 24.2]]
    assert kind == "freedoms", kind
    return [*rows, [0, 9], [-4, 9], [4, 9, 3], [4]]


CASES = [
    pytest.param(module, function, argument, kind, word, id=f"{function}-{argument}")
    for (module, function), arguments in GOOD_CALLS.items()
    for argument, (_, kind, word) in arguments.items()
]


def _good(module: ModuleType, function: str) -> dict[str, Any]:
    return {name: good for name, (good, _, _) in GOOD_CALLS[module, function].items()}


@pytest.mark.parametrize(("module", "function", "argument", "kind", "word"), CASES)
def test_a_bad_argument_is_refused_in_one_sentence(
    module: ModuleType, function: str, argument: str, kind: str, word: str
) -> None:
    for bad in _bad_values(kind):
        try:
            found = getattr(module, function)(**{**_good(module, function), argument: bad})
        except ValueError as refusal:
            sentence = str(refusal)
        else:
            pytest.fail(f"{function} took {argument}={bad!r} and returned {found!r}")
        assert word in sentence, bad
        assert "must be" in sentence, bad
        assert sentence.endswith("."), bad
        assert "\n" not in sentence, bad
        assert len(sentence) < 240, bad


@pytest.mark.parametrize(("module", "function"), GOOD_CALLS)
def test_the_good_call_beside_the_bad_ones_works(module: ModuleType, function: str) -> None:
    getattr(module, function)(**_good(module, function))


@pytest.mark.parametrize(("bad", "found"), [(math.nan, "nan"), (-0.5, "-0.5"), ("3", "'3'"), (True, "True")])
def test_combine_refuses_each_of_its_contributions(bad: Any, found: str) -> None:
    for contributions in ([bad], [0.003, bad], [bad, 0.003]):
        with pytest.raises(ValueError, match="standard uncertainty must be") as caught:
            conformity.combine(*contributions)
        assert found in str(caught.value)
    with pytest.raises(ValueError, match="at least one number, but none was given"):
        conformity.combine()


def test_the_refusal_tells_the_place_of_a_bad_reading() -> None:
    with pytest.raises(
        ValueError, match=r"thickness reading in mm, place 2, must be above 0, but it was -24\.1\."
    ):
        rotor.smallest_mm([24.0, -24.1, 24.2])
    with pytest.raises(
        ValueError, match=r"dial reading in mm, place 3, must be a number, but it was '0\.02'\."
    ):
        rotor.run_out_mm([0.0, 0.01, "0.02"])  # type: ignore[list-item]


def test_a_long_argument_is_shown_short() -> None:
    with pytest.raises(ValueError, match=r"\.\.\.") as caught:
        conformity.rectangular("x" * 100_000)  # type: ignore[arg-type]
    assert len(str(caught.value)) < 200


def test_contributions_that_are_all_zero_have_no_degrees_of_freedom() -> None:
    with pytest.raises(ValueError, match="one above 0, but all were 0"):
        conformity.effective_degrees_of_freedom([0.0, 0.0], [4, 9])


@pytest.mark.parametrize(
    "thicknesses",
    [(22.6, 24.0, 22.0), (24.0, 22.0, 22.6), (24.0, 24.0, 22.0), (24.0, 22.6, 22.6), (22.0, 22.6, 24.0)],
)
def test_a_specification_in_the_wrong_order_is_refused(thicknesses: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="must fall from new over machine-to to discard"):
        rotor.RotorSpec(*thicknesses, max_variation_mm=0.03, max_run_out_mm=0.1)


@pytest.mark.parametrize(
    "make", [np.array, tuple, list, lambda row: np.array(row, dtype=np.float32).astype(float)]
)
def test_arrays_and_tuples_are_rows_of_readings_too(make: Any) -> None:
    assert rotor.smallest_mm(make([23.5, 23.25, 23.75])) == 23.25
    assert rotor.thickness_variation_mm(make([23.5, 23.25, 23.75])) == 0.5
    assert rotor.run_out_mm(make([0.5, -0.25, 0.0])) == 0.75
    assert isinstance(rotor.run_out_mm(make([0.5, -0.25, 0.0])), float)
    assert conformity.type_a(make([23.5, 23.5])) == (23.5, 0.0)


@pytest.mark.parametrize("make", [int, Fraction, np.int64, np.float32, np.float64])
def test_whole_numbers_fractions_and_numpy_numbers_are_numbers(make: Any) -> None:
    decision = conformity.decide(make(24), make(22), "minimum", make(1))
    assert decision == conformity.decide(24.0, 22.0, "minimum", 1.0)
    assert all(type(part) is float for part in (decision.margin, decision.guard_band))


@pytest.mark.parametrize("module", [conformity, rotor])
def test_every_public_function_and_record_with_rules_stands_in_the_table_above(module: ModuleType) -> None:
    names = getattr(module, "__all__", [name for name in vars(module) if not name.startswith("_")])
    public = {
        name
        for name in names
        if inspect.isfunction(member := getattr(module, name))
        and member.__module__.startswith("brakecourse.trade")
    }
    if module is rotor:  # harmless to import there, but their own module's names
        public -= {"decide", "difference", "total"}
    else:
        public -= {
            "difference",
            "combine",
        }  # combine takes any number of arguments and has its own test above
    validating = {name for name in names if hasattr(getattr(module, name), "__post_init__")}
    assert public | validating == {name for owner, name in GOOD_CALLS if owner is module}
