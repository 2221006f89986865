"""The worked example of the lesson on brake fluid: one truck, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.trade.fluid import boiling_minima_c, boiling_point_c, wet_water_percent
from brakecourse.views.drawings import boiling_tester_svg, curve_plot_svg, moisture_tester_svg
from brakecourse.views.fluid_limit_tasks import limits_table
from brakecourse.views.fluid_renew_rule import evidence, verdict
from brakecourse.views.fluid_samples import Sample, curve, fact_vehicle, heat_tester, water_tester
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import number


def show_truck(sample: Sample) -> Shown:
    """Show what the workshop knows before the fluid is tested."""
    rows = [
        ("Fact", "Value"),
        fact_vehicle(sample.vehicle),
        ("What brings it in", sample.case.complaint),
        ("Mass with its usual load", both(sample.vehicle.mass_kg, "kg")),
        ("The maker's grade", f"{sample.grade}, glycol-based"),
        ("Hottest fluid on its long hill", both(sample.hottest_c, "°C")),
        ("The water tester may be off by", f"{number(water_tester().error_limit, 1)} % either way"),
        (
            "The boiling-point tester may be off by",
            f"{both(heat_tester().error_limit, '°C rise')} either way",
        ),
    ]
    return _listed("What we know before the fluid is tested", rows)


def show_water(sample: Sample, *, uid: str) -> Shown:
    """Show the water tester in the truck's fluid.

    Args:
        sample: whose fluid.
        uid: a word that no other drawing on the page has.
    """
    base, lines = water_tester().scale.below(sample.water_percent)
    words = (
        f"The needle stands {lines} lines past {base:.0f}, and a line is 0.1 %: "
        f"{number(sample.water_percent, 1)} %."
    )
    svg = moisture_tester_svg(sample.water_shown, uid=uid, title="Water tester")
    return _drawn("Water tester", words, svg)


def show_boiling(sample: Sample, *, uid: str) -> Shown:
    """Show the boiling-point tester in the truck's fluid."""
    words = f"The display is set to °C. The sample boils at {both(sample.boiling_c, '°C')}."
    svg = boiling_tester_svg(sample.boiling_c, uid=uid, title="Boiling-point tester")
    return _drawn("Boiling-point tester", words, svg)


def show_limits() -> Shown:
    """Show the limits of every grade."""
    return _listed("The limits of the grades", limits_table())


def show_curve(sample: Sample, *, uid: str) -> Shown:
    """Show the curve of the truck's grade between its two limits, and the straight line that it is not."""
    grade = sample.grade
    (dry, wet), at = boiling_minima_c(grade), wet_water_percent()
    svg = curve_plot_svg(
        [(f"{grade}, the curve", curve(grade, 4.0)), ("a straight line", [(0.0, dry), (at, wet)])],
        x_label="water in the fluid, %",
        y_label="boiling point, °C",
        uid=uid,
        title="Where it boils",
        marks=[(0.0, dry, "dry limit"), (at, wet, "wet limit")],
    )
    lost = round(dry - boiling_point_c(grade, 1.0))
    last = round(boiling_point_c(grade, 3.0) - boiling_point_c(grade, 4.0))
    words = (
        f"The first percent of water costs {both(lost, '°C rise')}, the fourth only {both(last, '°C rise')}."
    )
    return _drawn("Where it boils", words, svg)


def show_tests(sample: Sample) -> Shown:
    """Show what every test finds, and what to do."""
    told = verdict(sample)
    rows = [
        *evidence(sample),
        ("Boiling-point tester", both(sample.boiling_c, "°C")),
        ("What to do", f"{told.action[0].upper()}{told.action[1:]}. {told.why}"),
    ]
    return _listed("The tests, and the decision", rows)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
