"""Read a work order: the vehicle, the drawings of the gauges, and the questions. It holds no answers."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from brakecourse.errors import CourseError
from brakecourse.workorder.kinds import Kind

FILE_NAME = "work_order.json"
FORMAT = 1
LARGEST_BYTES = 20_000_000


@dataclass(frozen=True)
class Drawing:
    """One sealed drawing: SVG text and where it was taken."""

    svg: str
    caption: str


@dataclass(frozen=True)
class Question:
    """One question: which kind of answer it wants, in which unit and range, and the drawings to read."""

    id: str
    kind: Kind
    short: str
    unit: str
    low: float | None
    high: float | None
    count: int | None
    labels: tuple[str, ...]
    choices: tuple[str, ...]
    drawings: tuple[str, ...]
    points: float


@dataclass(frozen=True)
class WorkOrder:
    """A whole work order."""

    module: str
    title: str
    student: str
    attempt: int
    vehicle_name: str
    fleet_number: str
    facts: tuple[tuple[str, str], ...]
    complaint: str
    notes: tuple[str, ...]
    drawings: dict[str, Drawing]
    questions: dict[str, Question]


def load(path: Path) -> WorkOrder:
    """Read a work order from its file.

    Raises:
        CourseError: there is no such file, or it is no work order of this course.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise CourseError(_refusal(path, "it is far too large"))
        data = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise CourseError(
            f"The work order {FILE_NAME} was expected beside this notebook, but it is not there; "
            "unpack your kit again, and keep the notebook and the work order in one folder."
        ) from None
    except OSError as error:
        raise CourseError(_refusal(path, f"it cannot be read ({error.strerror})")) from None
    except (ValueError, RecursionError):
        raise CourseError(_refusal(path, "it is no JSON text")) from None
    try:
        return parse(data)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise CourseError(_refusal(path, f"its contents do not fit ({error})")) from None


def parse(data: Any) -> WorkOrder:
    """Return the work order that plain JSON data describes.

    Raises:
        KeyError, TypeError, ValueError, AttributeError: a part is missing or has another kind.
    """
    if data["format"] != FORMAT:
        raise ValueError(f"format {FORMAT} was expected, but found {data['format']!r}")
    drawings = {
        str(key): Drawing(str(one["svg"]), str(one["caption"])) for key, one in data["drawings"].items()
    }
    questions = [_question(one) for one in data["questions"]]
    missing = {key for one in questions for key in one.drawings} - set(drawings)
    if missing:
        raise ValueError(f"the drawings {sorted(missing)} are missing")
    vehicle = data["vehicle"]
    return WorkOrder(
        module=str(data["module"]),
        title=str(data["title"]),
        student=str(data["student"]),
        attempt=int(data["attempt"]),
        vehicle_name=str(vehicle["name"]),
        fleet_number=str(vehicle["fleet_number"]),
        facts=tuple((str(label), str(text)) for label, text in vehicle["facts"]),
        complaint=str(data["complaint"]),
        notes=tuple(str(note) for note in data["notes"]),
        drawings=drawings,
        questions={one.id: one for one in questions},
    )


def _question(one: dict[str, Any]) -> Question:
    if one["kind"] not in get_args(Kind):
        raise ValueError(f"question {one['id']} has the kind {one['kind']!r}")
    if one["kind"] == "table" and not isinstance(one["count"], int):
        raise ValueError(f"question {one['id']} is a table without a count")
    return Question(
        id=str(one["id"]),
        kind=one["kind"],
        short=str(one["short"]),
        unit=str(one["unit"]),
        low=_number(one["low"]),
        high=_number(one["high"]),
        count=one["count"],
        labels=tuple(str(label) for label in one["labels"]),
        choices=tuple(str(choice) for choice in one["choices"]),
        drawings=tuple(str(key) for key in one["drawings"]),
        points=float(one["points"]),
    )


def _number(value: Any) -> float | None:
    if value is None:
        return None
    found = float(value)
    if not math.isfinite(found):
        raise ValueError("a range is no finite number")
    return found


def _refusal(path: Path, why: str) -> str:
    return (
        f"A work order of this course was expected in {path.name}, but {why}; "
        "unpack your kit again, or ask your instructor for a new one."
    )
