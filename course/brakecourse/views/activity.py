"""The one base class of everything a learner practises with.

An activity is a picture, some controls, and a reply in words. In a running notebook the controls work.
Everywhere else (a page read with no kernel, a printed page, a notebook not yet trusted) the same picture
and the same words stand in their place.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from html import escape, unescape
from typing import Any, ClassVar

import ipywidgets as widgets

from brakecourse.views.progress import Progress
from brakecourse.views.replies import Reply
from brakecourse.views.shortcuts import Shortcuts
from brakecourse.views.shown import caption, figure, table
from brakecourse.views.units import Typed, read_typed


class Activity(widgets.VBox):
    """Picture, controls, reply. A subclass says what to draw and what to say; it never computes.

    Args:
        name: a short name, one of its kind on the page; ids and the progress record are built from it.
        lesson: the lesson that the progress is counted for.
        progress: where to record; by default the file beside the notebook.
        lesson: the lesson that the progress is counted for; by default the activity's own.

    A subclass sets ``title`` and ``task``, and gives ``controls()``, ``picture()`` and ``words()``.
    """

    title: ClassVar[str] = "Activity"
    task: ClassVar[str] = ""
    lesson: ClassVar[str] = "08_rotor_measurement"

    def __init__(
        self, name: str | None = None, progress: Progress | None = None, lesson: str | None = None
    ) -> None:
        self.counts_for = lesson or self.lesson
        self.uid = name or _slug(type(self).__name__)
        if not re.fullmatch(r"[a-z][a-z0-9-]*", self.uid):
            raise ValueError(
                f"An activity's name needs small letters, digits and hyphens, but it was {self.uid!r}; "
                "choose one such as 'rotor-2'."
            )
        self._record = progress or Progress()
        self._answered: set[object] = set()
        self._picture = widgets.HTML()
        self._caption = widgets.HTML()
        self._reply = widgets.HTML()
        self._reply.add_class("bc-reply")
        super().__init__()
        self.add_class("bc-activity")
        heading = widgets.HTML(
            f'<p class="bc-title">{escape(self.title)}</p><p class="bc-task">{escape(self.task)}</p>'
        )
        self.children = [
            heading,
            *self.controls(),
            self._picture,
            self._caption,
            *self.answers(),
            self._reply,
            Shortcuts(),
        ]
        self.say(self.opening())
        self.refresh()

    # What a subclass gives.

    def controls(self) -> Sequence[widgets.Widget]:
        """Return the controls above the picture."""
        return ()

    def answers(self) -> Sequence[widgets.Widget]:
        """Return the controls below the picture: where the learner answers."""
        return ()

    def picture(self) -> str:
        """Return the drawing as SVG text."""
        raise NotImplementedError

    def words(self) -> str:
        """Return a sentence that says what the picture shows, without giving a hidden answer away."""
        raise NotImplementedError

    def facts(self) -> Sequence[Sequence[str]]:
        """Return a small table to show with the picture, its first row the heads; empty for none."""
        return ()

    def opening(self) -> str:
        """Return the first reply, before the learner has done anything."""
        return ""

    # What every activity can do.

    def refresh(self, *_: Any) -> None:
        """Draw again. Takes and ignores a widget's change, so that it can be observed directly."""
        self._picture.value = self.picture()
        self._caption.value = f'<p class="bc-caption">{escape(self.words())}</p>{table(self.facts())}'

    def say(self, *sentences: str) -> None:
        """Reply in words, where a screen reader announces them."""
        text = " ".join(sentence for sentence in sentences if sentence)
        quiet = "" if text else ' class="bc-quiet"'
        self._reply.value = f'<p role="status" aria-live="polite"{quiet}>{escape(text)}</p>'

    def reply(self) -> str:
        """Return the words that the learner sees as the last reply."""
        return _plain(self._reply.value)

    def read(self, typed: str, unit: str = "mm") -> Typed | None:
        """Return what was typed as a number in the unit; else say what was expected, and return None."""
        try:
            return read_typed(typed, unit)
        except ValueError as problem:
            self.say(str(problem))
            return None

    def judge(
        self,
        typed: str,
        rule: Callable[[float], Reply],
        key: object,
        unit: str = "mm",
        *,
        topic: str = "",
    ) -> bool:
        """Reply to a typed number.

        Args:
            typed: what stands in the answer box.
            rule: gives the reply to a number.
            key: which task this is, so that the same answer to the same task counts once.
            unit: the symbol of the unit that the answer is asked in.
            topic: what the task is about, where the practice adapts to it.

        Returns:
            Whether the answer is right.
        """
        read = self.read(typed, unit)
        if read is None:
            return False
        reply = rule(read.number)
        told = self.count((key, read.number), right=reply.right, topic=topic)
        self.say(read.note, reply.words, told)
        return reply.right

    def count(self, answer: object, *, right: bool, topic: str = "") -> str:
        """Record an answer once, however often it is checked. Returns a sentence if it was not saved.

        Args:
            answer: which answer to which task.
            right: whether it was right.
            topic: what the task is about, where the practice adapts to it.
        """
        if answer in self._answered:
            return ""
        self._answered.add(answer)
        return self._record.record(self.counts_for, self.uid, self.title, right=right, topic=topic)

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        bundle = dict(super()._repr_mimebundle_(**kwargs) or {})
        svg, words = self.picture(), self.words()
        words = f"{words} (Run this cell to use it.)"
        bundle["text/plain"] = caption(self.title, words)
        bundle["text/html"] = figure(svg, self.title, words, table(self.facts()))
        bundle["image/svg+xml"] = svg
        return bundle


def _slug(name: str) -> str:
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "-", name).lower()


def _plain(html: str) -> str:
    return unescape(re.sub(r"<[^>]*>", "", html))
