"""What a desk's page needs from the browser: which page is open, names for inputs, files to save."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget

_HERE = Path(__file__).parent


class Manners(anywidget.AnyWidget):
    """An invisible helper inside every desk: see ``manners.js``."""

    _esm = (_HERE / "manners.js").read_text(encoding="utf-8")
    _css = (_HERE / "desk.css").read_text(encoding="utf-8")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.layout.display = "none"
