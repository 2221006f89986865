"""Lesson 09 as a learner meets it: make a pin drag, fill a bore, find the part, put the service in order."""

from __future__ import annotations

import json
import re
import time
from typing import Any

import pytest
from brakecourse.trade.slide_pins import wear_ratio
from brakecourse.views.bracket_drag import PinDrag
from brakecourse.views.bracket_grease import GreaseFill
from brakecourse.views.bracket_order import PIN, PIN_STEPS, ServiceOrder
from brakecourse.views.bracket_quizzes import BenchChoice, BoreSums, SplitSums, WhichPart
from brakecourse.views.quiz import Task
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "09_bracket_and_pins"
DRAG, SPLIT, FILL, BORE = "A pin that drags", "What do the pads get?", "Fill the bore", "Room, grease and gap"
PART, BENCH, ORDER = "Which part is at fault?", "What do you do at the bench?", "Service the bracket in order"
TITLES = (DRAG, SPLIT, FILL, BORE, PART, BENCH, ORDER)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def drawing(box: Locator) -> Locator:
    return box.locator(".widget-html svg[role=img]").first


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


def test_the_drag_is_set_with_the_keyboard_alone_and_the_ratio_judged(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(DRAG), lesson.page.keyboard
    still = drawing(box).inner_html()
    box.get_by_role("spinbutton", name="Drag of both pins together, in N, or type it").fill("1800")
    keys.press("Enter")
    expect(caption(box)).to_have_text(re.compile(r"dragging with 1800\sN.*outer pad is pressed less"))
    box.get_by_role("slider", name="Distance gone like that, in km").focus()
    for _ in range(12):
        keys.press("ArrowRight")
    expect(caption(box)).to_have_text(re.compile(r"After 12000\skm.*8\.3 mm.*inside"))
    expect(drawing(box)).not_to_have_js_property("innerHTML", still)
    ratio = wear_ratio(PinDrag().clamp_n, 1800)
    answer(box, "How many times as fast?", f"{1 / ratio:.2f}")
    expect(reply(box)).to_have_text(re.compile("^Not yet. You divided the wrong way round"))
    pictures.take(box, "drag_wrong")
    answer(box, "How many times as fast?", f"{ratio:.2f}")
    expect(reply(box)).to_have_text(re.compile(r"^Right: 1\.89"))


def test_a_bore_is_filled_until_the_pin_stops_short(lesson: Any, pictures: Any) -> None:
    box, sums = lesson.activity(FILL), GreaseFill()
    more = box.get_by_role("button", name="A little more")
    more.focus()
    lesson.page.keyboard.press("Enter")
    expect(caption(box)).to_have_text(re.compile(r"0\.05\smL.*some air is left"))
    box.get_by_role("spinbutton", name="Grease in the bore, in mL, or type it").fill("1.3")
    lesson.page.keyboard.press("Enter")
    expect(caption(box)).to_have_text(re.compile("No air is left, and the pin stops short"))
    answer(box, "Most grease for this bore, in mL", "0.97")
    expect(reply(box)).to_have_text(re.compile("^Not yet. That packs the bore full"))
    pictures.take(box, "fill_wrong")
    answer(box, "Most grease for this bore, in mL", "0.49")
    expect(reply(box)).to_have_text(re.compile(r"^Right: 0\.49\smL.*4\.1 mm \(0\.16 in\) short"))
    assert sums.pin.bore_mm == 10.3


def test_each_choice_gets_its_reason(lesson: Any, pictures: Any) -> None:
    for title, twin in ((PART, WhichPart("which-part")), (BENCH, BenchChoice("bench-choice"))):
        box, task = lesson.activity(title), twin.asked
        assert isinstance(task, Task)
        for option in task.choices:
            box.get_by_role("radio", name=option).check()
            box.get_by_role("button", name="Check", exact=True).click()
            expect(reply(box)).to_contain_text(task.reasons[option].split(".")[0])
        pictures.take(box, twin.uid)


def test_a_number_that_is_none_gets_one_sentence(lesson: Any) -> None:
    for title, twin in ((SPLIT, SplitSums("split-sums")), (BORE, BoreSums("bore-sums"))):
        box = lesson.activity(title)
        answer(box, f"{twin.asked.label}, in {twin.asked.unit}", "wide")
        expect(reply(box)).to_have_text(re.compile("was expected"))


def test_one_slide_pin_is_serviced_from_the_keyboard(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(ORDER), lesson.page.keyboard
    twin = ServiceOrder("service-order")
    box.get_by_role("combobox", name="Which part?").select_option(label=PIN)
    steps = box.get_by_role("listbox", name="What comes next?")
    steps.get_by_role("option", name=PIN_STEPS["film"]).wait_for(state="attached")
    steps.select_option(label=PIN_STEPS["film"])
    box.get_by_role("button", name="Do this next").focus()
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Not yet. .*comes too early"))
    pictures.take(box, "order_wrong")
    for nth, step in enumerate(PIN_STEPS.values(), 1):
        steps.select_option(label=step)
        box.get_by_role("button", name="Do this next").click()
        # The caption counts: "Right" alone may still be that of the step before.
        expect(caption(box)).to_have_text(re.compile(f"{nth} (of 9 steps|steps lie in a row)"))
        expect(reply(box)).to_have_text(re.compile("^Right"))
    expect(reply(box)).to_have_text(re.compile("air is left in its bore"))
    pictures.take(box, "order_right")
    assert twin.topics[1] == PIN


def test_harder_cases_come_and_can_be_looked_at(lesson: Any, pictures: Any) -> None:
    for title in (SPLIT, BORE, PART, BENCH):
        box = lesson.activity(title)
        before = caption(box).inner_text()
        box.get_by_role("radio", name="harder").check()
        box.page.wait_for_function(
            "([box, old]) => box.querySelector('p.bc-caption').innerText !== old",
            arg=[box.element_handle(), before],
        )
        pictures.take(box, f"harder_{TITLES.index(title)}")


def test_what_was_tried_is_kept_beside_the_lesson(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {
        row["activity"]: (row["tries"], row["right"])
        for row in stored["activities"]
        if row["lesson"] == LESSON
    }
    assert tries["pin-drag"] == tries["grease-fill"] == (2, 1)
    assert tries["which-part"][0] == tries["bench-choice"][0] == 1  # the first answer counts
    assert tries["service-order"] == (1, 0)


def test_a_control_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(FILL)
    box.get_by_role("slider", name="Grease in the bore, in mL").focus()
    lesson.page.keyboard.press("Home")
    expect(caption(box)).to_have_text(re.compile("the bore is dry"))
    shown = "([box, words]) => box.querySelector('.bc-caption').textContent.includes(words)"
    took = []
    for step in range(1, 11):
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), f"{0.05 * step:.2f}\xa0mL"])
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
    parts = [PinDrag(), GreaseFill(), WhichPart("which-part"), ServiceOrder("service-order")]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


@pytest.mark.parametrize("title", [DRAG, FILL, PART, ORDER])
def test_a_narrow_page_shows_all_of_an_activity(lesson: Any, pictures: Any, title: str) -> None:
    wide = lesson.page.viewport_size
    lesson.page.set_viewport_size({"width": 420, "height": 1000})
    try:
        box = lesson.activity(title)
        pictures.take(box, f"narrow_{TITLES.index(title)}")
        picture = box.locator("svg[role=img]").first
        assert picture.evaluate("svg => svg.getBoundingClientRect().width") <= 420
    finally:
        lesson.page.set_viewport_size(wide)
