"""Every gauge of the bench keeps the same promises; each gauge's own mistakes and refusals."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Iterator
from dataclasses import FrozenInstanceError, replace

import brakecourse.bench
import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauge_base import Gauge
from brakecourse.bench.misreading import READING_HABITS
from brakecourse.bench.scale import CLEAR_SHARE, Scale, handy_step, ring
from brakecourse.bench.shop_gauges import (
    GAUGES,
    DepthGauge,
    PressureGauge,
    PullGauge,
    Readable,
    ShopGauge,
    TorqueWrench,
    boiling_tester,
    depth_gauge,
    force_gauge,
    gauge,
    infrared_thermometer,
    level_rule,
    moisture_tester,
    pedal_rule,
    pressure_gauge,
    stopwatch,
    torque_wrench,
)
from hypothesis import given, settings
from hypothesis import strategies as st

OTHER_SIZES: list[Readable] = [
    *(pressure_gauge(size) for size in (1.6, 25)),
    *(torque_wrench(size) for size in (5, 10, 25, 50, 100, 400, 1000)),
    *(force_gauge(size) for size in (100, 2500)),
    level_rule(12.5, 33.3),
    pedal_rule(137.4),
    infrared_thermometer("bright"),
]
ALL: list[Readable] = [*(make() for make in GAUGES.values()), *OTHER_SIZES]
SHOP = [one for one in ALL if isinstance(one, ShopGauge)]
EVERY = pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
EVERY_SHOP = pytest.mark.parametrize("one", SHOP, ids=lambda one: one.name)


def places(one: Readable, count: int = 997) -> list[float]:
    """Indications all over the scale, each clear of the middle between two lines."""
    scale = one.scale
    spread = (scale.start + (scale.end - scale.start) * step / count for step in range(count + 1))
    return [value for value in spread if one.is_clear(value)]


def gauge_classes() -> Iterator[type]:
    for info in pkgutil.iter_modules(brakecourse.bench.__path__):
        module = importlib.import_module(f"brakecourse.bench.{info.name}")
        for member in vars(module).values():
            if not inspect.isclass(member) or member.__module__ != module.__name__:
                continue
            if issubclass(member, (Gauge, ShopGauge)) and not inspect.isabstract(member):
                yield member


# --- what every gauge promises --------------------------------------------------------------------


def test_every_gauge_class_is_on_the_list() -> None:
    classes = set(gauge_classes())
    assert len(classes) >= 11
    assert classes == {type(make()) for make in GAUGES.values()}


def test_names_do_not_repeat_and_a_gauge_is_found_by_its_name() -> None:
    names = [make().name for make in GAUGES.values()]
    assert len(set(names)) == len(names)
    assert all(gauge(key) == GAUGES[key]() for key in GAUGES)


@EVERY
def test_a_reading_is_the_nearest_line_of_the_scale(one: Readable) -> None:
    lines = set(one.scale.lines())
    for indication in places(one):
        read = one.reading(indication)
        assert read in lines
        assert abs(read - indication) <= one.scale.line * (0.5 - CLEAR_SHARE) + 1e-6
        assert one.reading(read) == read


@EVERY
def test_a_clear_indication_stands_clear_and_comes_again_with_the_same_chance(one: Readable) -> None:
    scale = one.scale
    middle = scale.start + (round((scale.end - scale.start) / scale.line / 2) + 0.5) * scale.line
    for seed, true in enumerate((scale.start, middle, middle, middle, scale.end)):
        shown = one.indicate_clear(true, Draw(seed))
        lines = shown / scale.line
        assert abs(lines - math.floor(lines) - 0.5) >= CLEAR_SHARE - 1e-6
        assert shown == one.indicate_clear(true, Draw(seed))
        assert scale.holds(shown) or isinstance(one, Gauge)


@EVERY
def test_every_misreading_is_a_number_at_least_a_line_off_and_has_a_known_id(one: Readable) -> None:
    seen: set[str] = set()
    for indication in places(one):
        correct = one.reading(indication)
        found = one.misreadings(indication)
        seen |= found.keys()
        for value in found.values():
            assert math.isfinite(value)
            assert abs(value - correct) >= one.scale.line - 1e-6
        assert one.likely_misreadings(indication).items() <= found.items()
        near = one.near_miss(indication)
        assert near is None or near in found.values()
    assert seen, "a gauge that nobody can misread teaches nothing"
    assert seen <= READING_HABITS


def test_no_habit_is_listed_that_no_gauge_knows() -> None:
    known = {mistake for one in ALL for place in places(one) for mistake in one.misreadings(place)}
    known |= gauge("dial_indicator").misreadings(-0.03).keys()
    assert known == READING_HABITS


@EVERY
def test_two_mistakes_seldom_end_on_the_same_reading(one: Readable) -> None:
    # A wrong answer must tell which mistake it was; where two scales happen to cross it cannot.
    all_places = places(one)
    twice = [
        spot for spot in all_places if len(set(one.misreadings(spot).values())) < len(one.misreadings(spot))
    ]
    assert len(twice) <= 0.05 * len(all_places)


@EVERY
def test_the_uncertainty_is_no_less_than_any_of_its_parts(one: Readable) -> None:
    for value in (one.scale.start, one.scale.end):
        assert one.standard_uncertainty_at(value) >= one.scale.line / 2 / math.sqrt(3)


@EVERY
@pytest.mark.parametrize("bad", [math.nan, math.inf, "8", True, None, [1.0]])
def test_every_gauge_refuses_what_is_no_number(one: Readable, bad: object) -> None:
    asks = (one.reading, one.is_clear, one.misreadings, one.near_miss, one.standard_uncertainty_at)
    for ask in (*asks, lambda value: one.indicate(value, Draw(0))):
        with pytest.raises(ValueError, match="must be"):
            ask(bad)  # type: ignore[arg-type]


@EVERY
def test_the_printed_scale_fits_its_numbers(one: Readable) -> None:
    scales = [one.scale, *([other] if (other := getattr(one, "other_scale", None)) else [])]
    for scale in scales:
        lines = scale.lines()
        assert lines[0] == pytest.approx(scale.start)
        assert lines[-1] == pytest.approx(scale.end)
        assert set(scale.numbers()) <= set(lines)
        assert len(scale.numbers()) >= 3


# --- what every shop gauge promises ---------------------------------------------------------------


@EVERY_SHOP
def test_every_limit_and_chance_says_where_it_comes_from(one: ShopGauge) -> None:
    for source in (one.error_source, one.repeatability_source):
        assert "no source" in source or "ISO" in source


@EVERY_SHOP
def test_a_gauge_errs_as_much_as_its_share_says_and_never_beyond_its_limit(one: ShopGauge) -> None:
    scale = one.scale
    good = replace(one, calibration_share=0.0)
    for share in (-1.0, 0.5, 1.0):
        off = replace(one, calibration_share=share)
        for step in range(1, 10):
            true = scale.start + (scale.end - scale.start) * step / 10
            errs = share * one.error_limit_at(good.shown(true))
            assert off.shown(true) == pytest.approx(scale.held(good.shown(true) + errs), abs=1e-9)


@EVERY_SHOP
def test_a_slip_stays_on_the_scale_and_is_that_many_lines_off(one: ShopGauge) -> None:
    for reading in (one.scale.lines()[0], one.scale.lines()[-1]):
        for lines in (1, -1):
            slipped = one.slipped(reading, lines)
            assert one.scale.holds(slipped)
            assert abs(slipped - reading) == pytest.approx(one.scale.line)
        for lines in (10, -10, 10**6, -(10**6)):
            slipped = one.slipped(reading, lines)
            assert one.scale.holds(slipped)
            assert slipped != reading


@EVERY_SHOP
def test_a_gauge_is_frozen_and_refuses_what_does_not_fit_it(one: ShopGauge) -> None:
    with pytest.raises(FrozenInstanceError):
        one.repeatability = 0.0  # type: ignore[misc]
    for field, bad in (
        ("error_limit", -0.1),
        ("error_limit", math.nan),
        ("error_share", 1.1),
        ("repeatability", "0.1"),
        ("repeatability", -1.0),
        ("calibration_share", 1.01),
        ("calibration_share", True),
        ("most_true", one.scale.end - 1),
    ):
        with pytest.raises(ValueError, match="must be"):
            replace(one, **{field: bad})  # type: ignore[arg-type]
    beyond = (one.most_true or one.scale.end) + one.scale.line
    for true in (one.scale.start - one.scale.line, beyond):
        with pytest.raises(ValueError, match=f"true value of the {one.name}"):
            one.indicate(true, Draw(0))


@EVERY_SHOP
def test_a_scale_that_errs_the_same_everywhere_cancels_in_a_difference(one: ShopGauge) -> None:
    low, high = one.scale.start, one.scale.end
    alone = math.sqrt(2) * math.hypot(one.repeatability, one.nearest_line_u)
    assert one.difference_uncertainty(high, high) == pytest.approx(alone)
    grown = one.error_share * abs(abs(high) - abs(low)) / math.sqrt(3)
    assert one.difference_uncertainty(low, high) == pytest.approx(math.hypot(alone, grown))


# --- each gauge's own mistakes ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("one", "indication", "reading", "misread"),
    [
        (depth_gauge(6.0), 6.32, 6.3, {"backing_plate_included": 12.3, "parallax": 6.5}),
        (depth_gauge(6.0), 6.83, 6.8, {"half_millimetre_line": 6.3, "backing_plate_included": 12.8}),
        (level_rule(15, 55), 40.2, 40.0, {"from_the_minimum": 25.0, "parallax": 43.0}),
        (pedal_rule(160), 60.3, 60.0, {"from_the_floor": 100.0, "parallax": 66.0}),
        (moisture_tester(), 3.12, 3.1, {"marks_counted": 31.0}),
        (boiling_tester(), 165.1, 165.0, {"fahrenheit_for_celsius": 329.0}),
        (pressure_gauge(), 7.02, 7.0, {"psi_for_mpa": 1000.0, "wrong_ring": 10.0, "line_step": 6.5}),
        (pressure_gauge(1.6), 0.12, 0.12, {"psi_for_mpa": 15.0, "wrong_ring": 1.5, "line_step": 0.06}),
        (torque_wrench(), 120.1, 120.0, {"lbfft_for_nm": 89.0, "lbfin_for_lbfft": 10.056}),
        (force_gauge(), 201.0, 200.0, {"lbf_for_newton": 46.0, "zero_not_set": 215.0}),
        (stopwatch(), 125.33, 125.3, {"minutes_as_hundreds": 205.3}),
        (infrared_thermometer(), 90.1, 90.0, {"fahrenheit_for_celsius": 194.0}),
    ],
    ids=lambda value: getattr(value, "name", None),
)
def test_a_mistake_makes_this_of_a_reading(
    one: ShopGauge, indication: float, reading: float, misread: dict[str, float]
) -> None:
    # Worked by hand from what the learner sees.
    assert one.reading(indication) == reading
    assert misread.items() <= one.misreadings(indication).items()


def test_no_mistake_where_nothing_misleads() -> None:
    assert "half_millimetre_line" not in depth_gauge().misreadings(6.32)
    assert moisture_tester().misreadings(0.02) == {}
    assert stopwatch().misreadings(59.9) == {}
    assert "line_step" not in pressure_gauge().misreadings(8.0)
    assert "line_step" not in torque_wrench(200).misreadings(87.0)
    assert torque_wrench(100).misreadings(51.5)["line_step"] == 50.3


def test_fluid_with_more_water_than_the_last_line_holds_the_needle_at_its_stop() -> None:
    assert moisture_tester().indicate(9.0, Draw(1)) == 4.0


def test_the_end_of_a_pedals_way_is_read_though_it_is_no_whole_millimetre() -> None:
    rule = pedal_rule(137.4)
    assert rule.reading(rule.indicate_clear(137.4, Draw(0))) <= 137.0
    assert rule.left_mm(137.4) == 0


def test_a_depth_gauge_draws_a_longer_line_at_each_half() -> None:
    gauge_ = depth_gauge()
    assert isinstance(gauge_, DepthGauge)
    assert gauge_.half_lines_mm[:2] == (0.5, 1.5)
    assert set(gauge_.half_lines_mm) <= set(gauge_.scale.lines())
    assert not set(gauge_.half_lines_mm) & set(gauge_.scale.numbers())


@pytest.mark.parametrize(
    ("shown", "display"), [(0, "0:00.0"), (59.96, "1:00.0"), (95.4, "1:35.4"), (600, "10:00.0")]
)
def test_the_stopwatch_shows_minutes_and_seconds(shown: float, display: str) -> None:
    assert stopwatch().display(shown) == display


# --- torque -------------------------------------------------------------------------------------------


@settings(max_examples=50)
@given(st.sampled_from((5.0, 10.0, 50.0, 200.0)), st.floats(0.2, 1), st.floats(-1, 1), st.integers(0, 10**6))
def test_no_click_leaves_the_wrenchs_tolerance(largest: float, part: float, share: float, seed: int) -> None:
    wrench = torque_wrench(largest, share)
    setting = min(max(part * largest, wrench.scale.start), largest)
    applied = wrench.applied_nm(setting, Draw(seed))
    assert abs(setting - applied) <= wrench.error_share * applied * (1 + 1e-9)
    shown = wrench.indicate(setting, Draw(seed))
    assert abs(shown - setting) <= wrench.error_share * setting * (1 + 1e-9)


@pytest.mark.parametrize("share", [-1.0, 1.0])
def test_even_the_worst_wrench_keeps_its_tolerance_at_every_click(share: float) -> None:
    wrench, draw = torque_wrench(200.0, share), Draw(5)
    least = wrench.scale.start
    shown = [wrench.indicate(60.0, draw) for _ in range(200)]
    assert max(abs(one - 60.0) for one in shown) == pytest.approx(0.04 * 60.0)
    applied = [wrench.applied_nm(least, draw) for _ in range(200)]
    assert max(abs(least - one) / one for one in applied) == pytest.approx(0.04)


def test_a_wrench_that_shows_too_much_applies_too_little() -> None:
    wrench = replace(torque_wrench(200, 1.0), repeatability=0.0)
    assert wrench.applied_nm(104.0, Draw(0)) == pytest.approx(100.0)
    assert wrench.shown(100.0) == pytest.approx(104.0)


def test_a_target_set_on_the_wrong_scale_is_far_off_or_cannot_be_set() -> None:
    wrench = torque_wrench(200)
    assert wrench.missettings_nm(10.0) == {"lbfin_for_lbfft": 120.0}
    assert wrench.missettings_nm(110.0) == {"lbfft_for_nm": pytest.approx(149.14, abs=0.01)}
    assert wrench.missettings_nm(160.0) == {}


# --- bright surfaces -------------------------------------------------------------------------------------


@settings(max_examples=50)
@given(st.floats(30, 500), st.floats(0.1, 0.94))
def test_a_bright_face_always_looks_too_cold_and_the_correction_undoes_it(
    true_c: float, sends: float
) -> None:
    aimed = replace(infrared_thermometer(), surface_emissivity=sends)
    seen = aimed.apparent_c(true_c)
    assert aimed.surroundings_c < seen < true_c
    assert aimed.corrected_c(seen) == pytest.approx(true_c)


def test_a_surface_as_cold_as_its_surroundings_shows_its_temperature_whatever_it_is() -> None:
    for surface in ("painted", "rusty", "bright"):
        assert infrared_thermometer(surface).apparent_c(20.0) == pytest.approx(20.0)  # type: ignore[arg-type]


# --- scales ------------------------------------------------------------------------------------------------


@given(st.floats(1e-3, 1e6))
def test_a_handy_step_is_one_two_or_five_and_wide_enough(least: float) -> None:
    step = handy_step(least)
    assert least * (1 - 1e-6) <= step < 2.5 * least * (1 + 1e-6) + 1e-9
    assert f"{step:e}"[0] in "125"


def test_a_second_ring_never_sweeps_further_than_the_first() -> None:
    first = Scale("N·m", 40, 200, 1, 10)
    second = ring(first, "half", lambda value: value / 1.9)
    assert second.start * 1.9 >= first.start
    assert second.end * 1.9 <= first.end


@pytest.mark.parametrize(
    "make",
    [
        lambda: Scale("mm", 1, 0, 0.1, 1),
        lambda: Scale("mm", 0, 0, 0.1, 1),
        lambda: Scale("mm", 0, 10, 0, 1),
        lambda: Scale("mm", 0, 10, 0.3, 3),
        lambda: Scale("mm", 0, 10, 1, 1.5),
        lambda: Scale("mm", 0.5, 10.5, 1, 2),
        lambda: Scale("mm", 0, math.nan, 1, 2),
        lambda: Scale("mm", 0, 10, 1, 2, look="needle"),  # type: ignore[arg-type]
        lambda: pressure_gauge(10),
        lambda: pressure_gauge(True),
        lambda: force_gauge(50),
        lambda: torque_wrench(4),
        lambda: torque_wrench(101),
        lambda: torque_wrench("200"),  # type: ignore[arg-type]
        lambda: torque_wrench().applied_nm(30, Draw(0)),
        lambda: torque_wrench().missettings_nm(math.nan),
        lambda: depth_gauge(-1),
        lambda: replace(depth_gauge(), eye_deg=90),
        lambda: replace(depth_gauge(), gap_mm=-1),
        lambda: replace(force_gauge(), hook_n=-1),
        lambda: level_rule(60, 20),
        lambda: level_rule(20, 20.5),
        lambda: level_rule().share_between_marks("30"),  # type: ignore[arg-type]
        lambda: pedal_rule(5),
        lambda: pedal_rule(150).left_mm(151),
        lambda: infrared_thermometer("shiny"),  # type: ignore[arg-type]
        lambda: replace(infrared_thermometer(), surface_emissivity=0.0),
        lambda: replace(infrared_thermometer(), surroundings_c=math.inf),
        lambda: infrared_thermometer("bright").corrected_c(-100.0),
        lambda: infrared_thermometer().apparent_c(-300.0),
        lambda: depth_gauge(calibration_share=2),
        lambda: gauge("micrometer"),
        lambda: gauge(None),  # type: ignore[arg-type]
    ],
)
def test_what_does_not_fit_is_refused_in_a_sentence(make: object) -> None:
    with pytest.raises(ValueError, match=r"must be .*\.$"):
        make()  # type: ignore[operator]


def test_rings_are_there_for_a_drawing() -> None:
    for one, unit in ((pressure_gauge(), "psi"), (torque_wrench(), "lbf·ft"), (force_gauge(), "lbf")):
        assert isinstance(one, PressureGauge | TorqueWrench | PullGauge)
        assert one.other_scale is not None
        assert one.other_scale.unit == unit
    assert pressure_gauge().psi.numbers()[2000.0] == 20.0
