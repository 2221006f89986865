"""What a student gets: the vehicle, the drawings of the gauges, the questions.

Nothing in here tells an answer: no reading as a number, no seed, no situation.
"""

from __future__ import annotations

from typing import Any

from brakecourse import __version__
from brakecourse.marking import catalogue
from brakecourse.marking.catalogue import Question
from brakecourse.marking.paper import Paper, Sheet
from brakecourse.marking.sealed import Truth

FORMAT = 1
INVENTED = "This vehicle, its limits and its readings are invented. They fit no real car."


def work_order(asks: Paper, truth: Truth, student: str, attempt: int) -> dict[str, Any]:
    """Return the work order as plain JSON data."""
    sheet = asks.sheet(truth)
    return {
        "format": FORMAT,
        "course_version": __version__,
        "module": asks.module,
        "title": catalogue.title(asks.module),
        "student": student,
        "attempt": attempt,
        "vehicle": {
            "name": truth.vehicle,
            "fleet_number": truth.fleet_number,
            "facts": [list(fact) for fact in sheet.facts],
        },
        "complaint": truth.complaint,
        "notes": [INVENTED, *sheet.notes],
        "drawings": {name: {"svg": one.svg, "caption": one.caption} for name, one in sheet.drawings.items()},
        "questions": [_question(asked, sheet) for asked in catalogue.questions(asks.module)],
    }


def _question(asked: Question, sheet: Sheet) -> dict[str, Any]:
    listed = list(sheet.steps.get(asked.id, ())) or [choice.text for choice in asked.choices]
    return {
        "id": asked.id,
        "kind": asked.kind,
        "short": asked.short,
        "unit": asked.unit,
        "low": asked.low,
        "high": asked.high,
        "count": asked.count,
        "labels": list(sheet.labels.get(asked.id, ())),
        "choices": listed,
        "drawings": list(sheet.shown.get(asked.id, ())),
        "points": asked.points,
    }
