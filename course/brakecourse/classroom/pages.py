"""The templates of the pages that a class gets: start page, feedback, observer's sheet."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Template


@cache
def page_template(name: str, tight: bool = True) -> Template:
    """Return a page's template, read once: that takes far longer than to fill one in.

    Whatever is filled in is shown as text, and what is not given is an error.

    Args:
        name: of the file, such as "feedback.html.j2".
        tight: whether lines that hold only an order leave no empty line.
    """
    # Only who makes a page waits for Jinja.
    from jinja2 import Environment, PackageLoader, StrictUndefined

    pages = Environment(
        loader=PackageLoader("brakecourse.classroom"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=tight,
        lstrip_blocks=tight,
    )
    pages.filters["points"] = _points
    return pages.get_template(name)


def _points(value: float | None) -> str:
    return "–" if value is None else f"{value:g}"
