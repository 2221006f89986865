"""Each lesson's stored page on its own: no kernel, no notebook, no network, only the page.

The lessons are found, not listed.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import nbformat
import pytest
from nbconvert import HTMLExporter
from playwright.sync_api import Browser, Page

from tests.browser.checker import look

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"
PAGES = sorted(LESSONS.glob("*.ipynb"))
_BROKEN = """async () => {
  const broken = [];
  for (const one of document.querySelectorAll("figure img")) {
    await one.decode().catch(() => {});
    if (!one.alt || !one.naturalWidth) broken.push(one.alt || "an image without a name");
  }
  return broken;
}"""
# Not the code's colours, which are the page maker's; the words in drawings are checked without a browser.
OURS = {"include": [".jp-RenderedHTMLCommon", ".jp-RenderedText"], "exclude": ["svg"]}
RULES = ["color-contrast", "image-alt", "svg-img-alt", "link-name", "td-headers-attr"]


@pytest.fixture(scope="module")
def exporter() -> HTMLExporter:
    return HTMLExporter(mathjax_url="", require_js_url="", jquery_url="", mermaid_js_url="")


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 1200, "height": 1000}, offline=True)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_the_stored_page_reads_well_on_its_own(path: Path, page: Page, exporter: HTMLExporter) -> None:
    """Here the checker can judge contrast too."""
    html, _ = exporter.from_notebook_node(nbformat.read(path, as_version=4))
    page.set_content(html, wait_until="domcontentloaded")
    assert page.evaluate(_BROKEN) == []
    looked = look(page, OURS, RULES)
    assert "color-contrast" in looked.passed
    assert looked.wrong == []
    assert [one for one in looked.unsure if one[0] == "color-contrast"] == []
