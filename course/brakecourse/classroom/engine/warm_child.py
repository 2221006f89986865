"""A forked child: it runs one notebook's cells and says what each put out.

This file runs inside the sandbox. What it says is believed no more than a student's own words: the code that
runs here can say anything itself. The frames are four bytes of length, then JSON.
"""

import base64
import builtins
import contextlib
import io
import json
import os
import random
import resource  # noqa: F401 (the limits need it, and a child should load nothing)
import signal
import socket
import sys
import tempfile
import time
import traceback
from typing import Any

import kernel_start  # type: ignore[import-not-found]  # they lie side by side in the sandbox
import warm_walls  # type: ignore[import-not-found]
from IPython.core.displayhook import DisplayHook
from IPython.core.displaypub import DisplayPublisher
from IPython.core.error import StdinNotImplementedError
from IPython.core.interactiveshell import InteractiveShell
from traitlets import Type
from traitlets.config import Config

KEPT_DATA = ("text/plain", "image/png", "application/vnd.brakecourse.answer+json")

_FLUSH_BYTES = 8_192
_FLUSH_S = 0.1


class Channel:
    """The child's end of its socket."""

    def __init__(self, own: socket.socket, most_bytes: int) -> None:
        self._own = own
        self._stream = own.makefile("rb")
        self._most = most_bytes
        self._said = 0

    def frame(self) -> Any:
        """Return the next order, or None when there is no grader any more."""
        head = self._stream.read(4)
        return json.loads(self._stream.read(int.from_bytes(head, "big"))) if len(head) == 4 else None

    def new_cell(self) -> None:
        """Forget how much the last cell put out."""
        self._said = 0

    def say(self, kind: str, content: object) -> None:
        """Say one thing whole: a cell that is interrupted must not leave half of it on the way."""
        body = json.dumps([kind, content], default=repr).encode()
        if kind == "stream":
            # A flood of print costs the grader nothing. It keeps less than this anyway.
            self._said += len(body)
            if self._said > self._most:
                return
        signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT,))
        try:
            self._own.sendall(len(body).to_bytes(4, "big") + body)
        finally:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, (signal.SIGINT,))


class OutStream(io.TextIOBase):
    """Standard output or error of the cells. Libraries know by this name that they are in a notebook."""

    encoding = "utf-8"

    def __init__(self, name: str, number: int) -> None:
        self.name = name
        self._number = number
        self._parts: list[str] = []
        self._size = 0
        self._flushed = 0.0

    def write(self, text: str) -> int:
        """Put text out, soon."""
        if not isinstance(text, str):
            raise TypeError(f"write() argument must be str, not {type(text)}")
        for other in (sys.stdout, sys.stderr):
            if other is not self and isinstance(other, OutStream):
                other.flush()  # what was written first comes first
        self._parts.append(text)
        self._size += len(text)
        # Whole lines go out at once now and then: a cell that ends its child has then said them.
        late = text.endswith("\n") and time.monotonic() - self._flushed > _FLUSH_S
        if late or self._size > _FLUSH_BYTES:
            self.flush()
        return len(text)

    def flush(self) -> None:
        """Put out what was written."""
        if self._parts:
            parts, self._parts, self._size = self._parts, [], 0
            self._flushed = time.monotonic()
            _say("stream", {"name": self.name, "text": "".join(parts)})

    def fileno(self) -> int:
        """The number of the file that programs started by a cell write to."""
        return self._number

    def writable(self) -> bool:
        """Always."""
        return True


class Publisher(DisplayPublisher):
    """Puts out what a cell displays."""

    def publish(
        self, data: Any, metadata: Any = None, source: Any = None, *, update: Any = False, **_: Any
    ) -> None:
        """Put out the kinds of data that are kept. Updates could change another cell's outputs."""
        _flush()
        kept = {kind: data[kind] for kind in KEPT_DATA if kind in data}
        if kept and not update:
            _say("display_data", {"data": _as_text(kept)})

    def clear_output(self, wait: bool = False) -> None:
        """Nothing: what was put out stays."""


class Hook(DisplayHook):
    """Puts out the value of a cell's last line."""

    def start_displayhook(self) -> None:
        """Begin."""
        self._data: dict[str, Any] = {}

    def write_output_prompt(self) -> None:
        """The number goes with the data."""

    def write_format_data(self, format_dict: Any, md_dict: Any = None) -> None:
        """Keep the data."""
        self._data = {kind: format_dict[kind] for kind in KEPT_DATA if kind in format_dict}

    def finish_displayhook(self) -> None:
        """Put it out."""
        _flush()
        if self._data:
            _say("execute_result", {"data": _as_text(self._data), "execution_count": self.prompt_count})


class Shell(InteractiveShell):
    """IPython, saying what it has to say through the socket."""

    display_pub_class = Type(Publisher)
    displayhook_class = Type(Hook)
    asked_to_end = False

    def init_io(self) -> None:
        """The streams are put in place when a child begins."""

    def init_display_formatter(self) -> None:
        """As in a notebook: every kind of data is asked for."""
        super().init_display_formatter()
        formatter: Any = self.display_formatter
        formatter.active_types = formatter.format_types

    def ask_exit(self) -> None:
        """`exit()` was called."""
        self.asked_to_end = True

    def enable_gui(self, gui: object = None) -> None:
        """There are no windows."""

    def _showtraceback(self, etype: Any, evalue: Any, stb: Any) -> None:
        _flush()
        _say(
            "error",
            {
                "ename": str(etype.__name__),
                "evalue": _words(evalue),
                "traceback": [str(line) for line in stb],
            },
        )


_channel: Channel | None = None


def load() -> Shell:
    """Make the interpreter. No file is opened and no thread started for its history."""
    config = Config()
    config.HistoryManager.enabled = False
    shell = Shell.instance(config=config)
    return shell


def first_times(shell: Shell) -> None:
    """Do once what costs much the first time only: an error with its traceback, a display, a print."""
    # Nothing of it stays: no number, no name, no history.
    shell.run_cell("from IPython.display import display as _d; _d('first'); print('first')\n1/0", silent=True)
    shell.run_cell("[1.0]", silent=True)
    del shell.user_ns["_d"]
    shell.reset(new_session=True)


def live(shell: Shell, own: socket.socket, processes: int, shown_in_tmp: list[str]) -> None:
    """Run one notebook: build the walls, then run cells as they are ordered, until there are no more."""
    global _channel
    os.setsid()
    os.nice(5)  # whoever watches over it comes first
    _channel = channel = Channel(own, 0)
    order = channel.frame()
    channel._most = 2 * order["output_bytes"]
    files = {name: base64.b64decode(content) for name, content in order["files"].items()}
    try:
        warm_walls.build(files, order["scratch_bytes"], shown_in_tmp)
        spill = _catch_what_programs_print()
        kernel_start.set_limits(
            order["cpu_s"], order["memory_bytes"], order["file_bytes"], order["open_files"], processes
        )
        _fresh_chance()
    except OSError as error:
        channel.say("trouble", str(error))
        return
    sys.stdout, sys.stderr = OutStream("stdout", 1), OutStream("stderr", 2)
    builtins.input = _no_input
    channel.say("begun", None)
    while (order := channel.frame()) is not None:
        channel.new_cell()
        _run(shell, order["source"])
        with contextlib.suppress(KeyboardInterrupt):
            spill()
        channel.say("done", {"asked_to_end": shell.asked_to_end})


def _run(shell: Shell, source: str) -> None:
    """Run one cell. An interruption can come at any moment, and ends only this cell."""
    shell.asked_to_end = False
    try:
        try:
            signal.signal(signal.SIGINT, signal.default_int_handler)
            shell.run_cell(source, store_history=True)
        finally:
            signal.signal(signal.SIGINT, signal.SIG_IGN)
    except KeyboardInterrupt:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    except BaseException:
        # IPython shows errors itself; this is one of its own, such as a broken display hook.
        _say("stream", {"name": "stderr", "text": traceback.format_exc()})
    with contextlib.suppress(Exception):
        _flush()


def _catch_what_programs_print() -> Any:
    """Let what other programs and libraries print go to a file; return what says it after a cell."""
    files = []
    for name, number in (("stdout", 1), ("stderr", 2)):
        file = os.open(f"/tmp/.{name}", os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
        os.unlink(f"/tmp/.{name}")
        os.dup2(file, number)
        files.append((name, file))

    def spill() -> None:
        for name, file in files:
            if size := os.fstat(file).st_size:
                text = os.pread(file, 500_000, 0).decode(errors="replace")
                os.ftruncate(file, 0)
                _say("stream", {"name": name, "text": text if size <= 500_000 else text + "…"})

    return spill


def _fresh_chance() -> None:
    """Forget what every child would share: the state of chance, names of temporary files."""
    random.seed()
    numpy = sys.modules.get("numpy.random")
    if numpy is not None:
        numpy.seed()
    tempfile._name_sequence = None  # type: ignore[attr-defined]
    tempfile.tempdir = None


def _say(kind: str, content: object) -> None:
    if _channel is not None:
        _channel.say(kind, content)


def _flush() -> None:
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, OutStream):
            stream.flush()


def _no_input(*_: object, **__: object) -> str:
    raise StdinNotImplementedError("raw_input was called, but this frontend does not support input requests.")


def _as_text(data: dict[str, Any]) -> dict[str, Any]:
    """Bytes of a picture travel as text, as in a notebook's file."""
    return {
        kind: base64.b64encode(value).decode("ascii") if isinstance(value, bytes) else value
        for kind, value in data.items()
    }


def _words(value: object) -> str:
    try:
        return str(value)
    except Exception:
        return "(an error without words)"
