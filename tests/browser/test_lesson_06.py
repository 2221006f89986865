"""Lesson 06 as a learner meets it: push a piston back, decide about bleeder, hose and hook, sort steps."""

from __future__ import annotations

import json
import re
import time
from typing import Any

from brakecourse.trade.job_order import a_good_order, sub_job
from brakecourse.views.bleeder_state import BleederState
from brakecourse.views.caliper_support import CaliperSupport
from brakecourse.views.hose_check import HoseCheck
from brakecourse.views.retract_bench import RetractionBench
from brakecourse.views.retract_cases import worked_case
from brakecourse.views.retract_order import PART
from brakecourse.views.retract_sums import RetractionSums
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "06_caliper_off"
WORDS = {step.id: step.words for step in sub_job(PART).operations}
BENCH, SUMS, BLEEDER, ORDER, HOSE, HOOK = TITLES = (
    "The retraction bench",
    "How far, and how much?",
    "Open or shut?",
    "From the first look to the pads in your hand",
    "May it stay?",
    "Does it hang well?",
)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def check(box: Locator) -> None:
    box.get_by_role("button", name="Check", exact=True).click()


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    lesson.page.set_viewport_size({"width": 1200, "height": 1500})
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_the_piston_is_pushed_back_with_the_keyboard(lesson: Any, pictures: Any) -> None:
    box, case, keys = lesson.activity(BENCH), worked_case(), lesson.page.keyboard
    typed = box.get_by_role("spinbutton", name="Pistons pushed back, in mm, or type it")
    box.get_by_role("button", name="Check this way of working").click()
    expect(reply(box)).to_have_text(re.compile("^Nothing has been pushed"))
    typed.focus()
    keys.press("Control+a")
    keys.type(f"{case.travel_mm:.1f}")
    keys.press("Enter")
    expect(caption(box)).to_have_text(re.compile(r"42\.8.mL .* through the ABS unit into the reservoir"))
    box.get_by_role("button", name="Check this way of working").click()
    expect(reply(box)).to_have_text(re.compile("bleeder is shut.*Open the bleeder before you push"))
    pictures.take(box, "bench_shut")
    box.get_by_role("radio", name="shut", exact=True).focus()
    keys.press("ArrowDown")
    expect(caption(box)).to_have_text(re.compile("through the bleeder into the bottle"))
    box.get_by_role("radio", name="after the press is off").check()
    expect(box.locator("svg[role=img] text", has_text="air")).to_have_count(1)
    box.get_by_role("button", name="Check this way of working").click()
    expect(reply(box)).to_have_text(re.compile("shut the bleeder too late"))
    pictures.take(box, "bench_late")
    box.get_by_role("radio", name="while the press still holds the pistons").check()
    box.get_by_role("button", name="Check this way of working").click()
    expect(reply(box)).to_have_text(re.compile("^Right"))
    pictures.take(box, "bench_right")


def test_a_move_of_the_slider_is_answered_at_once(lesson: Any, record_property: Any) -> None:
    box, took = lesson.activity(BENCH), []
    slider = box.locator("[role=slider]").first
    slider.focus()
    for _ in range(4):
        before, begun = caption(box).inner_text(), time.monotonic()
        lesson.page.keyboard.press("ArrowLeft")
        expect(caption(box)).not_to_have_text(before)
        took.append(time.monotonic() - begun)
    record_property("key_to_words_ms", round(1000 * min(took)))
    print(f"Key to changed words: {[round(1000 * one) for one in took]} ms")
    assert min(took) < 0.4


def test_the_way_back_is_typed_and_the_usual_slip_is_named(lesson: Any, pictures: Any) -> None:
    box, case = lesson.activity(SUMS), RetractionSums(session=1).asked.case
    answer = box.get_by_role("textbox", name="Way back of the pistons, in mm")
    for value, words in ((case.new_mm - case.inner_mm, "inner pad alone"), (case.travel_mm, "^Right")):
        answer.fill(f"{value:.1f}")
        answer.press("Enter")
        expect(reply(box)).to_have_text(re.compile(words))
    pictures.take(box, "sums_right")


def test_choices_get_their_reason(lesson: Any, pictures: Any) -> None:
    for title, twin in ((BLEEDER, BleederState), (HOSE, HoseCheck), (HOOK, CaliperSupport)):
        box, task = lesson.activity(title), twin(session=1).asked
        for words in (next(one for one in task.choices if one != task.right), task.right):
            box.get_by_role("radio", name=words, exact=True).check()
            check(box)
            said = " ".join(task.reasons[words].split())
            expect(reply(box)).to_contain_text(said)
        expect(reply(box)).to_have_text(re.compile("^Right"))
        pictures.take(box, f"choice_{title.split()[0].lower()}")


def test_the_steps_are_put_in_order_from_the_list(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(ORDER), lesson.page.keyboard
    cards = box.get_by_role("listbox", name="What comes next?")
    cards.select_option(label=WORDS["push_piston"])
    cards.focus()
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Not yet.*ABS unit.*can hurt someone"))
    for done, step in enumerate(a_good_order(PART), 1):
        cards.select_option(label=WORDS[step])
        expect(box.locator(f"[data-card={step}][data-chosen]")).to_have_count(1)
        cards.focus()
        keys.press("Tab")
        keys.press("Enter")
        expect(caption(box)).to_have_text(re.compile(f"{done} of 8|8 steps lie"))
    expect(reply(box)).to_have_text(re.compile("^Right: every step.*hangs on the hose"))
    pictures.take(box, "ordered")


def test_hose_boots_and_bore_are_looked_at(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(HOSE)
    for topic in ("the boots", "the bore and the wet places", "the hose"):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        expect(caption(box)).to_have_text(re.compile("What do you do"))
        pictures.take(box, f"look_{topic.split()[1]}")


def test_the_record_holds_each_first_answer(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["order-the-retraction"] == (1, 0)  # the first move was wrong
    assert tries["retraction-bench"] == (3, 1)
    assert tries["bleeder-state"] == (1, 0)


def test_the_accessibility_checker_finds_nothing(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [RetractionBench(), BleederState(), HoseCheck()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate((BENCH, SUMS, HOSE, HOOK)):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
