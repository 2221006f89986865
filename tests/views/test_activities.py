"""Each activity, driven as a learner drives it: press, type, and read the reply."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from brakecourse.trade.rotor import run_out_mm, smallest_mm, thickness_variation_mm
from brakecourse.views.decide import DecideRotor
from brakecourse.views.dial import RunOutPlot, TurnRotor
from brakecourse.views.limits import LimitCalculator
from brakecourse.views.micrometer import ReadMicrometer, SetMicrometer
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.progress_page import MyProgress
from brakecourse.views.rotor_replies import curve_shape
from brakecourse.views.thickness import CutToTrue, EightPlaces, WhereToMeasure


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def press(widget: Any, description: str, nth: int = 0) -> None:
    found = [
        one
        for one in inside(widget)
        if getattr(one, "description", "") == description and hasattr(one, "click")
    ]
    found[nth].click()


def inside(widget: Any) -> list[Any]:
    return [widget] + [one for child in getattr(widget, "children", ()) for one in inside(child)]


def type_in(box: Any, text: object) -> None:
    box.box.value = str(text)


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


def test_setting_a_micrometer(mine: Progress) -> None:
    activity = SetMicrometer(progress=mine)
    wanted = activity.wanted_mm
    before = activity.picture()
    press(activity, "Check")
    assert activity.reply().startswith("Not yet")
    turns, line = divmod(round(wanted * 100), 50)
    activity.turns.box.value, activity.line.slider.value = turns, line
    assert activity.picture() != before and activity._picture.value == activity.picture()
    press(activity, "Check")
    assert activity.reply().startswith("Right")
    assert tries(mine) == (2, 1)
    press(activity, "New size")
    assert activity.wanted_mm != wanted and activity.reply().startswith("Set ")


def test_reading_a_micrometer(mine: Progress) -> None:
    activity = ReadMicrometer(progress=mine)
    right = activity.gauge.reading(activity.indication_mm)
    press(activity, "Check")
    assert "still empty" in activity.reply()
    type_in(activity.answer, f"{right + 0.5:.2f}")
    assert "half a millimetre out" in activity.reply()
    type_in(activity.answer, f"{right:.2f} mm")
    assert activity.reply().startswith("Right")
    press(activity, "Check")  # the same answer again counts no more
    assert tries(mine) == (2, 1)
    before = activity.picture()
    press(activity, "New reading")
    assert (
        activity.picture() != before and activity.answer.box.value == "" and "Right" not in activity.reply()
    )
    press(activity, "Show how to read it")
    assert f"Together {activity.gauge.reading(activity.indication_mm):.2f} mm" in activity.reply()
    activity.lines.value = "past the half-millimetre line"
    assert activity.gauge.parts(activity.indication_mm)[1]


def test_the_words_and_drawing_of_a_reading_do_not_tell_it(mine: Progress) -> None:
    for number in range(20):
        activity = ReadMicrometer(progress=mine)
        activity.number = number
        reading = f"{activity.gauge.reading(activity.indication_mm):.2f}"
        root = ET.fromstring(activity.picture())
        told = [str(element.text) for element in root.iter() if element.tag.endswith(("title", "desc"))]
        assert len(told) == 2 and reading not in " ".join([activity.words(), activity.reply(), *told])


def test_where_the_anvils_go(mine: Progress) -> None:
    activity = WhereToMeasure(progress=mine)
    track, before = activity.words(), activity.picture()
    activity.anvils.index = 1
    assert activity.words() != track and activity.picture() != before
    hidden = activity.case.ridge_reading_mm - activity.case.readings_mm[0]
    type_in(activity.answer, f"{hidden:.2f}")
    assert activity.reply().startswith("Right")
    seed = activity.case.seed
    press(activity, "New rotor")
    assert activity.case.seed != seed and "Right" not in activity.reply()


def test_eight_places(mine: Progress) -> None:
    activity = EightPlaces(progress=mine)
    readings = activity.case.readings_mm
    type_in(activity.reading, f"{readings[0] + 1:.2f}")
    assert activity.place.value == 1 and activity.noted == {}
    for place, reading in enumerate(readings, start=1):
        assert activity.place.value == place
        type_in(activity.reading, f"{reading:.2f}")
        assert activity.noted[place] == reading
    assert activity.place.value == 8 and f"place 8 {readings[7]:.2f}" in activity.words()
    type_in(activity.smallest, f"{max(readings):.2f}")
    assert not activity.reply().startswith("Right")
    type_in(activity.smallest, f"{smallest_mm(readings):.2f}")
    assert activity.reply().startswith("Right")
    type_in(activity.variation, f"{thickness_variation_mm(readings):.2f}")
    assert activity.reply().startswith("Right")
    assert tries(mine) == (12, 10)
    press(activity, "New rotor")
    assert activity.noted == {} and activity.place.value == 1 and activity.smallest.box.value == ""


def test_a_reading_goes_to_the_place_where_it_was_typed(mine: Progress) -> None:
    activity = EightPlaces(progress=mine)
    activity.place.value = 5
    type_in(activity.reading, f"{activity.case.readings_mm[4]:.2f}")
    assert activity.noted == {5: activity.case.readings_mm[4]} and activity.place.value == 1


def test_turning_the_rotor(mine: Progress) -> None:
    activity = TurnRotor(progress=mine)
    case = activity.case
    assert "hangs loose" in activity.words() and "wheel nuts off" in activity.picture()
    before = activity.picture()
    activity.angle.box.value = 90
    assert activity.picture() != before
    activity.nuts.value = True
    assert "fitted and snug" in activity.words() and "all wheel nuts fitted" in activity.picture()
    type_in(activity.answer, f"{run_out_mm(case.dial_loose_readings_mm):.2f}")
    assert not activity.reply().startswith("Right")
    type_in(activity.answer, f"{run_out_mm(case.dial_readings_mm):.2f}")
    assert activity.reply().startswith("Right")
    places = []
    for _ in range(8):
        press(activity, "On to the next place")
        places.append(activity.angle.value)
    assert places == [135, 180, 225, 270, 315, 0, 45, 90]
    press(activity, "New rotor")
    assert (activity.nuts.value, activity.angle.value) == (False, 0) and activity.case.seed != case.seed


def test_the_run_out_plot(mine: Progress) -> None:
    activity = RunOutPlot(progress=mine)
    seated = activity.picture()
    press(activity, "Check")
    assert "Nothing is chosen yet" in activity.reply() and mine.tallies() == []
    activity.nuts.value = False
    assert activity.picture() != seated and "hanging loose" in activity.words()
    shape = curve_shape(activity.case.dial_readings_mm)
    for option in activity.chosen.options:
        activity.chosen.value = option
        press(activity, "Check")
        assert activity.reply().startswith("Right") is option.startswith(str(shape))
    assert tries(mine) == (2, 1)
    press(activity, "New rotor")
    assert activity.chosen.value is None and activity.nuts.value


def test_the_limit_calculator(mine: Progress) -> None:
    activity = LimitCalculator(progress=mine)
    assert "Within." in activity.words() and mine.tallies() == []
    activity.measured.box.value = 22.0
    assert "Too close to call." in activity.words() and activity.reply().endswith("Still to find: outside.")
    activity.measured.box.value = 21.9
    assert "Outside." in activity.words()
    activity.side.index = 1  # now a maximum
    assert "Within." in activity.words() and "all three" in activity.reply()
    activity.u.box.value = 0.05
    activity.measured.box.value = 21.95
    assert "Too close to call." in activity.words()
    assert tries(mine) == (3, 3)


def test_is_there_metal_enough(mine: Progress) -> None:
    activity = CutToTrue(progress=mine)
    finding, spec = activity.case.finding, activity.case.spec
    type_in(activity.allowance, f"{finding.smallest_mm - spec.discard_mm:.2f}")
    assert "machine-to" in activity.reply() and not activity.reply().startswith("Right")
    type_in(activity.allowance, f"{finding.allowance_mm:.2f}")
    assert activity.reply().startswith("Right")
    type_in(activity.left, f"{finding.smallest_mm - finding.variation_mm - finding.run_out_mm:.2f}")
    assert activity.reply().startswith("Right")
    press(activity, "New rotor")
    assert activity.left.box.value == activity.allowance.box.value == ""


def test_keep_machine_or_replace(mine: Progress) -> None:
    activity = DecideRotor(progress=mine)
    press(activity, "Check")
    assert "Nothing is chosen yet" in activity.reply() and mine.tallies() == []
    words = {"keep it as it is": "keep", "machine it true": "machine", "replace it": "replace"}
    for option in activity.chosen.options:
        activity.chosen.value = option
        press(activity, "Check")
        assert activity.reply().startswith("Right") is (words[option] == activity.case.finding.action)
    assert tries(mine) == (3, 1)
    thickness = activity.picture()
    activity.view.value = "dial readings"
    assert activity.picture() != thickness
    activity.difficulty.value = "hard"
    assert activity.case.difficulty == "hard" and activity.chosen.value is None
    press(activity, "New rotor")
    assert activity.case.difficulty == "hard"


def test_a_learner_who_practises_long_meets_every_action(mine: Progress) -> None:
    activity, met = DecideRotor(progress=mine), set()
    for _ in range(25):
        met.add(activity.case.finding.action)
        press(activity, "New rotor")
    assert met == {"keep", "machine", "replace"}


# ------------------------------------------------------------------ my progress

LESSON = "08_rotor_measurement"


def test_my_progress_shows_what_was_done_and_what_was_not(mine: Progress) -> None:
    page = MyProgress(progress=mine)
    assert "Nothing is recorded yet" in page.words()
    mine.record(LESSON, "turn-rotor", "Turn", right=True)
    mine.record(LESSON, "turn-rotor", "Turn", right=False)
    mine.record(LESSON, "tour-micrometer", "not in the plan", right=True)
    press(page, "Look again")
    assert page.words() == f"1 right answer in 1 of {len(plan())} activities."
    page.view.value = "08 Thickness and run-out"
    assert "1 right of 2" in page.picture() and page.picture().count("not tried yet</text>") == 9


def test_my_progress_is_erased_only_when_asked_twice(mine: Progress) -> None:
    mine.record(LESSON, "turn-rotor", "Turn", right=True)
    page = MyProgress(progress=mine)
    press(page, "Erase my progress")
    assert mine.tallies() and "cannot be undone" in page.reply()
    press(page, "Look again")
    press(page, "Erase my progress")
    assert mine.tallies()
    press(page, "Yes, erase it")
    assert mine.tallies() == [] and "erased" in page.reply()


def test_my_progress_saves_a_table(mine: Progress) -> None:
    mine.record(LESSON, "turn-rotor", "Turn", right=True)
    page = MyProgress(progress=mine)
    press(page, "Save a copy as a table")
    copy = mine.path.with_name("my_progress.csv")
    assert copy.read_text(encoding="utf-8") == mine.as_csv() and "my_progress.csv" in page.reply()


def test_my_progress_says_so_when_a_copy_cannot_be_written(tmp_path: Path) -> None:
    page = MyProgress(progress=Progress(tmp_path / "gone" / "progress.json"))
    press(page, "Save a copy as a table")
    assert "could not be written" in page.reply()


def test_my_progress_says_so_when_the_record_is_damaged(mine: Progress) -> None:
    mine.path.write_text("{", encoding="utf-8")
    assert "damaged" in MyProgress(progress=mine).reply()
