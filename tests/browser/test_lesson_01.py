"""Lesson 01 as a learner meets it: boards, scene and quizzes, with the mouse and with the keyboard."""

from __future__ import annotations

import json
import re
import time
from typing import Any

from brakecourse.trade.job_order import a_good_order, sub_job
from brakecourse.views.before_what import BeforeWhat
from brakecourse.views.hazard_spotting import HazardSpotting
from brakecourse.views.order_boards import OrderTheJob, OrderTheLift
from brakecourse.views.stand_loads import stand_load_kg
from brakecourse.views.stand_rating import StandRating
from playwright.sync_api import Browser, Locator, expect

from tests.browser.checker import ACTIVITIES, look, look_at_contrast

LESSON = "01_job_order"
WORDS = {step.id: step.words for step in sub_job("lift the vehicle").operations}
TITLES = (
    "From the work order to the wheel off",
    "Are these stands strong enough?",
    "Look before you work",
    "What comes first?",
    "Put a part of the job in order",
    "The whole job in order",
)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_the_lift_is_put_in_order_with_the_keyboard_alone(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(TITLES[0]), lesson.page.keyboard
    cards = box.get_by_role("listbox", name="What comes next?")
    cards.focus()
    cards.select_option(label=WORDS["lift_vehicle"])
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Not yet.*maker's data.*can hurt someone"))
    pictures.take(box, "too_early")
    for done, step in enumerate(a_good_order("lift the vehicle"), 1):
        cards.focus()
        shown = [words.replace("\xa0", " ") for words in cards.locator("option").all_text_contents()]
        keys.press("Home")
        for _ in range(shown.index(WORDS[step])):
            keys.press("ArrowDown")
        expect(box.locator(f"[data-card={step}][data-chosen]")).to_have_count(1)
        keys.press("Tab")
        keys.press("Enter")
        expect(caption(box)).to_have_text(re.compile(f"{done} of 8|8 steps lie"))
    expect(reply(box)).to_have_text(re.compile("^Right: every step"))
    pictures.take(box, "lift_done")


def test_cards_are_sorted_by_dragging_and_by_buttons(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(TITLES[4])
    box.get_by_role("combobox", name="Which part?").select_option(label="torque the wheel")
    box.get_by_role("radio", name="sort all cards, then check").check()
    cards = box.get_by_role("listbox", name="Which card?")
    expect(cards.locator("option")).to_have_count(7)
    first = box.locator("[data-card]").first.get_attribute("data-card") or ""
    start, end = (box.locator("[data-card]").nth(n) for n in (0, 3))
    box.locator("svg[role=img]").scroll_into_view_if_needed()
    here, there = start.bounding_box(), end.bounding_box()
    assert here and there
    lesson.page.mouse.move(here["x"] + 90, here["y"] + 12)
    lesson.page.mouse.down()
    lesson.page.mouse.move(there["x"] + 90, there["y"] + 12, steps=6)
    lesson.page.mouse.up()
    expect(reply(box)).to_have_text("It is step 4 of 7 now.")
    expect(box.locator("[data-card]").nth(3)).to_have_attribute("data-card", first)
    box.get_by_role("button", name="Move up").click()
    expect(reply(box)).to_have_text("It is step 3 of 7 now.")
    box.get_by_role("button", name="Check the order").click()
    expect(reply(box)).to_have_text(re.compile("^(Not yet|Right)"))
    pictures.take(box, "sorted")


def test_a_click_on_a_card_does_it_next(lesson: Any) -> None:
    box, twin = lesson.activity(TITLES[5]), OrderTheJob()
    early = twin.board.right[-1]
    box.locator(f"[data-card={early}]").click()
    expect(reply(box)).to_have_text(re.compile("^Not yet"))
    box.locator(f"[data-card={twin.board.right[0]}]").click()
    expect(caption(box)).to_have_text(re.compile("1 of 12"))


def test_the_load_on_a_stand_is_typed_in_pounds_too(lesson: Any, pictures: Any) -> None:
    box, case = lesson.activity(TITLES[1]), StandRating().asked.case
    right = stand_load_kg(case.vehicle, case.axle)
    answer = box.get_by_role("textbox", name=re.compile("Load on one stand"))
    answer.fill(f"{2 * right:.0f}")
    answer.press("Enter")
    expect(reply(box)).to_have_text(re.compile("whole axle"))
    answer.fill(f"{right * 2.204623:.0f} lb")
    answer.press("Enter")
    expect(reply(box)).to_have_text(re.compile("You typed .* lb.*Right"))
    pictures.take(box, "stand_right")
    box.get_by_role("combobox", name="Topic").select_option(label="which stands to take")
    pictures.take(box, "which_stands")


def test_a_hazard_is_found_and_a_wrong_control_gets_its_reason(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(TITLES[2]), HazardSpotting().asked
    for words in (next(one for one in task.choices if one != task.right), task.right):
        box.get_by_role("radio", name=words).check()
        box.get_by_role("button", name="Check", exact=True).click()
        expect(reply(box)).to_have_text(re.compile(re.escape(task.reasons[words])))
    pictures.take(box, "hazard_found")
    box.get_by_role("radio", name="harder").check()
    for topic in ("brake dust", "first movement", "springs and hose"):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(box, f"hazard_{topic.split()[0]}")


def test_what_comes_first_gives_the_reason(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(TITLES[3]), BeforeWhat().asked
    box.get_by_role("radio", name=task.right).check()
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile("^Right. " + re.escape(task.reasons[task.right])))
    pictures.take(box, "first")


def test_the_record_holds_each_board_once(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["order-the-lift"] == (1, 0)  # the first move was wrong
    assert tries["before-what"] == (1, 1)


def test_a_board_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(TITLES[4])
    box.get_by_role("button", name="New board").click()
    down, took = box.get_by_role("button", name="Move down"), []
    box.get_by_role("listbox", name="Which card?").select_option(index=0)
    for place in range(2, 6):
        begun = time.monotonic()
        down.click()
        expect(reply(box)).to_have_text(f"It is step {place} of 7 now.")
        took.append(time.monotonic() - begun)
    record_property("press_to_words_ms", round(1000 * min(took)))
    print(f"Button to changed words: {[round(1000 * one) for one in took]} ms")
    assert min(took) < 0.4


def test_the_accessibility_checker_finds_nothing(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_words_have_contrast_enough(chromium: Browser) -> None:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    parts = [OrderTheLift(), StandRating(), HazardSpotting()]
    words = "".join(part.children[0].value + part._caption.value + part._reply.value for part in parts)
    looked = look_at_contrast(chromium, words)
    assert looked.passed and not looked.wrong and not looked.unsure


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
