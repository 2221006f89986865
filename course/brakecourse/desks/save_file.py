"""Buttons that bring a file from the class to the person: to save it, or to look at it in a tab.

The file's bytes come through the notebook's own connection, so it does not matter where the class lies.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from brakecourse.desks.shell import in_one_sentence

if TYPE_CHECKING:
    from brakecourse.desks.shell import Desk

_PART = 4_000_000
"""So many bytes go in one message."""


@dataclass(frozen=True)
class File:
    """A file that goes to the person: its name, its bytes, and what kind of file it is."""

    name: str
    content: bytes
    kind: str = "application/octet-stream"


@dataclass(frozen=True)
class Steps:
    """Addresses under the notebook server to visit one after another; the last one is shown.

    Attributes:
        addresses: without the server's own part.
        otherwise: what to say when the last one can't be had.
    """

    addresses: tuple[str, ...]
    otherwise: str


class SaveFile(anywidget.AnyWidget):
    """A button that gets something when it is pressed.

    Args:
        desk: where trouble is said.
        words: what stands on it.
        get: returns the file or the addresses.
        opens: whether it is shown in a tab; else it is saved.
    """

    _esm = Path(__file__).with_name("save_file.js").read_text(encoding="utf-8")
    words = traitlets.Unicode().tag(sync=True)
    able = traitlets.Bool(True).tag(sync=True)
    opens = traitlets.Bool(False).tag(sync=True)

    def __init__(self, desk: Desk, words: str, get: Callable[[], File | Steps], opens: bool = False) -> None:
        self._desk, self._get = desk, get
        super().__init__(words=words, opens=opens)
        self.layout.width = "max-content"
        self.on_msg(self._asked)

    def _asked(self, _widget: object, _content: object, _buffers: object) -> None:
        self.press()

    def press(self) -> None:
        """Get it and send it, as when the button is pressed."""
        try:
            found = self._get()
        except Exception as error:
            self._desk.trouble(in_one_sentence(error))
            self._tell({"trouble": True})
            return
        if isinstance(found, Steps):
            self._tell({"steps": list(found.addresses), "otherwise": found.otherwise})
        else:
            places = range(0, max(1, len(found.content)), _PART)
            for at in places:
                about = {"name": found.name, "kind": found.kind, "last": at + _PART >= len(found.content)}
                self._tell(about, [found.content[at : at + _PART]])

    def _tell(self, content: dict[str, Any], buffers: Sequence[bytes] = ()) -> None:
        self.send(content, list(buffers))
