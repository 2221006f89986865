"""Long work under a button: a bar, words, the time left, and a way to stop it. Pressing again goes on."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from brakecourse.classroom.folder import Progress
from brakecourse.desks.parts import html, row, shown
from brakecourse.desks.plain import without_tags

if TYPE_CHECKING:
    from brakecourse.desks.shell import Desk

_TELL_S = 0.1
"""The bar moves at most so often: telling the browser of each of thousands of pieces would take longer than
the work."""


class Stopped(BaseException):
    """A person pressed Stop. No ordinary error, so that nothing on the way takes it for one."""


class Job(widgets.VBox):
    """A button that starts long work, with everything a person needs while it goes on.

    Args:
        desk: where trouble is said.
        words: what stands on the button.
        work: does it, and calls what it is given with pieces done, pieces in all, and what was just done.
            It runs beside the page, in a thread of its own. What was finished before Stop must be kept by it.
        done: called with what the work returned, when it came to its end.
        ready: called when the button is pressed, before the work starts, on the page's own thread; what it
            raises is said, and nothing starts. Read the page's fields here.
    """

    def __init__(
        self,
        desk: Desk,
        words: str,
        work: Callable[[Progress], Any],
        done: Callable[[Any], object],
        ready: Callable[[], object] = lambda: None,
    ) -> None:
        self._desk, self._work, self._done, self._ready = desk, work, done, ready
        self._thread: threading.Thread | None = None
        self._stop = threading.Event()
        self.button = desk.button(words, self.start, main=True)
        self.stop_button = desk.button("Stop", self.stop)
        self._bar = widgets.FloatProgress(min=0.0, max=1.0, layout={"width": "320px"})
        self._words = html("")
        self._going = row(self._bar, self.stop_button)
        shown(self._going, False)
        super().__init__([row(self.button, self._going), self._words])
        self.add_class("bc-job")

    @property
    def running(self) -> bool:
        """Whether it is at work."""
        return self._thread is not None and self._thread.is_alive()

    def start(self) -> None:
        """Begin, unless it is at work already."""
        if self.running:
            return
        self._ready()
        self.start_quietly()

    def start_quietly(self) -> None:
        """Begin as when a page needs it, and not because the button was pressed."""
        if self.running:
            return
        self._stop.clear()
        self._bar.value, self._started, self._told_at = 0.0, time.monotonic(), 0.0
        self._words.value = "<p>It begins.</p>"
        self.button.disabled, self.stop_button.disabled = True, False
        shown(self._going, True)
        self._thread = threading.Thread(target=self._run, daemon=True, name=self.button.description)
        self._thread.start()

    def stop(self) -> None:
        """Ask it to stop. What was finished is kept."""
        self._stop.set()
        self.stop_button.disabled = True
        self._words.value = "<p>It stops as soon as the piece in hand is finished.</p>"

    def wait(self, seconds: float = 120.0) -> None:
        """Wait until it has ended.

        Raises:
            TimeoutError: it is still at work.
        """
        if self._thread is not None:
            self._thread.join(seconds)
        if self.running:
            raise TimeoutError(f"'{self.button.description}' still goes on after {seconds:g} s.")

    @property
    def words(self) -> str:
        """What stands beside the bar."""
        return without_tags(self._words.value)

    def _run(self) -> None:
        with self._desk.trying():
            try:
                found = self._work(self._tell)
            except Stopped:
                self._ended("Stopped. What was finished is kept; press the button again to go on.")
                return
            except Exception:
                self._ended("It did not come to its end. What was finished is kept.")
                raise
            self._ended(f"Done in {seconds_words(time.monotonic() - self._started)}.")
            self._done(found)

    def _ended(self, words: str) -> None:
        self._words.value = f"<p>{words}</p>"
        shown(self._going, False)
        self.button.disabled = False

    def _tell(self, done: int, total: int, item: str) -> None:
        if self._stop.is_set():
            raise Stopped
        now = time.monotonic()
        if now - self._told_at < _TELL_S and done < total:
            return
        self._told_at = now
        self._bar.value = done / total if total else 0.0
        self._words.value = progress_words(done, total, item, now - self._started)


def progress_words(done: int, total: int, item: str, seconds: float) -> str:
    """Say how far work is, as HTML.

    >>> progress_words(10, 40, "s03: graded", 20.0)
    '<p>10 of 40 done, about 1 min left. s03: graded</p>'
    """
    left = f", about {seconds_words(seconds / done * (total - done))} left" if 0 < done < total else ""
    return f"<p>{done} of {total} done{left}. {escape(item)}</p>"


def seconds_words(seconds: float) -> str:
    """Say a length of time as one says it.

    >>> seconds_words(0.4), seconds_words(12.2), seconds_words(100)
    ('less than 1 s', '12 s', '1 min 40 s')
    """
    if seconds < 1:
        return "less than 1 s"
    minutes, rest = divmod(round(seconds), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
