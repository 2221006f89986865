"""Lesson 07 as a learner meets it: measure pads, name a pattern and its part, and promise a distance."""

from __future__ import annotations

import re
from typing import Any

from brakecourse.bench.pad_cases import CORNERS
from brakecourse.bench.pad_situations import CAUSES
from brakecourse.trade.pads import smallest_lining_mm
from brakecourse.views.pad_quiz import WearQuiz
from brakecourse.views.pad_reader import WearReader
from playwright.sync_api import Locator, expect

from tests.browser.checker import ACTIVITIES, look

LESSON = "07_pad_wear"
TALL, NARROW = {"width": 1200, "height": 1500}, {"width": 420, "height": 1500}


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def test_all_activities_are_live(lesson: Any, pictures: Any) -> None:
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    assert lesson.run_all_s < 20  # about 4 s on a quiet machine; this leaves room for a busy one
    boxes = lesson.page.locator(".bc-activity")
    expect(boxes).to_have_count(6)
    for nth, box in enumerate(boxes.all()):
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_a_pad_is_turned_and_measured_with_the_keyboard(lesson: Any, pictures: Any) -> None:
    box, twin, keys = lesson.activity("The wear reader"), WearReader(), lesson.page.keyboard
    still = box.locator("svg[role=img]").first.inner_html()
    box.get_by_role("combobox", name="See it").focus()
    keys.press("ArrowDown")
    expect(box.locator("svg[role=img] > text").first).to_have_text(re.compile("trailing end"))
    expect(box.locator("svg[role=img]").first).not_to_have_js_property("innerHTML", still)
    right = twin.case.inner.leading_outer_mm
    box.get_by_role("textbox", name="Reading at this corner, in mm").focus()
    keys.type(f"{right + twin.case.gauge.plate_mm:.1f}")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("backing plate"))
    answer = box.get_by_role("textbox", name="Reading at this corner, in mm")
    for corner in twin.case.inner.corners_mm[:3]:
        answer.fill(f"{corner:.1f}")
        answer.press("Enter")
        expect(reply(box)).to_have_text(re.compile(rf"^Right: {corner:.1f}\smm"))
        expect(answer).to_have_value("")
    expect(box.locator(".bc-caption")).to_have_text(re.compile(f"inner pad, {CORNERS[3]}"))
    box.get_by_role("button", name="Note the rest for me").click()
    expect(box.get_by_text("not noted yet")).to_have_count(0)
    smallest = box.get_by_role("textbox", name="Smallest lining of both, in mm")
    smallest.fill(f"{min(smallest_lining_mm(twin.case.inner), smallest_lining_mm(twin.case.outer)):.1f}")
    smallest.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "pad_measured")


def test_the_pattern_then_the_part(lesson: Any, pictures: Any) -> None:
    box, twin = lesson.activity("Name the pattern, then the part"), WearQuiz(session=1)
    case = twin.asked.case
    box.get_by_role("button", name="Go on: which part?").click()
    expect(reply(box)).to_have_text("Name the pattern first.")
    wrong = next(one for one in twin.asked.choices if one != case.pattern)
    for chosen, words in ((wrong, "^Not yet"), (case.pattern, "^Right")):
        box.get_by_role("radio", name=chosen, exact=True).check()
        box.get_by_role("button", name="Check", exact=True).click()
        expect(reply(box)).to_have_text(re.compile(words))
    pictures.take(box, "pattern_named")
    box.get_by_role("button", name="Go on: which part?").click()
    expect(box.locator(".bc-facts")).to_contain_text("What was found")
    box.get_by_role("radio", name="the linings wore unevenly").check()
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile("symptom"))
    box.get_by_role("radio", name=case.cause, exact=True).check()
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile("^Right"))
    assert case.cause in CAUSES
    pictures.take(box, "part_named")


def test_a_worse_gauge_widens_the_promise(lesson: Any, pictures: Any) -> None:
    box = lesson.activity("The life calculator")
    before = box.locator(".bc-caption").first.inner_text()
    typed = box.get_by_role("spinbutton", name="Standard uncertainty, in mm, or type it")
    typed.fill("0.4")
    typed.press("Enter")
    expect(box.locator(".bc-caption").first).not_to_have_text(before)
    pictures.take(box, "life_with_a_poor_gauge")


def test_the_accessibility_checker_finds_nothing_in_the_activities(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_it_fits_a_narrow_page(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(("The wear reader", "What next?")):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
