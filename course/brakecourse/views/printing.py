"""Lessons, records and job sheets on paper: pages that need no network, no program and no kernel."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from contextlib import suppress
from html import escape
from pathlib import Path
from typing import Any

from brakecourse.views.words import MAKER_FIRST

LIVE = "(Run this cell to use it.)"
SHEETS = frozenset({"job_sheet"})
"""Notebooks that are printed as their one drawing alone, on one page."""

_MOST_NAMES = 1000
# A page on paper asks for nothing: no script, no other host. Pictures travel inside it.
_NOTHING_FROM_OUTSIDE = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"
CSS = """
:root { color-scheme: light; }
body { font: 11pt/1.45 sans-serif; color: #171c20; background: #fff;
  max-width: 780px; margin: 1em auto; padding: 0 1em; }
h1 { font-size: 1.7em; } h2 { font-size: 1.3em; margin-top: 1.6em; }
h1, h2, h3, h4, h2 + p:has(> em:only-child), p:has(+ table, + ol, + ul, + blockquote) { break-after: avoid; }
p, li { orphans: 3; widows: 3; } pre { break-inside: avoid; }
blockquote { border-left: 3px solid #3e474e; margin: 1em 0; padding: 0 1em; break-inside: avoid; }
img, svg { max-width: 100%; height: auto; }
figure { margin: 0.8em 0; break-inside: avoid; } figcaption { font-size: 0.95em; }
figure img { max-width: min(100%, 140mm); max-height: 230mm; width: auto; }
figure svg { width: auto !important; max-height: 90mm; }
table { border-collapse: collapse; margin: 0.6em 0; break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: 2px 12px 2px 0;
  border-bottom: 1px solid #98a2aa; font-weight: 400; }
.bc-facts th:first-child { min-width: 7em; }
thead th { font-weight: 600; }
pre { white-space: pre-wrap; font: 0.95em/1.4 monospace; }
.prompt { display: none; }
a { color: #00598c; }
.sheet svg { display: block; width: 100%; max-height: 250mm; margin: 0 auto; }
@media print { body { max-width: none; margin: 0; padding: 0; } @page { margin: 12mm; } }
"""


def for_paper(notebook: Mapping[str, Any]) -> dict[str, Any]:
    """Return a notebook as it should stand on paper.

    What only a screen can do is left out: the invitation to run a cell, and live controls. Links to other
    lessons lead to their printed pages.

    Args:
        notebook: in the notebook format, as ``json.load`` reads it. It is not changed.
    """
    made = copy.deepcopy(dict(notebook))
    for cell in made["cells"]:
        if cell["cell_type"] == "markdown":
            cell["source"] = printed_links("".join(cell["source"]))
        for output in cell.get("outputs", ()):
            data = output.get("data", {})
            for mime in [mime for mime in data if "widget" in mime or "javascript" in mime]:
                del data[mime]
            for mime in ("text/html", "text/plain"):
                if mime in data:
                    data[mime] = "".join(data[mime]).replace(f" {LIVE}", "")
    return made


def printed_links(text: str) -> str:
    """Turn links between notebooks into links between printed pages.

    >>> printed_links("[Lesson 08](08_rotor_measurement.ipynb#part-1)")
    '[Lesson 08](08_rotor_measurement.html#part-1)'
    """
    return re.sub(r"\]\(([\w-]+)\.ipynb", r"](\1.html", text)


def page(title: str, body: str) -> str:
    """Return a whole page for paper.

    Args:
        title: plain words.
        body: HTML.
    """
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{_NOTHING_FROM_OUTSIDE}">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(title)}</title><style>{CSS}</style></head>\n<body>\n{body}\n</body></html>\n"
    )


def sheet_page(title: str, svg: str, facts: str = "") -> str:
    """Return a page with one drawing as large as the paper, and a table below it where there is one.

    Args:
        title: plain words.
        svg: the drawing.
        facts: a table as HTML; empty for none.
    """
    below = f"{facts}<p>{escape(MAKER_FIRST)}</p>" if facts else ""
    return page(title, f'<main class="sheet">{svg}{below}</main>')


def sheet_of(notebook: Mapping[str, Any]) -> str:
    """Return the first drawing that a notebook shows, as SVG.

    Raises:
        ValueError: it shows none.
    """
    for cell in notebook["cells"]:
        for output in cell.get("outputs", ()):
            svg = output.get("data", {}).get("image/svg+xml")
            if svg:
                return "".join(svg)
    raise ValueError("The notebook shows no drawing yet: run its cells and save it, then print it.")


def save_page(folder: Path, stem: str, html: str) -> str:
    """Write a page into a folder under a name that is still free, and say where.

    Args:
        folder: where to; it must be there.
        stem: the name without its ending.
        html: the page.

    Returns:
        A sentence: which file to open and print, or why there is none.
    """
    for number in range(1, _MOST_NAMES):
        path = folder / (f"{stem}.html" if number == 1 else f"{stem}_{number}.html")
        try:
            with path.open("x", encoding="utf-8") as file:
                file.write(html)
        except FileExistsError:
            continue
        except OSError as problem:
            with suppress(OSError):
                path.unlink()  # a part of a page is no page
            return f"The page was not saved ({problem.strerror}): free some space, or ask who may write here."
        return f"Saved as {path.name}, beside this lesson. Open it in your browser and print it."
    return f"There are too many pages named {stem} already: delete some, then press again."
