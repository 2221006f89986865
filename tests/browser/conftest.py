"""A JupyterLab of our own and a headless browser, both private to the test run."""

from __future__ import annotations

import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import nbformat
import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect, sync_playwright

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
BROWSER_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",  # nothing outside this machine is asked
]
WINDOW: ViewportSize = {"width": 1200, "height": 1000}
LOOK_MS = 50  # how often a condition is looked at; at every frame, the looking itself would keep a core busy
SETTINGS = {
    "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
    "notebook-extension/tracker": {"windowingMode": "none"},
    "docmanager-extension/plugin": {"autosave": False},
    "extensionmanager-extension/plugin": {"enabled": False},
}
PRIVATE = [
    "JUPYTER_CONFIG_DIR",
    "JUPYTER_DATA_DIR",
    "JUPYTER_RUNTIME_DIR",
    "IPYTHONDIR",
    "JUPYTERLAB_SETTINGS_DIR",
    "JUPYTERLAB_WORKSPACES_DIR",
]
# Without the reference, the Notebook interface would open a tab of the browser.
_OPEN_HERE = """path => jupyterapp.commands.execute(
  "docmanager:open", {path, options: {ref: "_noref"}}
).then(() => true)"""
_READY = """() => {
  const session = jupyterapp.shell.currentWidget?.sessionContext;
  const kernel = session?.session?.kernel;
  return Boolean(session?.isReady && kernel?.status === 'idle' && kernel.connectionStatus === 'connected');
}"""
_ALL_RAN = """() => {
  if (document.querySelector("[data-mime-type='application/vnd.jupyter.error']")) return true;
  const panel = jupyterapp.shell.currentWidget;
  const cells = panel.content.model.cells;
  for (let i = 0; i < cells.length; i++) {
    const cell = cells.get(i);
    if (cell.type === 'code' && cell.sharedModel.getSource().trim() && !cell.executionCount) return false;
  }
  return panel.sessionContext.session.kernel.status === 'idle';
}"""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Print how long each lesson took, as far as the tests measured it."""
    rows = [
        dict(report.user_properties)
        for outcome in ("passed", "failed")
        for report in terminalreporter.getreports(outcome)
        if report.when == "call" and any(name == "lesson_timed" for name, _ in report.user_properties)
    ]
    if rows:
        terminalreporter.section("how long a learner waits, in the Notebook interface")
        terminalreporter.write_line(f"{'lesson':26} {'run all, s':>10} {'reply, ms':>10}  to")
    for row in sorted(rows, key=lambda row: row["lesson_timed"]):
        reply = f"{row.get('reply_ms', float('nan')):10.0f}"
        terminalreporter.write_line(
            f"{row['lesson_timed']:26} {row['run_all_s']:10.1f} {reply}  {row.get('replied', '')}"
        )
    if rows:
        terminalreporter.write_line(f"{'all together':26} {sum(row['run_all_s'] for row in rows):10.1f}")


@dataclass(frozen=True)
class Server:
    """A running JupyterLab: its folder, port and token."""

    root: Path
    port: int
    token: str

    def url(self, view: str, notebook: str) -> str:
        """Return the address of a notebook in ``doc`` (JupyterLab) or ``notebooks`` (Notebook)."""
        path = f"doc/tree/{notebook}" if view == "doc" else f"notebooks/{notebook}"
        return f"http://127.0.0.1:{self.port}/{path}?token={self.token}"


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    base = tmp_path_factory.mktemp("jupyter")
    root = base / "lessons"
    shutil.copytree(LESSONS, root, ignore=shutil.ignore_patterns("progress.json", ".*"))
    for path in root.glob("*.ipynb"):
        _forget_outputs(path)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    running = Server(root, port, secrets.token_hex(16))
    environment = _environment(base, running.token)
    with (base / "server.log").open("w") as log:
        process = subprocess.Popen(_command(running), env=environment, cwd=root, stdout=log, stderr=log)
        try:
            _wait_for(running, process)
            yield running
        finally:
            process.terminate()
            process.wait(timeout=20)


def _forget_outputs(path: Path) -> None:
    """Take the stored outputs out of a notebook: what they show could be taken for what a cell gave now."""
    notebook = nbformat.read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    nbformat.write(notebook, path)


def _environment(base: Path, token: str) -> dict[str, str]:
    environment = os.environ | {name: str(base / name.lower()) for name in PRIVATE}
    # A fresh copy of the course is compiled once, not again in each of some sixty kernels.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    for plugin, setting in SETTINGS.items():
        path = base / "jupyterlab_settings_dir" / "@jupyterlab" / f"{plugin}.jupyterlab-settings"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(setting))
    return environment | {"JUPYTER_TOKEN": token, "JUPYTER_PLATFORM_DIRS": "1"}


def _command(server: Server) -> list[str]:
    options = {
        "ServerApp.ip": "127.0.0.1",
        "ServerApp.port": server.port,
        "ServerApp.port_retries": 0,
        "ServerApp.root_dir": server.root,
        "ServerApp.terminals_enabled": False,
        "LabApp.news_url": None,
        "LabApp.check_for_updates_class": "jupyterlab.handlers.announcements.NeverCheckForUpdate",
        "LabApp.extension_manager": "readonly",
        "LabApp.expose_app_in_browser": True,
        "JupyterNotebookApp.expose_app_in_browser": True,
    }
    flags = [f"--{name}={value}" for name, value in options.items()]
    return [sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", *flags]


def _wait_for(server: Server, process: subprocess.Popen[bytes]) -> None:
    request = urllib.request.Request(
        f"http://127.0.0.1:{server.port}/api/status", headers={"Authorization": f"token {server.token}"}
    )
    end = time.monotonic() + 120
    while time.monotonic() < end and process.poll() is None:
        try:
            urllib.request.urlopen(request, timeout=2).close()
        except OSError:
            time.sleep(0.2)
        else:
            return
    raise RuntimeError(f"JupyterLab did not start: see {server.root.parent / 'server.log'}")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine: install the system's chromium package")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=BROWSER_FLAGS)
        yield browser
        browser.close()


@dataclass(frozen=True)
class Pictures:
    """Pictures of what a test saw, for people to look at: of one test file, only where they are asked for."""

    folder: Path | None

    def take(self, box: Locator, name: str) -> None:
        """Bring something into view, see that it shows, and take its picture."""
        box.scroll_into_view_if_needed()
        expect(box).to_be_visible()
        if self.folder is not None:
            box.page.wait_for_timeout(150)
            box.screenshot(path=self.folder / f"{name}.png")

    def take_each(self, boxes: Locator, name: str) -> None:
        """See that each of some boxes shows, and take the picture of each."""
        expect(boxes.first).to_be_visible()
        expect(boxes.filter(visible=False)).to_have_count(0)
        if self.folder is not None:
            for nth, box in enumerate(boxes.all()):
                self.take(box, f"{name}-{nth:02}")


@pytest.fixture(scope="module")
def pictures(request: pytest.FixtureRequest) -> Pictures:
    """Pictures go to the folder that ``BRAKECOURSE_PICTURES`` names; without it none is taken."""
    chosen = os.environ.get("BRAKECOURSE_PICTURES")
    if not chosen:
        return Pictures(None)
    folder = Path(chosen) / request.path.stem.removeprefix("test_")
    folder.mkdir(parents=True, exist_ok=True)
    return Pictures(folder)


class Lab:
    """What a person does in a notebook page, as short verbs."""

    def __init__(self, page: Page, server: Server) -> None:
        self.page, self.server = page, server
        self.run_all_s = 0.0
        self.view = ""

    def open(self, notebook: str, view: str = "doc") -> None:
        """Open a notebook on a fresh page and wait until its kernel is ready."""
        self.turn_page()
        self.page.goto(self.server.url(view, notebook))
        self.page.wait_for_function("window.jupyterapp !== undefined", polling=LOOK_MS)
        self.page.evaluate("jupyterapp.restored.then(() => true)")
        self._wait_until_ready()
        self.view = view

    def open_next(self, notebook: str, view: str = "doc") -> None:
        """Open a notebook in the place of the one open there: no script starts again."""
        if self.view != view or self.page.locator(".jp-Dialog").count():
            self.open(notebook, view)
            return
        self.page.set_viewport_size(WINDOW)
        self.page.evaluate("jupyterapp.shell.currentWidget.dispose()")
        expect(self.page.locator(".jp-Notebook")).to_have_count(0)
        _stop_kernels(self.server)
        self.page.evaluate(_OPEN_HERE, notebook)
        self._wait_until_ready()

    def _wait_until_ready(self) -> None:
        self.page.locator(".jp-Notebook .jp-Cell").first.wait_for()
        self.page.wait_for_function(_READY, timeout=60_000, polling=LOOK_MS)

    def run_all(self) -> None:
        """Run every cell, wait until all have run, and fail on an error or a warning in an output.

        Outputs of before are cleared first: their numbers would look like those of cells that ran.
        """
        begun = time.monotonic()
        self.page.evaluate("jupyterapp.commands.execute('notebook:clear-all-cell-outputs')")
        self.page.evaluate("jupyterapp.commands.execute('notebook:run-all-cells')")
        self.page.wait_for_function(_ALL_RAN, timeout=60_000, polling=LOOK_MS)
        self.run_all_s = time.monotonic() - begun
        for kind in ("error", "stderr"):
            mime = f"application/vnd.jupyter.{kind}"
            expect(self.page.locator(f".jp-OutputArea-output[data-mime-type='{mime}']")).to_have_count(0)

    def activity(self, title: str, nth: int = 0) -> Locator:
        """Return an activity by the title in its box."""
        named = self.page.locator(".bc-title", has_text=title)
        return self.page.locator(".bc-activity").filter(has=named).nth(nth)

    def turn_page(self) -> None:
        """Close the page and its kernel, and take a new one in the same window, which keeps the scripts."""
        context = self.page.context
        self.page.close()
        _stop_kernels(self.server)
        self.page, self.view = context.new_page(), ""

    @contextmanager
    def narrow(self) -> Iterator[None]:
        """Make the page as narrow as a phone, and at the end as wide as it was."""
        before = self.page.viewport_size or WINDOW
        self.page.set_viewport_size({"width": 420, "height": 1000})
        try:
            self.page.evaluate("jupyterapp.shell.collapseLeft?.()")
            self.page.wait_for_function(
                "document.querySelector('.bc-activity').clientWidth < 420", polling=LOOK_MS
            )
            yield
        finally:
            self.page.set_viewport_size(before)

    def cells(self) -> int:
        """Return how many cells the notebook has."""
        return self.page.evaluate("jupyterapp.shell.currentWidget.content.model.cells.length")


def wait_until_heard(page: Page) -> None:
    """Give the kernel a person's moment to take in what was chosen: a quicker press can overtake it."""
    page.wait_for_timeout(200)
    page.wait_for_function(_READY, polling=LOOK_MS)


@contextmanager
def visit(chromium: Browser, server: Server) -> Iterator[Lab]:
    """Open a fresh browser window on the server; at its end, nothing may have been asked of another host."""
    sharp = 1.5 if os.environ.get("BRAKECOURSE_PICTURES") else 1
    context = chromium.new_context(viewport=WINDOW, device_scale_factor=sharp)
    context.set_default_timeout(30_000)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    context.on("page", lambda page: page.on("websocket", lambda socket: asked.append(socket.url)))
    try:
        yield Lab(context.new_page(), server)
    finally:
        context.close()
        _stop_kernels(server)
    abroad = [url for url in asked if urlsplit(url).hostname not in {None, "127.0.0.1"}]
    assert asked and not abroad, abroad


@pytest.fixture(scope="session")
def window(chromium: Browser, server: Server) -> Iterator[Lab]:
    """One window for all lessons, to turn the pages of: it keeps JupyterLab's scripts, which take seconds."""
    with visit(chromium, server) as opened:
        yield opened


@pytest.fixture(scope="module")
def lesson(request: pytest.FixtureRequest, window: Lab) -> Lab:
    """The module's ``LESSON`` in JupyterLab, every cell run once."""
    (window.server.root / "progress.json").unlink(missing_ok=True)
    window.open_next(f"{request.module.LESSON}.ipynb")
    window.run_all()
    return window


def _stop_kernels(server: Server) -> None:
    def call(method: str, path: str) -> bytes:
        request = urllib.request.Request(
            f"http://127.0.0.1:{server.port}/api/{path}",
            method=method,
            headers={"Authorization": f"token {server.token}"},
        )
        with urllib.request.urlopen(request, timeout=10) as answer:
            return answer.read()

    for session in json.loads(call("GET", "sessions")):
        call("DELETE", f"sessions/{session['id']}")
