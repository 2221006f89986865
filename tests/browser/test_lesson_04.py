"""Lesson 04 as a learner meets it: push the pedal, read the gauge, work numbers out, stop in time."""

from __future__ import annotations

import json
import re
import time
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.views.force_axles import FrontAndRear
from brakecourse.views.force_bores import ChangedBore
from brakecourse.views.force_chain import follow, foot_for
from brakecourse.views.force_flow import FootToRoad
from brakecourse.views.force_gauge import ReadPressure
from brakecourse.views.force_numbers import ClampNumbers
from brakecourse.views.force_stop_replies import fastest_kmh
from brakecourse.views.force_stopping import StoppingDistance
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "04_pedal_to_pad"
FLOW, GAUGE, CLAMP = "From the foot to the road", "Read the pressure gauge", "pressure and clamp force"
AXLES, BORE, STOP = "Front and rear side by side", "What does a changed bore do?", "How far until it stands?"
TITLES = (FLOW, GAUGE, CLAMP, "torque and deceleration", AXLES, BORE, STOP, "all of it, mixed")


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def answer(box: Locator, name: str, typed: object) -> None:
    field = box.get_by_role("textbox", name=name)
    field.fill(str(typed))
    field.press("Enter")


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    assert lesson.run_all_s < 20  # about 3 s on a quiet machine; this leaves room for a busy one
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_the_pedal_is_pushed_with_the_keyboard_alone(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(FLOW), lesson.page.keyboard
    slider = box.get_by_role("slider", name="Foot on the pedal, in N")
    slider.focus()
    keys.press("ArrowRight")
    pushed = follow(motor_pool()["dog_wardens_estate"], 255)
    expect(caption(box)).to_have_text(re.compile(f"255.N.*{pushed.slowing_ms2:.2f}"))
    keys.press("End")
    expect(caption(box)).to_have_text(re.compile("booster is at its limit.*No dry road gives that much"))
    pictures.take(box, "too_hard")
    keys.press("Tab")
    foot = foot_for(motor_pool()["dog_wardens_estate"], FootToRoad().wanted_ms2, 400)
    assert foot
    foot = 5 * round(foot / 5)  # the slider's step
    keys.press("ControlOrMeta+a")
    keys.type(str(foot))
    keys.press("Enter")
    expect(caption(box)).to_have_text(re.compile(f"pushes with {foot}.N"))
    box.get_by_role("button", name="Check", exact=True).focus()
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Right: "))


def test_a_changed_bore_shows_before_and_after(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(FLOW)
    box.get_by_role("combobox", name="Bore to change").select_option(label="rear pistons")
    typed = box.get_by_role("spinbutton", name="Change of that bore, in mm, or type it")
    typed.fill("4")
    typed.press("Enter")
    expect(box.get_by_role("row", name=re.compile("Locks first front rear"))).to_be_visible()
    pictures.take(box, "bore_changed")
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile("back to 0"))
    typed.fill("0")
    typed.press("Enter")


def test_the_gauge_is_read_and_the_psi_ring_is_named(lesson: Any, pictures: Any) -> None:
    box, shown = lesson.activity(GAUGE), ReadPressure().asked.case
    answer(box, "Pressure, in MPa", round(shown.gauge.misreadings(shown.indication_mpa)["psi_for_mpa"]))
    expect(reply(box)).to_have_text(re.compile("^Not yet.*inner ring"))
    pictures.take(box, "gauge_wrong")
    answer(box, "Pressure, in MPa", f"{shown.gauge.reading(shown.indication_mpa):.1f}")
    expect(reply(box)).to_have_text(re.compile("^Right: "))


def test_a_radius_for_a_bore_is_named(lesson: Any) -> None:
    box, push = lesson.activity(CLAMP), ClampNumbers().asked.case
    answer(box, "Pressure, in MPa", f"{push.chain.line_mpa / 4:.3f}")
    expect(reply(box)).to_have_text(re.compile("bore for the radius"))
    answer(box, "Pressure, in MPa", f"{push.chain.line_mpa:.2f} MPa")
    expect(reply(box)).to_have_text(re.compile("^Right: "))


def test_the_table_fills_as_its_numbers_are_found(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity(AXLES), FrontAndRear()
    answer(box, "Front clamp force, in N", round(2 * twin.chain.front.clamp_n))
    expect(reply(box)).to_have_text(re.compile("twice the clamp force. In a floating caliper"))
    for what, axle in twin.boxes:
        unit = "N·m" if "torque" in what else "N"
        answer(box, f"{axle.capitalize()} {what}, in {unit}", round(twin.right(what, axle)))
        expect(reply(box)).to_have_text(re.compile("^Right: "))
    expect(caption(box)).to_have_text(re.compile("All six numbers are found"))
    pictures.take(box, "table_full")


def test_each_choice_about_a_bore_has_its_reason(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(BORE), ChangedBore().asked
    for option in task.choices:
        box.get_by_role("radio", name=option).check()
        box.get_by_role("button", name="Check", exact=True).click()
        expected = "Right" if option == task.right else "Not yet"
        expect(reply(box)).to_have_text(re.compile(f"^{expected}.*mm²"))
    pictures.take(box, "bore_quiz")


def test_the_highest_safe_speed_is_found(lesson: Any, pictures: Any) -> None:
    box, ahead = lesson.activity(STOP), StoppingDistance().danger
    boxes = box.get_by_role("spinbutton")
    most = fastest_kmh(ahead.gap_m, ahead.slowing_ms2, ahead.reaction_s)
    for nth, value in enumerate((most + 1, ahead.slowing_ms2, ahead.reaction_s)):
        boxes.nth(nth).fill(f"{value:g}")
        boxes.nth(nth).press("Enter")
    check = box.get_by_role("button", name="Check", exact=True)
    expect(caption(box)).to_have_text(re.compile(f"From {most + 1}.km/h"))
    check.click()
    expect(reply(box)).to_have_text(re.compile("^Not yet.*Go slower"))
    boxes.first.fill(f"{most}")
    boxes.first.press("Enter")
    expect(caption(box)).to_have_text(re.compile(f"From {most}.km/h"))
    check.click()
    expect(reply(box)).to_have_text(re.compile("^Right: "))
    pictures.take(box, "stopped")


def test_what_was_tried_is_kept_beside_the_lesson(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {
        row["activity"]: (row["tries"], row["right"])
        for row in stored["activities"]
        if row["lesson"] == LESSON
    }
    assert tries == {
        "foot-to-road": (1, 1),
        "read-pressure": (1, 0),
        "clamp-numbers": (1, 0),
        "front-and-rear": (7, 6),
        "changed-bore": (1, int(ChangedBore().asked.choices[0] == ChangedBore().asked.right)),
        "stopping-distance": (2, 1),
    }


def test_a_control_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(FLOW)
    box.get_by_role("slider", name="Foot on the pedal, in N").focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("pushes with 10.N"))
    shown = "([box, words]) => box.querySelector('.bc-caption').textContent.includes(words)"
    took = []
    for foot in range(15, 65, 5):
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), f"pushes with {foot}\u00a0N"])
        took.append(time.monotonic() - begun)
    median = sorted(took)[len(took) // 2]
    record_property("key_to_words_ms", round(1000 * median))
    print(f"Key press to changed words: median {1000 * median:.0f} ms, largest {1000 * max(took):.0f} ms")
    assert median < 0.4  # about 0.05 s on a quiet machine


def test_the_accessibility_checker_finds_nothing_in_the_activities(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [FootToRoad(), ChangedBore(), FrontAndRear()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


@pytest.mark.parametrize("title", [FLOW, AXLES, STOP])
def test_a_narrow_page_shows_all_of_an_activity(lesson: Any, pictures: Any, title: str) -> None:
    wide = lesson.page.viewport_size
    lesson.page.set_viewport_size({"width": 420, "height": 1000})
    try:
        box = lesson.activity(title)
        pictures.take(box, f"narrow_{TITLES.index(title)}")
        drawn = box.locator("svg[role=img]").first.bounding_box()
        assert drawn and drawn["x"] >= 0 and drawn["x"] + drawn["width"] <= 421
    finally:
        lesson.page.set_viewport_size(wide)
