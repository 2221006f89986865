"""The worked example and the published checks: what they show is what the bench and the tables say."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from brakecourse.bench.cases import draw_case
from brakecourse.trade.conformity import decide, type_a
from brakecourse.views import worked
from brakecourse.views.published_check import agrees, stays_below
from brakecourse.views.shown import Shown, figure, table
from brakecourse.views.words import mm

VAN = draw_case(4, difficulty="easy")


@pytest.mark.parametrize(
    "shown",
    [
        worked.show_limits(VAN),
        worked.show_micrometer(VAN, 2, uid="w1"),
        worked.show_thickness(VAN, uid="w2"),
        worked.show_run_out(VAN, uid="w3"),
        worked.show_decision(VAN, "machining", uid="w4"),
        worked.show_verdicts([26.01, 26.0], 26.0, "minimum", 0.005),
        worked.show_finding(VAN),
    ],
    ids=lambda shown: shown.text[:20],
)
def test_each_step_can_be_read_without_a_kernel_and_without_the_picture(shown: Shown) -> None:
    bundle = shown._repr_mimebundle_()
    assert bundle["text/plain"] and bundle["text/html"].startswith(("<figure", "<p>"))
    assert ("image/svg+xml" in bundle) is bool(shown.svg)
    if shown.svg:
        ET.fromstring(shown.svg)


def test_the_steps_tell_the_rotors_own_numbers() -> None:
    finding = VAN.finding
    assert (
        f"Smallest {mm(finding.smallest_mm)}. Variation {mm(finding.variation_mm)}."
        in worked.show_thickness(VAN, uid="a").text
    )
    assert f"Total run-out {mm(finding.run_out_mm)}" in worked.show_run_out(VAN, uid="a").text
    assert f"Together {VAN.readings_mm[1]:.2f} mm" in worked.show_micrometer(VAN, 2, uid="a").text
    assert mm(VAN.spec.discard_mm) in worked.show_limits(VAN).text
    assert "Machine the rotor" in worked.show_finding(VAN).text


def test_a_check_that_was_not_made_is_refused_with_those_that_were() -> None:
    kept = next(case for case in map(draw_case, range(50)) if case.situation == "keep")
    with pytest.raises(ValueError, match=r"thickness, variation, run-out.*machining"):
        worked.show_decision(kept, "machining", uid="a")


def test_verdicts_of_several_readings() -> None:
    text = worked.show_verdicts([26.01, 26.00, 25.99], 26.00, "minimum", 0.0045).text
    assert [line.split(" | ")[1] for line in text.splitlines()[1:]] == [
        "within",
        "too close to call",
        "outside",
    ]


def test_a_table_is_safe_and_has_heads() -> None:
    html = table([["What", "Found"], ["<b>", "1 & 2"]])
    assert "<b>" not in html and "1 &amp; 2" in html
    assert html.count('scope="col"') == 2 and html.count('scope="row"') == 1
    assert table([]) == ""


def test_a_figure_keeps_words_out_of_its_markup() -> None:
    assert '"><b>' not in figure("<svg/>", '"><b>', "<i>")


# ------------------------------------------------------------------ published checks
# Source of the numbers: the tables of published values, each row with its own source.


def test_the_type_a_example_of_the_guide_agrees() -> None:
    mean, u = type_a([5.007, 4.994, 5.005, 4.990, 4.999])  # GUM (JCGM 100:2008), Table H.2
    for id, value in (("gum_h2_v", mean), ("gum_h2_v_u", u)):
        text = agrees(id, value).text
        assert "they agree" in text and "GUM" in text and "read in the source" in text


def test_a_number_that_does_not_agree_is_refused() -> None:
    with pytest.raises(ValueError, match="gum_h2_v_u"):
        agrees("gum_h2_v_u", 0.0033)
    assert agrees("gum_h2_v_u", 0.00324)


def test_a_bound_that_is_reached_is_refused() -> None:
    edge = decide(0.83 * 2, 0.0, "minimum", 1.0)
    assert (
        "it stays below"
        in stays_below("guard_iso14253_pfa_max", 100 * (1 - edge.probability_conforming)).text
    )
    for percent in (5.0, 6.0):
        with pytest.raises(ValueError, match="guard_iso14253_pfa_max"):
            stays_below("guard_iso14253_pfa_max", percent)


def test_a_value_from_memory_is_told_as_such() -> None:
    kept = decide(509.7, 490, "minimum", 8.6)  # JCGM 106:2012, 7.3, example 2 (from memory)
    assert (
        "from memory; not read in the source"
        in agrees("jcgm106_container_probability", kept.probability_conforming).text
    )
