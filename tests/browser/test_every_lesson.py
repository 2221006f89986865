"""Each lesson in the Notebook interface, with the keyboard alone.

The lessons are found, not listed. What a lesson teaches is the business of its own browser test.
"""

from __future__ import annotations

import re
import statistics
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, TimeoutError, expect

from tests.browser.checker import ACTIVITIES, look

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"
PAGES = sorted(LESSONS.glob("*.ipynb"))
TIMED_PRESSES = 7

# What must take the focus in an activity: of a group of radio buttons one is enough.
_STOPS = """box => {
  const groups = new Map();
  [...box.querySelectorAll("input, select, button, textarea, .noUi-handle")].forEach((one, nth) => {
    if (one.disabled || !one.checkVisibility({visibilityProperty: true})) return;
    const group = one.type === "radio" ? "radio " + one.name : "other " + nth;
    groups.set(group, [...(groups.get(group) || []), nth]);
  });
  return [...groups.values()];
}"""
_BEGIN = """box => {
  document.activeElement?.blur();
  const title = box.querySelector(".bc-title");
  title.tabIndex = -1;
  title.focus();
}"""
_FOCUSED = """box => {
  const one = document.activeElement;
  if (!box.contains(one)) return null;
  const kind = one.matches(".noUi-handle") ? "slider" : one.tagName === "INPUT" ? one.type : one.tagName;
  const label = one.getAttribute("aria-label") || one.labels?.[0]?.textContent || one.textContent;
  const all = [...box.querySelectorAll("input, select, button, textarea, .noUi-handle")];
  const kept = Boolean(one.dataset.lmSuppressShortcuts);
  return {nth: all.indexOf(one), kind: kind.toLowerCase(), name: label.trim(), kept};
}"""
_WORDS = "box => [...box.querySelectorAll('.widget-html-content')].map(one => one.textContent).join(' | ')"
_WATCH = """box => {
  const all = () => [...box.querySelectorAll(".widget-html-content")];
  const words = () => all().map(one => one.textContent).join(" | ");
  window.bcTook = [];
  window.bcStart = null;
  let before = words();
  box.addEventListener("keydown", () => { before = words(); window.bcStart = performance.now(); }, true);
  new MutationObserver(() => {
    if (window.bcStart !== null && words() !== before) {
      window.bcTook.push(performance.now() - window.bcStart);
      window.bcStart = null;
    }
  }).observe(box, {childList: true, subtree: true, characterData: true});
}"""
TIMED = ("slider", "number", "select", "select-one")  # press them again and again, and each time words change
KEYS = {
    "slider": ("ArrowRight", "ArrowLeft"),
    "number": ("ArrowUp", "ArrowDown"),
    "select": ("ArrowDown", "ArrowUp"),
    "select-one": ("ArrowDown", "ArrowUp"),
    "radio": ("ArrowDown", "ArrowDown"),
    "checkbox": (" ", " "),
    "button": ("Enter", "Enter"),
}


def tab_through(page: Page, box: Locator) -> list[dict[str, Any]]:
    """Press Tab from the activity's title until its end; return what had the focus on the way."""
    box.evaluate(_BEGIN)
    met: list[dict[str, Any]] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        here = box.evaluate(_FOCUSED)
        if here is None and met:
            break
        if here is not None:
            met.append(here)
    return met


def use_one(page: Page, box: Locator, stops: list[dict[str, Any]]) -> dict[str, Any] | None:
    """With the keyboard alone, find a control that changes the words; leave the focus on it."""
    order = ("slider", "checkbox", "select", "select-one", "radio", "number", "button")
    usable = [stop for stop in stops if stop["kind"] in order]
    changed = f"([box, words]) => ({_WORDS})(box) !== words"
    for stop in sorted(usable, key=lambda stop: order.index(stop["kind"])):
        go_to(page, box, stop)
        before = box.evaluate(_WORDS)
        for key in KEYS[stop["kind"]]:
            page.keyboard.press(key)
            try:
                page.wait_for_function(changed, arg=[box.element_handle(), before], timeout=700)
            except TimeoutError:
                continue
            return stop
    return None


def go_to(page: Page, box: Locator, stop: dict[str, Any]) -> None:
    """Press Tab from the activity's title until a control has the focus."""
    box.evaluate(_BEGIN)
    for _ in range(60):
        page.keyboard.press("Tab")
        here = box.evaluate(_FOCUSED)
        if here is not None and here["nth"] == stop["nth"]:
            return
    raise AssertionError(f"Tab never came back to {stop}")


def reply_times_ms(page: Page, box: Locator, stop: dict[str, Any]) -> list[float]:
    """Press the control's keys some times; return how long the words took to change, seen from the page."""
    box.evaluate(_WATCH)
    for nth in range(TIMED_PRESSES):
        page.keyboard.press(KEYS[stop["kind"]][nth % 2])
        with suppress(TimeoutError):
            page.wait_for_function("bcStart === null", timeout=1500)
    return page.evaluate("bcTook")


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_lesson_in_the_notebook_interface_by_keyboard(
    path: Path, window: Any, record_property: Any
) -> None:
    if "brakecourse.views" not in path.read_text(encoding="utf-8"):
        pytest.skip("a page to read, with nothing to run")
    window.open_next(path.name, view="notebooks")
    window.run_all()
    page = window.page
    record_property("lesson_timed", path.stem)
    record_property("run_all_s", round(window.run_all_s, 2))
    assert window.run_all_s < 20  # about 3 s on a quiet machine; this leaves room for a busy one
    boxes, cells = page.locator(".bc-activity"), window.cells()
    expect(boxes.first).to_be_visible()
    expect(page.get_by_text(re.compile("Error displaying widget|model not found"))).to_have_count(0)

    box = boxes.first
    stops = tab_through(page, box)
    met = {stop["nth"] for stop in stops}
    missed = [group for group in box.evaluate(_STOPS) if not met & set(group)]
    assert not missed, f"Tab never came to {missed} of {stops}"
    assert all(stop["kept"] and stop["name"] for stop in stops), stops
    used = use_one(page, box, stops)
    assert used, "no control of the first activity changes any words"
    if used["kind"] in TIMED:
        times = reply_times_ms(page, box, used)
        assert len(times) >= 3
        record_property("reply_ms", statistics.median(times))
        record_property("replied", f"{used['kind']} {used['name']!r}")
        assert statistics.median(times) < 400
    for letter in "ddx":  # there the notebook takes the keys first: these would cut cells out
        page.keyboard.press(letter)
    assert window.cells() == cells

    looked = look(page, ACTIVITIES)
    assert len(looked.passed) > 10
    assert looked.wrong == []
