"""The frame of a desk: a row of pages to choose from, one page at a time, and a line that says what happened.

A page is a `Page`, announced by an `Entry`: its title, and what it is for. It is loaded and built when it is
opened for the first time, and told each time it is opened again. Whatever a button does runs inside
`Desk.trying()`, so that trouble becomes one sentence and never a traceback. Long work is a `job.Job`.
"""

from __future__ import annotations

import tempfile
import threading
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from html import escape
from importlib import import_module
from typing import Any

import ipywidgets as widgets

from brakecourse.desks.manners import Manners
from brakecourse.desks.parts import html
from brakecourse.desks.plain import in_desk_words, without_tags
from brakecourse.errors import CourseError
from brakecourse.views.shortcuts import Shortcuts


@dataclass(frozen=True)
class Entry:
    """A page as the desk knows it before it is opened. What it needs is loaded when it is.

    Attributes:
        title: on the button, in a word or three.
        purpose: what it is for, in a sentence.
        where: its module and class, as ``"brakecourse.desks.grade_page:GradePage"``.
        needs_class: whether it is of no use before a class was opened.
    """

    title: str
    purpose: str
    where: str
    needs_class: bool = True

    @property
    def module(self) -> str:
        """The name of its module."""
        return self.where.partition(":")[0]

    def load(self) -> type[Page]:
        """Return the page's class."""
        kind: type[Page] = getattr(import_module(self.module), self.where.partition(":")[2])
        return kind


class Page(widgets.VBox):
    """One page of a desk. A subclass gives `build`, and may give `opened`.

    Args:
        desk: the desk that it belongs to; its ``state`` is what all pages share.
        entry: its title and purpose.
    """

    def __init__(self, desk: Desk, entry: Entry) -> None:
        self.desk = desk
        super().__init__()
        self.add_class("bc-page")
        title = html(
            f'<h2 class="bc-page-title">{escape(entry.title)}</h2>'
            f'<p class="bc-purpose">{escape(entry.purpose)}</p>'
        )
        self.children = [title, *self.build()]

    def build(self) -> Sequence[widgets.Widget]:
        """Return what stands on the page. Called once, when the page is opened for the first time."""
        raise NotImplementedError

    def opened(self) -> None:
        """Bring the page up to date. Called each time it is opened, also the first time, after `build`."""


class Desk(widgets.VBox):
    """The frame.

    Args:
        title: what the desk is, in a few words.
        state: whatever its pages share; its ``words`` say in a line which class is open, empty for none.
        entries: its pages, in the order of use; the first one is open at first.
        words: what stands in the place of the desk where no kernel runs.
    """

    def __init__(self, title: str, state: Any, entries: Sequence[Entry], words: str) -> None:
        super().__init__()
        self.state, self._title, self._words = state, title, words
        self._entries = {entry.title: entry for entry in entries}
        self._pages: dict[str, Page] = {}
        self._buttons = {entry.title: self._page_button(entry) for entry in entries}
        self._which = html("")
        self._message = html("")
        self._message.add_class("bc-reply")
        self._area = widgets.VBox()
        choose = widgets.HBox(list(self._buttons.values()), layout={"flex_flow": "row wrap"})
        choose.add_class("bc-pages")
        heading = html(f'<p class="bc-title">{escape(title)}</p>')
        self.add_class("bc-activity")
        self.add_class("bc-desk")
        self.children = [heading, self._which, choose, self._message, self._area, Shortcuts(), Manners()]
        self.now = entries[0].title
        self.show(self.now)
        # What the other pages need takes seconds to load: that goes on while the first page is looked at.
        self._loading = threading.Thread(target=self._load, daemon=True)
        self._loading.start()

    def _load(self) -> None:
        for entry in self._entries.values():
            # A page that can't be loaded says so when it is opened.
            with suppress(Exception):
                entry.load()

    def _page_button(self, entry: Entry) -> widgets.Button:
        button = widgets.Button(
            description=entry.title, tooltip=entry.purpose, layout={"width": "max-content"}
        )
        button.on_click(lambda _: self.show(entry.title))
        return button

    def page(self, title: str) -> Page:
        """Return a page; it is built if need be."""
        if title not in self._pages:
            entry = self._entries[title]
            if hasattr(self, "_loading"):
                self._loading.join()  # two threads at the same modules could get half of one
            self._pages[title] = entry.load()(self, entry)
        return self._pages[title]

    def show(self, title: str) -> None:
        """Open a page."""
        self.now = title
        for one, button in self._buttons.items():
            (button.add_class if one == title else button.remove_class)("bc-now")
        self.say("")
        if self._entries[title].needs_class and not self.state.words:
            first = next(iter(self._entries))
            self._area.children = [html(f"<p>Open a class first, on the page ‘{escape(first)}’.</p>")]
        else:
            if title not in self._pages:
                self._area.children = [html("<p>One moment, please.</p>")]
            with self.trying():
                page = self.page(title)
                self._area.children = [page]
                page.opened()
        self.refresh_heading()

    def refresh_heading(self) -> None:
        """Say again which class is open."""
        words = self.state.words or "No class is open."
        self._which.value = f'<p class="bc-which">{escape(words)}</p>'

    def say(self, *sentences: str) -> None:
        """Say what happened, where a screen reader announces it."""
        text = " ".join(filter(None, sentences))
        quiet = "" if text else ' class="bc-quiet"'
        self._message.value = f"<p{quiet}>{escape(text)}</p>"

    def trouble(self, sentence: str) -> None:
        """Say what went wrong and what to do."""
        said = escape(in_desk_words(sentence))
        self._message.value = f'<p class="bc-trouble"><strong>That did not work.</strong> {said}</p>'

    @property
    def message(self) -> str:
        """The words that stand in the message line."""
        return without_tags(self._message.value)

    @contextmanager
    def trying(self) -> Iterator[None]:
        """Turn whatever goes wrong inside into one sentence in the message line."""
        try:
            yield
        except Exception as error:
            self.trouble(in_one_sentence(error))

    def button(self, words: str, action: Callable[[], object], *, main: bool = False) -> widgets.Button:
        """Return a button that does something; trouble with it becomes a sentence.

        Args:
            words: what stands on it.
            action: what it does.
            main: whether it is the page's chief button, and looks like it.
        """
        made = widgets.Button(description=words, tooltip=words, layout={"width": "max-content"})
        if main:
            made.add_class("bc-main")

        def pressed(_: object) -> None:
            with self.trying():
                action()

        made.on_click(pressed)
        return made

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        bundle = dict(super()._repr_mimebundle_(**kwargs) or {})
        bundle["text/plain"] = f"{self._title}. {self._words}"
        bundle["text/html"] = f"<p><strong>{escape(self._title)}.</strong> {escape(self._words)}</p>"
        return bundle


def in_one_sentence(error: Exception) -> str:
    """Say in a sentence what went wrong; the details of something unforeseen go into a file."""
    if isinstance(error, CourseError):
        return str(error)
    if isinstance(error, OSError):
        where = f" ({error.filename})" if error.filename else ""
        return (
            f"The computer refused a file{where}: {error.strerror or error}; "
            "free some space or check who may use it, then try again."
        )
    with tempfile.NamedTemporaryFile(
        "w", prefix="brakecourse-trouble-", suffix=".txt", delete=False, encoding="utf-8"
    ) as details:
        traceback.print_exception(error, file=details)
    return (
        f"Something went wrong that the course did not foresee ({type(error).__name__}); "
        f"nothing handed in was changed, and the details are in {details.name}."
    )
