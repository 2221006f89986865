"""Words for people at a desk, made of those for people at a command line."""

from __future__ import annotations

import re
from html import unescape

_PAGES = {
    "class": "Class",
    "assign": "Hand out",
    "collect": "Take in",
    "grade": "Grade",
    "hand-mark": "Who is where",
    "feedback": "Give back",
    "badge-key": "Badges",
    "export": "Exports",
}
_COMMAND = re.compile(r"""['"]brakecourse (?P<name>[a-z-]+)[^'"]*['"]""")
_GIVE = re.compile(r"""give ['"]brakecourse (?P<name>[a-z-]+)[^'"]*['"]""")


def in_desk_words(sentence: str) -> str:
    """Return a sentence that names pages in the place of commands.

    >>> in_desk_words("It was not graded yet; give 'brakecourse grade evening' first.")
    'It was not graded yet; use the page ‘Grade’ first.'
    >>> in_desk_words("Make one with 'brakecourse class new', then give the same command again.")
    'Make one with the page ‘Class’, then try again.'
    """
    text = _GIVE.sub(lambda found: f"use {_page(found['name'])}", sentence)
    text = _COMMAND.sub(lambda found: _page(found["name"]), text)
    return (
        text.replace("give the same command again", "try again")
        .replace(" with --class", "")
        .replace("give --i-trust-these-files", "tick ‘I trust these files’")
    )


def _page(name: str) -> str:
    return f"the page ‘{_PAGES[name]}’" if name in _PAGES else "another page"


def count_of(number: int, one: str) -> str:
    """Say how many there are of something.

    >>> count_of(1, "page"), count_of(2, "page")
    ('1 page', '2 pages')
    """
    return f"{number} {one if number == 1 else one + 's'}"


def without_tags(text: str) -> str:
    """Return the words of a piece of HTML.

    >>> without_tags("<p>Seen &amp; done.</p>")
    'Seen & done.'
    """
    return unescape(re.sub(r"<[^>]*>", "", text)).strip()
