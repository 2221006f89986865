"""The job sheet: what is typed is read, held against the sheet's own limits, and nothing is guessed."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from brakecourse.trade.fasteners import tightening_order
from brakecourse.trade.pads import PadLimits, PadReading, classify_wear
from brakecourse.trade.rotor import Instruments, RotorSpec, verdict
from brakecourse.views.job_sheet import JobSheet
from brakecourse.views.job_sheet_check import check_sheet, gauge_u_mm
from brakecourse.views.job_sheet_example import EXAMPLE
from brakecourse.views.job_sheet_fields import FIELD, FIELDS, METRIC, US, typed
from brakecourse.views.progress import Progress


@pytest.fixture
def sheet(tmp_path: Path) -> JobSheet:
    return JobSheet(folder=tmp_path, progress=Progress(tmp_path / "progress.json"))


def said(texts: dict[str, str], units: object = METRIC) -> dict[str, str]:
    return {one.place: one.short for one in check_sheet(texts, units).findings}  # type: ignore[arg-type]


def numbers(id: str) -> list[float]:
    return [float(one) for one in EXAMPLE[id].split()]


def test_a_gauges_uncertainty_is_counted_by_hand() -> None:
    """Rectangular distribution, half width over the root of three: JCGM 100:2008, 4.3.7."""
    one, two = gauge_u_mm(0.01, 0.015)
    assert one == pytest.approx(math.sqrt(0.005**2 / 3 + 0.015**2 / 3))
    assert two == pytest.approx(math.sqrt(2 * 0.005**2 / 3 + 0.015**2 / 3))


def test_the_example_is_complete_and_judged_by_the_trades_functions() -> None:
    found = check_sheet(EXAMPLE, METRIC)
    assert not found.problems and not found.missing
    limits = [float(EXAMPLE[id]) for id in ("rotor_new", "machine_to", "discard", "variation", "run_out")]
    u, du = gauge_u_mm(0.01, float(EXAMPLE["micrometer_error"]))
    _, dial_u = gauge_u_mm(0.01, float(EXAMPLE["dial_error"]))
    for side in ("left", "right"):
        rotor = verdict(
            numbers(f"{side}_thickness"),
            numbers(f"{side}_dial"),
            RotorSpec(*limits),
            Instruments(u, du, dial_u),
        )
        assert said(EXAMPLE)[f"{side.capitalize()} rotor"].startswith(f"{rotor.action} the rotor")
    one, two = gauge_u_mm(float(EXAMPLE["depth_line"]), float(EXAMPLE["depth_error"]))
    least, taper, pair = (float(EXAMPLE[id]) for id in ("lining", "taper", "pair"))
    pads = [PadReading(*numbers(id)) for id in ("right_inner", "right_outer")]
    wear = classify_wear(*pads, PadLimits(least, taper, pair, 100.0, one, two))
    assert wear.action == "find the cause"
    assert said(EXAMPLE)["Right pads"].startswith("uneven wear: find the part behind it")
    assert said(EXAMPLE)["Order of the nuts"] == ", ".join(map(str, tightening_order(int(EXAMPLE["nuts"]))))


def test_the_course_carries_no_limit_of_its_own() -> None:
    """Without the typed limits nothing is judged, whatever the readings are."""
    limits = {field.id for field in FIELDS if field.section.startswith("Limits")}
    found = check_sheet({id: text for id, text in EXAMPLE.items() if id not in limits}, METRIC)
    assert [one.place for one in found.findings] == ["Order of the nuts"]
    assert {FIELD[id].label for id in limits if FIELD[id].needed} <= set(found.missing)
    for id in ("discard", "lining", "variation"):
        assert FIELD[id].label in check_sheet(EXAMPLE | {id: ""}, METRIC).missing


def test_inches_and_pound_feet_give_the_same_verdicts() -> None:
    lengths = {"length", "lengths"}
    us = {
        field.id: (
            " ".join(f"{float(one) / 25.4:.6f}" for one in EXAMPLE[field.id].split())
            if field.kind in lengths
            else EXAMPLE[field.id]
        )
        for field in FIELDS
        if field.id in EXAMPLE
    }
    us |= {"nut_torque": f"{160 / 1.3558179:.3f}", "wrench": f"{160 / 1.3558179:.3f}"}
    assert {p: s.split(" (")[0] for p, s in said(us, US).items()} == {
        p: s.split(" (")[0] for p, s in said(EXAMPLE).items()
    }


@pytest.mark.parametrize(
    ("id", "text", "units", "expected"),
    [
        ("left_dial", "0 0.02 -0,01", METRIC, (0.0, 0.02, -0.01)),
        ("left_dial", "0; 0.02; −0.01 mm", METRIC, (0.0, 0.02, -0.01)),
        ("left_dial", "0.00, 0.02, 0.05", METRIC, (0.0, 0.02, 0.05)),
        ("discard", "1 in", METRIC, 25.4),
        ("discard", "25.4 mm", US, 25.4),
        ("nut_torque", "100", US, 135.58),
        ("boiling_limit", "284", US, 140.0),
        ("boiling_error", "9", US, 5.0),
        ("boiling_error", "5 °C", US, 5.0),
        ("nuts", "5", METRIC, 5.0),
        ("vehicle", "  van ", METRIC, "van"),
        ("person", "  ", METRIC, None),
    ],
)
def test_what_people_write_is_read(id: str, text: str, units: object, expected: object) -> None:
    read = typed(FIELD[id], text, units)  # type: ignore[arg-type]
    assert read == (expected if isinstance(expected, str | None) else pytest.approx(expected, abs=0.01))


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"discard": "thin"}, "Discard thickness of the rotor: A number of millimetres was expected"),
        ({"discard": "nan"}, "but the box holds “nan”"),
        ({"discard": "29"}, "rotor thicknesses must fall from new over machine-to to discard"),
        ({"left_thickness": "2.758 27.58 27.57"}, "look at the decimal point and the unit"),
        ({"left_thickness": "27.58 27.57"}, "needs 3 to 24 readings, but it holds 2"),
        ({"right_inner": "8.7 8.7 8.7"}, "needs 4 readings, but it holds 3"),
        ({"left_dial": "0 5 1"}, "is no run-out"),
        ({"nuts": "4.5"}, "a whole number was expected"),
        ({"nuts": "40"}, "studs"),
        ({"lining": "-3"}, "must be"),
        ({"nut_torque": "0"}, "must be"),
    ],
)
def test_a_slip_of_the_pen_is_told_in_a_sentence(change: dict[str, str], sentence: str) -> None:
    found = check_sheet(EXAMPLE | change, METRIC)
    assert any(sentence in one for one in found.problems), found.problems


def test_no_thickness_after_machining_means_no_machining() -> None:
    spoilt = EXAMPLE | {"left_thickness": "27.70 27.58 27.55 27.60 27.66 27.70 27.72 27.71"}
    assert said(spoilt)["Left rotor"].startswith("machine the rotor")
    without = check_sheet(spoilt | {"machine_to": ""}, METRIC)
    (left,) = (one for one in without.findings if one.place == "Left rotor")
    assert left.short.startswith("replace the rotor") and "nothing may be cut" in left.words


def test_fluid_near_its_limit_is_not_called_good() -> None:
    fluid = {"boiling": "150", "boiling_limit": "140"}
    assert said(EXAMPLE | fluid | {"boiling_error": "3"})["Brake fluid"].startswith("the fluid may stay")
    near = check_sheet(EXAMPLE | fluid | {"boiling_error": "15"}, METRIC)
    assert "too close to the limit to call" in near.findings[-1].words
    assert near.findings[-1].short.startswith("renew the fluid")


def test_a_torque_outside_the_wrenchs_tolerance_is_set_anew() -> None:
    """Four percent above 10 N·m: ISO 6789-1:2017, as a calibration service states it (read)."""
    assert said(EXAMPLE | {"wrench": "166"})["Wheel nuts"].startswith("it fits")
    assert said(EXAMPLE | {"wrench": "167"})["Wheel nuts"].startswith("set it anew")


def test_the_activity_checks_tells_saves_and_counts(sheet: JobSheet, tmp_path: Path) -> None:
    sheet.check()
    assert sheet.reply().startswith("Still empty: “Rotor thickness when new” and 18 more.")
    sheet.fill_example()
    assert "invented" in sheet.words() and not sheet.facts()
    for _ in range(2):
        sheet.check()
    assert sheet.reply().startswith("The sheet is complete.") and len(sheet.facts()) == 7
    assert "Right pads: uneven wear" in sheet.picture()
    sheet.save()
    page = (tmp_path / "my_job_sheet.html").read_text("utf-8")
    assert "Right pads" in page and "default-src 'none'" in page
    sheet.boxes["left_inner"].value = "8 8"
    assert not sheet.facts()  # what was checked before no longer holds
    sheet.check()
    assert "needs 4 readings" in sheet.reply()
    (tally,) = sheet._record.tallies()
    assert (tally.tries, tally.right) == (2, 1)
    sheet.clear()
    assert "It is empty." in sheet.picture()


def test_labels_stand_once_and_every_box_is_on_the_sheet(sheet: JobSheet) -> None:
    labels = [field.label for field in FIELDS]
    assert len(set(labels)) == len(labels)
    for field in FIELDS:
        sheet.boxes[field.id].value = {"words": f"x{field.id[:5]}"}.get(field.kind, "7.77")
    for field in FIELDS:
        assert (f"x{field.id[:5]}" if field.kind == "words" else "7.77") in sheet.picture()
    assert sheet.picture().count(">7.77<") == sum(field.kind != "words" for field in FIELDS)


def test_the_empty_sheet_has_a_box_for_each_reading(sheet: JobSheet) -> None:
    assert sheet.picture().count('data-part="place"') == 2 * (8 + 8 + 4 + 4)
    assert "Signed" in sheet.picture() and "local law come first" in sheet.picture()
