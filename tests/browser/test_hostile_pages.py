"""Pages that show a hostile student's work run nothing of it, in a real browser.

The student's feedback page, and the page on which a teacher grades by hand in nbgrader's own form grader.
"""

from __future__ import annotations

import json
import os
import secrets
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from brakecourse.classroom.folder import ClassFolder
from nbgrader.api import Gradebook
from playwright.sync_api import Browser, BrowserContext, Page

from tests.attacks.attacked import Attacked, attacked_class
from tests.attacks.registry import ATTACKS
from tests.classroom.engine_class import MODULE

pytestmark = [pytest.mark.sandbox, pytest.mark.timeout(300)]
_MOUSE_EVERYWHERE = """() => {
  for (const place of document.querySelectorAll("*")) {
    for (const kind of ["mouseover", "focus", "toggle", "pointerenter"]) {
      place.dispatchEvent(new MouseEvent(kind));
    }
  }
}"""
SCREEN = [one for one in ATTACKS.values() if one.group == "The screen"]


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Attacked]:
    with attacked_class(tmp_path_factory.mktemp("hostile"), SCREEN) as done:
        yield done


@pytest.fixture(scope="module")
def form_grader(attacked: Attacked) -> Iterator[str]:
    """The address of a server with nbgrader's form grader, started in the class folder."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    token = secrets.token_hex(16)
    root = attacked.cls.root
    own = root.parent / "jupyter"
    environment = os.environ | {
        name: str(own)
        for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")
    }
    options = {
        "ip": "127.0.0.1", "port": port, "port_retries": 0, "root_dir": root, "open_browser": False,
        "jpserver_extensions": {"nbgrader.server_extensions.formgrader": True},
    }  # fmt: skip
    command = [sys.executable, "-m", "jupyter_server", "--allow-root"]
    command += [f"--ServerApp.{name}={value}" for name, value in options.items()]
    with (root.parent / "server.log").open("w") as log:
        process = subprocess.Popen(
            command, env=environment | {"JUPYTER_TOKEN": token}, cwd=root, stdout=log, stderr=log
        )
        try:
            _wait_for(
                f"http://127.0.0.1:{port}/api/status?token={token}", process, root.parent / "server.log"
            )
            yield f"http://127.0.0.1:{port}/formgrader/submissions/{{}}/?token={token}"
        finally:
            process.terminate()
            process.wait(timeout=20)


def _wait_for(url: str, process: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + 60
    while time.monotonic() < end and process.poll() is None:
        try:
            json.load(urllib.request.urlopen(url, timeout=2))
        except OSError:
            time.sleep(0.2)
        else:
            return
    raise RuntimeError(log.read_text()[-3000:])


@dataclass
class Seen:
    """A page, and what it did."""

    page: Page
    asked: list[str] = field(default_factory=list)
    spoke: list[str] = field(default_factory=list)

    def acted(self) -> list[str]:
        """Everything that shows that something of the student's ran, or tried to call out."""
        # Whatever waits for the mouse or for a moment gets both.
        self.page.evaluate(_MOUSE_EVERYWHERE)
        self.page.wait_for_timeout(150)
        ran = ["a script ran"] if self.page.evaluate("Boolean(window.attacked)") else []
        links = self.page.locator("a[href^='javascript:window']").count()
        frames = [frame.url for frame in self.page.frames[1:]]
        called = [url for url in self.asked if "attacked" in url or urlsplit(url).port == 9]
        return [*ran, *["a link would run a script"] * links, *frames, *called, *self.spoke]


@pytest.fixture(scope="module")
def window(chromium: Browser) -> Iterator[BrowserContext]:
    """One window for all pages: it keeps the form grader's scripts. Of other hosts it gets no answer."""
    context = chromium.new_context()
    yield context
    context.close()


@contextmanager
def opened(window: BrowserContext, url: str) -> Iterator[Seen]:
    page = window.new_page()
    seen = Seen(page)
    page.on("request", lambda request: seen.asked.append(request.url))
    page.on("dialog", lambda dialog: (seen.spoke.append(dialog.message), dialog.dismiss()))
    page.goto(url)
    try:
        yield seen
    finally:
        page.close()
    assert not window.pages, [page.url for page in window.pages]


def submission_id(cls: ClassFolder, student: str) -> str:
    with Gradebook(f"sqlite:///{cls.gradebook_file}", course_id="brakecourse") as book:
        return str(book.find_submission_notebook(MODULE, MODULE, student).id)


def test_no_feedback_page_runs_anything_of_a_students(window: BrowserContext, attacked: Attacked) -> None:
    for name, student in attacked.student_of.items():
        with opened(window, attacked.cls.feedback_page(MODULE, student).as_uri()) as seen:
            assert seen.page.locator("article").count() == 9
            assert seen.acted() == [], name


def test_nbgraders_form_grader_runs_nothing_of_a_students(
    window: BrowserContext, attacked: Attacked, form_grader: str, pictures: Any
) -> None:
    for name, student in attacked.student_of.items():
        with opened(window, form_grader.format(submission_id(attacked.cls, student))) as seen:
            assert seen.page.locator("#q8_9").count() == 1, seen.page.content()[:2000]
            assert seen.acted() == [], name
            if name == "put_scripts_into_the_letter":
                letter = seen.page.locator(
                    ".nbgrader_cell pre code", has_text="<script>window.attacked=1</script>"
                )
                assert letter.count() == 1
                pictures.take(letter, "form_grader_letter")


def test_the_browser_would_have_seen_it(window: BrowserContext, attacked: Attacked, form_grader: str) -> None:
    """The same page of a notebook that nobody made harmless does run the student's scripts."""
    student = attacked.student_of["put_scripts_into_the_letter"]
    kept = attacked.cls.root / "autograded" / student / MODULE / f"{MODULE}.ipynb"
    good = kept.read_bytes()
    try:
        kept.write_bytes(attacked.cls.submitted_notebook(MODULE, student).read_bytes())
        with opened(window, form_grader.format(submission_id(attacked.cls, student))) as seen:
            assert "a script ran" in seen.acted()
    finally:
        kept.write_bytes(good)
