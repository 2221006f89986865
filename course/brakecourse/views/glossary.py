"""The words of the trade in plain words, and where a lesson uses one for the first time.

``tests/notebooks/make_pages.py`` writes the glossary's page from this, and puts a lesson's links in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from brakecourse.tables import read_table
from brakecourse.views.plan import lessons

PAGE = "glossary.ipynb"
# What holds no word to link: a link, an image, code, a formula.
_NOT_PROSE = re.compile(r"!?\[[^\]]*\]\([^)]*\)|`[^`]*`|\$[^$]*\$|<[^>]*>")


@dataclass(frozen=True)
class Term:
    """One word of the trade.

    Attributes:
        term: in small letters, digits, spaces and hyphens, so that its anchor is the same everywhere.
        meaning: one or two plain sentences.
        see_also: related terms.
        lessons: the lessons that link it where they first use it.
    """

    term: str
    meaning: str
    see_also: tuple[str, ...]
    lessons: tuple[str, ...]

    @property
    def anchor(self) -> str:
        """The address of the term on the glossary's page."""
        return self.term.replace(" ", "-")

    @property
    def address(self) -> str:
        """Where a lesson's link leads."""
        return f"{PAGE}#{self.anchor}"

    @property
    def pattern(self) -> re.Pattern[str]:
        """What finds the term in a text: one or more of it, a capital letter or not."""
        words = r"\s+".join(map(re.escape, self.term.split(" ")))
        return re.compile(rf"(?<![\w-]){words}(?:s|es)?(?![\w-])", re.IGNORECASE)


@cache
def terms() -> tuple[Term, ...]:
    """Return every term, in the order of the alphabet."""
    return tuple(
        Term(
            row["term"],
            row["meaning"],
            tuple(filter(None, row["see_also"].split("; "))),
            tuple(row["lessons"].split()),
        )
        for row in read_table("course/glossary.csv")
    )


def cells() -> Iterator[tuple[str, str]]:
    """Yield the glossary's page: each cell's name and its text.

    All terms stand in one cell: a page that has just been opened then finds the term that a link leads to.
    """
    index = " · ".join(f"[{one.term}](#{one.anchor})" for one in terms())
    intro = (
        "The words of the brake job in plain words. The lessons link each word where they first use it. "
        "If a link brought you to the top of this page, click the word in this list."
    )
    yield "title", f"# Glossary\n\n{intro}\n\n{index}"
    yield "terms", "\n\n".join(map(_entry, terms()))
    yield "back", "[Back to the start page](00_start_here.ipynb)"


def _entry(one: Term) -> str:
    anchors = {other.term: other.anchor for other in terms()}
    also = ", ".join(f"[{other}](#{anchors[other]})" for other in one.see_also)
    taught = ", ".join(f"{lesson[:2]} ({lessons()[lesson].lower()})" for lesson in one.lessons)
    lines = [f"### {one.term}", one.meaning, f"See also: {also}." if also else "", f"*Lesson {taught}*"]
    return "\n\n".join(filter(None, lines))


def first_use(term: Term, texts: Sequence[str]) -> tuple[int, int, int] | None:
    """Return where a lesson first uses a term in plain text, with no link to the glossary before it.

    Args:
        term: the term to look for.
        texts: the lesson's text cells, in their order; headings are not looked at.

    Returns:
        Which text, and where in it the word begins and ends. None when the first use is linked, or there is
        no use.

    >>> first_use(terms()[1], ["## The anvils", "Wipe the anvils."])
    (1, 9, 15)
    """
    for number, text in enumerate(texts):
        masked = re.sub(r"^\s*#.*$", lambda hidden: " " * len(hidden[0]), text, flags=re.MULTILINE)
        linked = masked.find(f"]({term.address})")
        masked = _NOT_PROSE.sub(lambda hidden: "\0" * len(hidden[0]), masked)
        found = term.pattern.search(masked)
        if found and not 0 <= linked < found.start():
            return number, found.start(), found.end()
        if linked >= 0:
            return None
    return None


def link_first_uses(lesson: str, texts: Sequence[str]) -> list[str]:
    """Return a lesson's texts with the first use of each of its terms linked to the glossary.

    A longer term goes first, so that "total indicated run-out" is not torn apart by "run-out".
    """
    linked = list(texts)
    for term in sorted(terms(), key=lambda one: -len(one.term)):
        place = first_use(term, linked) if lesson in term.lessons else None
        if place:
            number, begin, end = place
            text = linked[number]
            linked[number] = f"{text[:begin]}[{text[begin:end]}]({term.address}){text[end:]}"
    return linked
