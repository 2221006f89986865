"""Lesson 11 as a learner meets it: convert, set, read, reach with an extension, tighten in order, judge."""

from __future__ import annotations

import json
import re
import time
from typing import Any

from brakecourse.trade.fasteners import tightening_order
from brakecourse.views.torque_extension import SetWithExtension
from brakecourse.views.torque_judge import TorqueJudge
from brakecourse.views.torque_order import RefitOrder
from brakecourse.views.torque_preload import ClampSums
from brakecourse.views.torque_units import ConvertTorque
from brakecourse.views.torque_wrench_use import ReadTorqueWrench
from playwright.sync_api import Locator, expect

from tests.browser.checker import ACTIVITIES, look

LESSON = "11_reassembly_and_torque"
CONVERT, SET, READ = "From the sheet's unit", "Set a torque wrench", "Read a torque wrench"
TRY, EXTENDED, REFIT = "Try an extension", "What do you set with the extension?", "Put the brake together"
NUTS, BUYS, SUMS = "In which order do you tighten", "What a torque buys", "How hard does this bolt clamp?"
JUDGE = "Would you let it go?"
TITLES = (CONVERT, SET, READ, TRY, EXTENDED, REFIT, NUTS, BUYS, SUMS, JUDGE)


def reply(box: Locator) -> Locator:
    return box.locator(".bc-reply p")


def caption(box: Locator) -> Locator:
    return box.locator("p.bc-caption").first


def answer(box: Locator, name: str, typed: object) -> None:
    field = box.get_by_role("textbox", name=re.compile(name))
    field.fill(str(typed))
    field.press("Enter")


def test_all_activities_are_live(lesson: Any, pictures: Any, record_property: Any) -> None:
    record_property("run_all_s", round(lesson.run_all_s, 2))
    print(f"Run All Cells: {lesson.run_all_s:.1f} s")
    expect(lesson.page.locator(".bc-activity")).to_have_count(len(TITLES))
    expect(lesson.page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)
    for nth, title in enumerate(TITLES):
        box = lesson.activity(title)
        expect(box.locator("svg[role=img]").first).to_be_visible()
        pictures.take(box, f"{nth}")


def test_a_torque_is_converted_and_the_given_unit_is_refused(lesson: Any) -> None:
    box, case = lesson.activity(CONVERT), ConvertTorque().asked.case
    answer(box, "Torque in", f"{case.value:g} {case.given}")
    expect(reply(box)).to_have_text(re.compile("Convert it first"))
    answer(box, "Torque in", f"{case.value:g}")
    expect(reply(box)).to_have_text(re.compile("^Not yet. That is the number of the sheet"))
    answer(box, "Torque in", f"{case.right:.1f} {case.wanted}")
    expect(reply(box)).to_have_text(re.compile("^Right"))


def test_the_wrench_is_set_with_the_keyboard_alone(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(SET), lesson.page.keyboard
    box.get_by_role("slider", name="Full turns from the low end").focus()
    for _ in range(11):
        keys.press("ArrowRight")
    for _ in range(2):
        keys.press("Tab")
    for _ in range(6):
        keys.press("ArrowRight")
    expect(box.get_by_role("spinbutton").nth(1)).to_have_value("6")
    keys.press("Tab")
    keys.press("Tab")
    keys.press("Enter")
    expect(reply(box)).to_have_text(re.compile("^Not yet. You set 115 on the lbf·ft scale"))
    pictures.take(box, "wrong_scale")
    for nth, value in ((0, 7), (1, 5)):
        field = box.get_by_role("spinbutton").nth(nth)
        field.fill(str(value))
        field.press("Enter")
    box.get_by_role("button", name="Check", exact=True).click()
    expect(reply(box)).to_have_text(re.compile("^Right: set to 115"))
    pictures.take(box, "wrench_set")
    box.get_by_role("radio", name="lbf·in").check()
    box.get_by_role("combobox", name="Which wrench?").select_option(index=0)
    expect(caption(box)).to_have_text(re.compile(r"Wanted: \d+ lbf·in.*One turn of the grip is 2\sN·m"))
    pictures.take(box, "small_wrench")


def test_a_wrench_is_read(lesson: Any) -> None:
    box, (wrench, set_nm) = lesson.activity(READ), ReadTorqueWrench().asked.case
    answer(box, "Setting", f"{wrench.misreadings(set_nm)['lbfft_for_nm']:g}")
    expect(reply(box)).to_have_text(re.compile("^Not yet. That is the lbf·ft scale"))
    answer(box, "Setting", f"{set_nm:g}")
    expect(reply(box)).to_have_text(re.compile("^Right"))


def test_an_extension_is_turned_and_worked_out(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(TRY)
    for angle, told in ((90, "^Found"), (135, "^Folded back")):
        field = box.get_by_role("spinbutton", name="Angle to the wrench, in degrees, or type it")
        field.fill(str(angle))
        field.press("Enter")
        expect(reply(box)).to_have_text(re.compile(told))
    pictures.take(box, "folded_back")
    box, case = lesson.activity(EXTENDED), SetWithExtension().asked.case
    target = case.bolt.fastener.torque_nm
    for typed, told in (
        (target, "bolt would get too much"),
        (target * case.share, "turned the fraction round"),
        (target / case.share, "^Right"),
    ):
        answer(box, "Setting", f"{typed:.1f}")
        expect(reply(box)).to_have_text(re.compile(told))
    box.get_by_role("radio", name="harder").check()
    box.get_by_role("combobox", name="Topic").select_option(label="extension at an angle")
    pictures.take(box, "angled")


def test_the_brake_goes_together_by_list_and_click(lesson: Any, pictures: Any) -> None:
    box, board = lesson.activity(REFIT), RefitOrder().board
    box.get_by_role("listbox", name="What comes next?").select_option(label=board.steps["torque_bolts"])
    box.get_by_role("button", name="Do this next").click()
    expect(reply(box)).to_have_text(re.compile("^Not yet"))
    box.locator(f"[data-card={board.right[0]}]").click()
    expect(caption(box)).to_have_text(re.compile("1 of 9"))
    pictures.take(box, "refit")


def test_the_nuts_are_tightened_with_keyboard_and_mouse(lesson: Any, pictures: Any) -> None:
    box, keys = lesson.activity(NUTS), lesson.page.keyboard
    order = tightening_order(5)
    cards = box.get_by_role("listbox", name="What comes next?")
    cards.select_option(label="nut 1")
    cards.focus()
    keys.press("Tab")
    keys.press("Enter")
    expect(caption(box)).to_have_text(re.compile("Tightened: 1"))
    box.locator("[data-card='2']").click()
    expect(reply(box)).to_have_text(re.compile("^Not yet. Nut 2 stands beside nut 1"))
    pictures.take(box, "nut_beside")
    for done, nut in enumerate(order[1:], 2):
        box.locator(f"[data-card='{nut}']").click()
        expect(caption(box)).to_have_text(re.compile(", ".join(map(str, order[:done]))))
    expect(reply(box)).to_have_text(re.compile(r"^Right.*38.N·m.*77.N·m.*and 115.N·m"))
    pictures.take(box, "nuts_done")
    box.get_by_role("combobox", name="Which part?").select_option(label="6 studs")
    expect(box.locator("[data-card]")).to_have_count(6)
    pictures.take(box, "six_studs")


def test_oil_takes_a_bolt_beyond_its_proof_load(lesson: Any, pictures: Any) -> None:
    box = lesson.activity(BUYS)
    box.get_by_role("radio", name="oiled").check()
    expect(reply(box)).to_have_text(re.compile("^Now it is beyond the proof load"))
    box.get_by_role("radio", name="impact wrench").check()
    expect(reply(box)).to_have_text(re.compile("You found all three"))
    pictures.take(box, "oiled")
    box, bolt = lesson.activity(SUMS), ClampSums().asked.case
    right = bolt.fastener.preload_n / 1000
    answer(box, "Clamp load", f"{2 * right:.1f}")
    expect(reply(box)).to_have_text(re.compile("radius of the thread"))
    answer(box, "Clamp load", f"{right:.1f} kN")
    expect(reply(box)).to_have_text(re.compile("^Right"))


def test_each_choice_of_the_last_quiz_gets_its_reason(lesson: Any, pictures: Any) -> None:
    box, task = lesson.activity(JUDGE), TorqueJudge().asked
    for words in sorted(task.choices, key=lambda one: one == task.right):
        box.get_by_role("radio", name=words).check()
        box.get_by_role("button", name="Check", exact=True).click()
        expect(reply(box)).to_contain_text(task.reasons[words].replace("\xa0", " "))
    pictures.take(box, "judged")
    for topic in ("a used bolt", "tool and threads"):
        box.get_by_role("combobox", name="Topic").select_option(label=topic)
        pictures.take(box, f"judge_{topic.split()[-1]}")


def test_the_record_holds_what_was_done_once(lesson: Any) -> None:
    stored = json.loads((lesson.server.root / "progress.json").read_text(encoding="utf-8"))
    tries = {row["activity"]: (row["tries"], row["right"]) for row in stored["activities"]}
    assert tries["set-torque-wrench"] == (2, 1)
    assert tries["convert-torque"] == (1, 0)  # the first answer counts
    assert tries["wheel-nut-order"] == (1, 0)  # one move was wrong
    assert tries["clamp-load"] == (3, 3)


def test_a_slider_answers_at_once(lesson: Any, record_property: Any) -> None:
    box = lesson.activity(TRY)
    box.get_by_role("slider", name="Length of the extension, in mm").focus()
    took = []
    shown = "([box, before]) => box.querySelector('.bc-facts').textContent !== before"
    for _ in range(8):
        before = box.locator(".bc-facts").first.text_content()
        begun = time.monotonic()
        lesson.page.keyboard.press("ArrowRight")
        lesson.page.wait_for_function(shown, arg=[box.element_handle(), before])
        took.append(time.monotonic() - begun)
    record_property("key_to_words_ms", round(1000 * min(took)))
    print(f"Key press to changed words: {[round(1000 * one) for one in took]} ms")
    assert min(took) < 0.4


def test_the_accessibility_checker_finds_nothing(lesson: Any) -> None:
    looked = look(lesson.page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []


def test_a_narrow_page_keeps_everything_in_view(lesson: Any, pictures: Any) -> None:
    with lesson.narrow():
        for nth, title in enumerate(TITLES):
            box = lesson.activity(title)
            pictures.take(box, f"narrow_{nth}")
            assert box.evaluate("box => box.scrollWidth - box.clientWidth") <= 2, title
