"""The accessibility checker (axe) in a page: what passes, what is wrong, and what it cannot judge."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import axe_playwright_python
from playwright.sync_api import Browser, Page

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
CSS = Path(__file__).resolve().parents[2] / "course" / "brakecourse" / "views" / "activity.css"
ACTIVITIES = {"include": [".bc-activity"]}
# Of what passes the names are enough: a description of each place would take longer than the looking.
_RUN = """async ([where, how]) => {
  const found = await axe.run(where ?? document, {...how, resultTypes: ["violations", "incomplete"]});
  const told = rules => rules.map(one => [one.id, one.nodes.length, one.nodes[0].html.slice(0, 300)]);
  return [found.passes.map(one => one.id), told(found.violations), told(found.incomplete)];
}"""


@dataclass(frozen=True)
class Looked:
    """The rules that hold, and those broken or unsure, with how often and the first place's HTML."""

    passed: list[str]
    wrong: list[list[Any]]
    unsure: list[list[Any]]


def look(page: Page, where: Any = None, rules: list[str] | None = None) -> Looked:
    """Let the checker look at a part of the page, or at all of it, by all its rules or by some."""
    if page.evaluate("window.axe === undefined"):
        page.evaluate(AXE)
    return Looked(*page.evaluate(_RUN, [where, {"runOnly": rules} if rules else {}]))


def look_at_contrast(chromium: Browser, words: str) -> Looked:
    """The checker cannot judge contrast inside JupyterLab, so the words stand on a bare page here."""
    page = chromium.new_page()
    try:
        page.set_content(f"<style>{CSS.read_text()}</style><main class='bc-activity'>{words}</main>")
        return look(page, rules=["color-contrast"])
    finally:
        page.close()
