"""Lesson 02 as a learner meets it: read a reservoir, let pads wear, compare, decide."""

from __future__ import annotations

import json
import re
import statistics
import time
from typing import Any

from brakecourse.bench.level_cases import VERDICTS
from brakecourse.bench.level_sums import first_telling_mm, piston_travel_mm, rotor_wear_mm
from brakecourse.views.level_against_wear import LevelAgainstWear
from brakecourse.views.level_capacity import ReservoirCapacity
from brakecourse.views.level_follow import PistonFollows
from brakecourse.views.level_judge import JudgeLevel
from brakecourse.views.level_reading import ReadReservoir
from brakecourse.views.level_reasons import TOP_UP
from brakecourse.views.level_volumes import WearVolumes
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "02_master_cylinder"
TALL, NARROW = {"width": 1200, "height": 1700}, {"width": 420, "height": 1700}
KINDS = (ReadReservoir, PistonFollows, WearVolumes, LevelAgainstWear, JudgeLevel, ReservoirCapacity)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def answer(box: Locator, name: str, typed: object) -> None:
    field = box.get_by_role("textbox", name=name)
    field.fill(str(typed))
    field.press("Enter")


def test_all_activities_are_live_after_run_all(lesson: Any, pictures: Any, record_property: Any) -> None:
    lesson.page.set_viewport_size(TALL)  # a picture shows a whole activity
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    assert lesson.run_all_s < 20  # about 3 s on a quiet machine; this leaves room for a busy one
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(KINDS))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, kind in enumerate(KINDS):
        box = lesson.activity(kind.title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, str(nth))


def test_the_level_is_read_and_a_slip_is_named(lesson: Any, pictures: Any) -> None:
    box, case = lesson.activity(ReadReservoir.title), ReadReservoir().asked.case
    low = case.vehicle.hydraulics.reservoir_min_mm
    answer(box, "Level, in mm", f"{case.reading_mm - low:g}")
    expect(reply(box)).to_have_text(re.compile("^Not yet. You counted from the MIN line"))
    pictures.take(box, "reading_wrong")
    answer(box, "Level, in mm", f"{case.reading_mm:g}")
    expect(reply(box)).to_have_text(re.compile(f"^Right: {case.reading_mm:.0f}"))


def test_the_piston_follows_with_the_keyboard_alone(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(PistonFollows.title), lesson.page.keyboard
    before = box.locator("svg[role=img]").first.inner_html()
    box.get_by_role("slider", name="Wear of each pad, in mm").focus()
    for _ in range(5):
        keys.press("ArrowRight")
    expect(caption(box)).to_have_text(re.compile("each pad has worn by 4.5.mm"))
    expect(box.locator("svg[role=img]").first).not_to_have_js_property("innerHTML", before)
    travel = piston_travel_mm(PistonFollows().brake, 4.5, rotor_wear_mm(4.5))
    keys.press("Tab")
    keys.press("Tab")
    keys.type("4.5")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("one pad only"))
    keys.press("Control+A")
    keys.type(f"{travel:.1f}")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "piston_right")


def test_a_fixed_caliper_is_chosen_and_drawn(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(PistonFollows.title)
    box.get_by_role("combobox", name="Caliper").select_option(index=2)
    expect(box.locator("svg[role=img] desc").first).to_have_text(re.compile("^A fixed caliper"))
    pictures.take(box, "fixed")


def test_the_level_that_proves_a_leak_is_found(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity(LevelAgainstWear.title), LevelAgainstWear()
    telling = first_telling_mm(twin.vehicle, twin.wear, 0.65)
    answer(box, "Highest such level, in mm", "9")
    expect(reply(box)).to_have_text(re.compile("MIN mark"))
    level = box.get_by_role("spinbutton", name="Level above the floor, in mm, or type it")
    level.fill(f"{telling:.0f}")
    level.press("Enter")
    expect(caption(box)).to_have_text(re.compile("Suspect a leak"))
    answer(box, "Highest such level, in mm", f"{telling:.0f}")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "band_leak")


def test_the_quiz_gives_a_reason_from_the_numbers_for_each_choice(lesson: Any, pictures: Any) -> None:
    box, case = lesson.activity(JudgeLevel.title), JudgeLevel().asked.case
    for verdict in VERDICTS:
        box.get_by_role("radio", name=verdict).check()
        box.get_by_role("button", name="Check", exact=True).click()
        begins = "Right" if verdict == case.finding.verdict else "Not yet"
        expect(reply(box)).to_have_text(re.compile(rf"^{begins}\. Missing: .* and the guard band is "))
    pictures.take(box, "judged")
    box.get_by_role("combobox", name="Topic").select_option("what to do next")
    box.get_by_role("radio", name=TOP_UP).check()
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile(r"^Not yet\. .*come back: the level would rise to "))
    pictures.take(box, "topped_up")


def test_volumes_are_typed_and_the_capacity_is_shown(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity(WearVolumes.title), WearVolumes()
    bore = twin.asked.case.brake.caliper.piston_bore_mm
    answer(box, "Area, in mm²", f"{3.14159 * bore * bore:.0f}")
    expect(reply(box)).to_have_text(re.compile("took the bore as the radius"))
    pictures.take(box, "radius")
    last = lesson.activity(ReservoirCapacity.title)
    last.get_by_role("button", name="Show the answer").click()
    expect(reply(last)).to_have_text(re.compile("^The answer: "))
    pictures.take(last, "capacity")


def test_what_was_tried_is_kept_beside_the_lesson(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    mine = [row for row in stored["activities"] if row["lesson"] == LESSON]
    tries = {row["activity"]: (row["tries"], row["right"]) for row in mine}
    judged = int(JudgeLevel().asked.right == VERDICTS[0])
    assert tries == {
        "read-reservoir": (1, 0),
        "piston-follows": (2, 1),
        "level-against-wear": (2, 1),
        "judge-level": (2, judged),
        "wear-volumes": (1, 0),
        "reservoir-capacity": (1, 0),
    }


def test_a_control_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(LevelAgainstWear.title)
    slider = box.get_by_role("slider", name="Level above the floor, in mm")
    slider.focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("− 0 = "))
    shown = "([box, words]) => box.querySelector('.bc-caption').textContent.includes(words)"
    took = []
    for level in range(1, 11):
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), f"− {level} = "])
        took.append(time.monotonic() - begun)
    median = statistics.median(took)
    record_property("key_to_words_ms", round(1000 * median))
    print(f"Key press to changed words: median {1000 * median:.0f} ms, largest {1000 * max(took):.0f} ms")
    assert median < 0.4  # about 0.05 s on a quiet machine


def test_the_accessibility_checker_finds_nothing_in_the_activities(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_it_is_readable_on_a_narrow_screen(lesson: Any, pictures: Any) -> None:
    lesson.page.set_viewport_size(NARROW)
    try:
        for nth, kind in enumerate(KINDS):
            box = lesson.activity(kind.title)
            wide = box.evaluate("box => box.scrollWidth - box.clientWidth")
            assert wide <= 4, f"{kind.title}: {wide} px too wide"
            pictures.take(box, f"narrow_{nth}")
    finally:
        lesson.page.set_viewport_size(TALL)


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [kind() for kind in KINDS]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure
