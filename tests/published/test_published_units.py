"""Unit conversion, against published conversion factors and against values that a person knows."""

from __future__ import annotations

import math
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from brakecourse import published
from hypothesis import given
from hypothesis import strategies as st

# Each row's own source is in datasets/published/units.csv; the unit that is converted stands in its quantity.
FROM_UNIT = {
    "unit_inch_mm": "in",
    "unit_foot_m": "ft",
    "unit_mph_kmh": "mph",
    "unit_lbf_n": "lbf",
    "unit_lbfin_nm": "lbf*in",
    "unit_ftps2_mps2": "ft/s**2",
    "unit_psi_pa": "psi",
    "unit_lbfft_nm": "lbf*ft",
    "unit_mph_mps": "mph",
    "pint_lbfft_nm": "lbf*ft",
    "pint_psi_kpa": "psi",
    "pint_mile_m": "mile",
    "pint_lbf_n": "lbf",
    "pint_mph_mps": "mph",
}


@pytest.mark.parametrize("name", FROM_UNIT)
def test_a_published_conversion_factor_is_met_to_its_last_digit(name: str) -> None:
    row = published.value(name)
    digits = len(repr(row.value).replace(".", "").lstrip("0"))
    found = published.convert(1, FROM_UNIT[name], row.unit)
    assert float(f"{found:.{digits}g}") == row.value, row.source


def test_every_conversion_row_is_checked() -> None:
    rows = {name for name in published.all_values() if name.startswith(("unit_", "pint_"))}
    assert set(FROM_UNIT) == rows


@pytest.mark.parametrize(
    ("value", "unit", "wanted", "answer"),
    [
        # Defined by international agreement (inch, pound, degree Fahrenheit); textbook values.
        (0, "degC", "degF", 32),
        (100, "degC", "degF", 212),
        (-40, "degC", "degF", -40),
        (10, "delta_degC", "delta_degF", 18),
        (25.4, "mm", "in", 1),
        (25.4, "um", "thou", 1),
        (1000, "um", "mm", 1),
        (1, "N*m", "N m", 1),
        (36, "km/h", "m/s", 10),
        (1, "MPa", "N/mm**2", 1),
        (1, "mL", "cm**3", 1),
        (50, "percent", "dimensionless", 0.5),
    ],
)
def test_known_conversions(value: float, unit: str, wanted: str, answer: float) -> None:
    assert published.convert(value, unit, wanted) == pytest.approx(answer, abs=1e-9)


@given(
    st.floats(-1e6, 1e6), st.sampled_from([("mm", "in"), ("degC", "degF"), ("N*m", "lbf*ft"), ("kPa", "psi")])
)
def test_there_and_back_is_where_we_were(value: float, units: tuple[str, str]) -> None:
    there = published.convert(value, *units)
    assert published.convert(there, *reversed(units)) == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(st.floats(0, 1e6), st.floats(0, 1e6))
def test_a_longer_length_stays_longer(one: float, other: float) -> None:
    assert (one <= other) == (published.convert(one, "mm", "in") <= published.convert(other, "mm", "in")) or (
        one == pytest.approx(other)
    )


@pytest.mark.parametrize("make", [int, Fraction, np.int64, np.float64, np.float32])
def test_any_kind_of_plain_number_is_taken(make: Any) -> None:
    found = published.convert(make(2), "in", "mm")
    assert type(found) is float
    assert found == pytest.approx(50.8)


@pytest.mark.parametrize(
    "bad",
    [
        math.nan,
        math.inf,
        True,
        "3",
        None,
        1j,
        [1.0],
        Decimal("NaN"),
        10**400,
        np.array([1.0]),
        np.bool_(True),
    ],
)
def test_what_is_no_number_is_refused(bad: Any) -> None:
    with pytest.raises(ValueError, match="must be a finite number, but it was"):
        published.convert(bad, "mm", "in")


@pytest.mark.parametrize(
    "bad", ["", "  ", "furlongish", "3", "1/", "mm mm(", "__import__('os')", None, 3, ["mm"]]
)
def test_what_is_no_unit_is_refused(bad: Any) -> None:
    with pytest.raises(ValueError, match="is no known unit; write it like"):
        published.convert(1.0, bad, "mm")
    with pytest.raises(ValueError, match="is no known unit; write it like"):
        published.convert(1.0, "mm", bad)


@pytest.mark.parametrize(
    ("unit", "wanted"), [("mm", "N"), ("degC", "mm"), ("lbf", "lb"), ("mm", "dimensionless")]
)
def test_units_of_different_kinds_are_refused(unit: str, wanted: str) -> None:
    with pytest.raises(ValueError, match="they measure different things"):
        published.convert(1.0, unit, wanted)


def test_the_unit_library_loads_at_the_first_conversion_and_once() -> None:
    code = (
        "import sys\n"
        "from brakecourse import published\n"
        "published.value('unit_inch_mm')\n"
        "before = 'pint' in sys.modules\n"
        "published.convert(1, 'in', 'mm'); published.convert(1, 'ft', 'm')\n"
        "print(before, 'pint' in sys.modules, published._registry.cache_info().misses)"
    )
    shown = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert shown.stdout.split() == ["False", "True", "1"]
