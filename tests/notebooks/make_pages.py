"""Write what goes with the lessons: the glossary, the start page's list, and links to the glossary.

``python tests/notebooks/make_pages.py`` writes ``glossary.ipynb``, and on the start page the list of the
lessons that are there; run it after a change to ``datasets/course/glossary.csv`` and after a new lesson. With
lessons named, it also links the first use of each of their words, after the safety box, and leaves
everything else in them as it is.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.views.glossary import PAGE, cells, link_first_uses
from brakecourse.views.plan import START, lessons

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"


def glossary() -> Any:
    """Return the glossary as a notebook without code."""
    notebook = nbformat.v4.new_notebook()
    notebook.metadata = {
        "kernelspec": {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    for name, text in cells():
        cell = nbformat.v4.new_markdown_cell(text)
        cell.id = name
        notebook.cells.append(cell)
    return notebook


def lesson_list() -> str:
    """Return the start page's list: the lessons that are there as links, the others as words."""
    text, missing = "## Where to go\n\n", []
    for lesson, title in lessons().items():
        if lesson == START:
            continue
        if (LESSONS / f"{lesson}.ipynb").is_file():
            text += f"- [Lesson {lesson[:2]}: {title[0].lower()}{title[1:]}]({lesson}.ipynb)\n"
        else:
            missing.append(lesson[:2])
    if missing:
        which = "Lesson" if len(missing) == 1 else "Lessons"
        still = "is" if len(missing) == 1 else "are"
        text += f"\n{which} {', '.join(missing)} {still} still to come.\n"
    return (
        f"{text}\nThe [glossary]({PAGE}) tells every word of the trade that the lessons use. "
        "If a link leads nowhere, your kit does not hold that lesson yet."
    )


def linkable(notebook: Any) -> list[Any]:
    """Return the text cells that may hold links: those after the safety box."""
    names = [cell.id for cell in notebook.cells]
    begin = names.index("safety") + 1 if "safety" in names else 0
    return [cell for cell in notebook.cells[begin:] if cell.cell_type == "markdown"]


def link(path: Path) -> None:
    """Put the links into one lesson."""
    notebook = nbformat.read(path, as_version=4)
    texts = linkable(notebook)
    for cell, text in zip(texts, link_first_uses(path.stem, [cell.source for cell in texts]), strict=True):
        cell.source = text
    nbformat.write(notebook, path)


def write_list() -> None:
    """Put the list of lessons into the start page."""
    path = LESSONS / f"{START}.ipynb"
    notebook = nbformat.read(path, as_version=4)
    (place,) = (cell for cell in notebook.cells if cell.id == "next")
    place.source = lesson_list()
    nbformat.write(notebook, path)


if __name__ == "__main__":
    nbformat.write(glossary(), LESSONS / PAGE)
    write_list()
    print(f"{LESSONS}: the glossary and the list on the start page are written")
    for lesson in map(Path, sys.argv[1:]):
        link(lesson)
        print(f"{lesson}: linked")
