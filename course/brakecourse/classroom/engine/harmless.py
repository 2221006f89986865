"""Leave nothing of a student's in a judged notebook that could act on the screen of whoever opens it.

nbgrader's own pages show markdown as live HTML, raw cells as they are, and a cell's number as it came. So
what a student wrote in words becomes plain text in a fence, and of the outputs only plain text and real
pictures stay. Code needs nothing: those pages show it as text.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.healing import TemplateCell
from brakecourse.classroom.engine.nodes import new_output
from brakecourse.classroom.engine.reading import plain_text

MOST_PIXELS = 16_000_000
# The PNG specification (W3C/ISO 15948), from memory: a signature of eight bytes, then the header's length
# and name, then width and height as four bytes each.
_PNG = b"\x89PNG\r\n\x1a\n"
_PNG_SIZE = slice(16, 24)


def make_harmless(notebook: NotebookNode, template: Sequence[TemplateCell]) -> None:
    """Take everything live out of a notebook that was run. Its cells are changed in place.

    Args:
        notebook: healed and run.
        template: the cells that were handed out; what stands in them unchanged is the course's own.
    """
    handed_out = {cell.grade_id: cell.source for cell in template}
    for cell in notebook.cells:
        name = cell.metadata.get("nbgrader", {}).get("grade_id")
        if cell.cell_type == "code":
            cell.outputs = list(_harmless_outputs(cell.get("outputs", ())))
            cell.execution_count = _count(cell.get("execution_count"))
            cell.metadata.pop("execution", None)
        elif cell.source != handed_out.get(name):
            cell.cell_type, cell.source = "markdown", fenced(cell.source)


def fenced(text: str) -> str:
    """Return a text as Markdown that shows it letter by letter.

    >>> print(fenced("<b>So</b>"))
    ```
    <b>So</b>
    ```
    """
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * max(3, longest + 1)
    return f"{fence}\n{text}\n{fence}"


def _harmless_outputs(outputs: Iterable[Mapping[str, Any]]) -> Iterable[NotebookNode]:
    for output in outputs:
        kind = output.get("output_type")
        if kind == "stream":
            name = "stderr" if output.get("name") == "stderr" else "stdout"
            yield new_output("stream", name=name, text=plain_text(str(output.get("text", ""))))
        elif kind == "error":
            lines = [plain_text(str(line)) for line in output.get("traceback", ())]
            ename, evalue = (plain_text(str(output.get(key, ""))) for key in ("ename", "evalue"))
            yield new_output("error", ename=ename, evalue=evalue, traceback=lines)
        elif kind in ("display_data", "execute_result"):
            data = dict(_harmless_data(output.get("data", {})))
            if data:
                yield new_output("display_data", data=data)


def _harmless_data(data: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    text, picture = data.get("text/plain"), data.get("image/png")
    if isinstance(text, str):
        yield "text/plain", plain_text(text)
    if isinstance(picture, str) and (real := _picture(picture)):
        yield "image/png", real


def _picture(text: str) -> str:
    """Return a picture in base64, or nothing when it is none or a browser could choke on its size."""
    try:
        content = base64.b64decode("".join(text.split()), validate=True)
    except ValueError:
        return ""
    size = content[_PNG_SIZE]
    pixels = int.from_bytes(size[:4], "big") * int.from_bytes(size[4:], "big")
    real = content.startswith(_PNG) and 0 < pixels <= MOST_PIXELS
    return base64.b64encode(content).decode("ascii") if real else ""


def _count(value: object) -> int | None:
    return value if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 10**6 else None
