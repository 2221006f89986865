"""Let the mouse move the cards of a picture: see ``card_drag.js``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import anywidget


class CardDrag(anywidget.AnyWidget):
    """An invisible helper: a card of the picture was dropped onto another, or clicked.

    The keyboard does all of it too; this only adds the mouse.

    Args:
        dropped: called with the ids of the moved card and of the one it was dropped onto; both are the same
            for a click.
    """

    _esm = Path(__file__).with_name("card_drag.js").read_text(encoding="utf-8")

    def __init__(self, dropped: Callable[[str, str], object], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.layout.display = "none"
        self._dropped = dropped
        self.on_msg(self._receive)

    def _receive(self, _: object, content: Any, __: object) -> None:
        if isinstance(content, dict) and {"card", "onto"} <= content.keys():
            self._dropped(str(content["card"]), str(content["onto"]))
