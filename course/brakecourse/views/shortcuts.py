"""Make the controls of an activity safe and named: see ``shortcuts.js``."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget


class Shortcuts(anywidget.AnyWidget):
    """An invisible helper inside every activity.

    While a control has focus, it keeps the notebook's own one-letter commands away (else pressing ``d``
    twice on a slider deletes the lesson's cell). It also gives the controls the names and roles
    that a screen reader needs.
    """

    _esm = Path(__file__).with_name("shortcuts.js").read_text(encoding="utf-8")
    _css = Path(__file__).with_name("activity.css").read_text(encoding="utf-8")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.layout.display = "none"
