"""The kinds of answer that a question can want."""

from __future__ import annotations

from typing import Literal

Kind = Literal["table", "number", "choice", "sequence", "written", "task"]
