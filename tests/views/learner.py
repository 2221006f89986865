"""Every activity as its lesson makes it, and the hands of a learner who has a keyboard only."""

from __future__ import annotations

import ast
import csv
import importlib
import inspect
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

import ipywidgets as widgets
import nbformat
from brakecourse.tables import table_path
from brakecourse.views.activity import Activity, _slug
from brakecourse.views.progress import Progress

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"
SLIDERS = (widgets.IntSlider, widgets.FloatSlider)
BOXES = (widgets.BoundedIntText, widgets.BoundedFloatText)
LISTS = (widgets.RadioButtons, widgets.Dropdown, widgets.Select, widgets.ToggleButtons)
CONTROLS = (*SLIDERS, *BOXES, *LISTS, widgets.Checkbox, widgets.Button, widgets.Text)
"""The kinds of control that a browser lets the keyboard work."""


class Placed(NamedTuple):
    """An activity where a lesson makes it: the lesson, the name on the page, its class, the call's words."""

    lesson: str
    uid: str
    kind: type[Activity]
    args: tuple[Any, ...]
    kwargs: dict[str, Any]

    def make(self, folder: Path, session: int = 1) -> Any:
        """Make it as the lesson does, with a record of its own and the same chance in every run."""
        makers = [inspect.signature(base.__init__).parameters for base in self.kind.__mro__[:-1]]
        free = {"session": session} if any("session" in known for known in makers) else {}
        record = Progress(folder / "progress.json")
        return self.kind(*self.args, **(free | self.kwargs), progress=record)


def table() -> list[tuple[str, str, str]]:
    """Return lesson, name and title of every activity that the course's table names."""
    with table_path("course/activities.csv").open(encoding="utf-8", newline="") as handle:
        return [(row["lesson"], row["activity"], row["title"]) for row in csv.DictReader(handle)]


def placed() -> list[Placed]:
    """Return every activity of every lesson that is there."""
    return [one for path in sorted(LESSONS.glob("*.ipynb")) for one in _in_lesson(path)]


def _in_lesson(path: Path) -> Iterator[Placed]:
    names: dict[str, Any] = {}
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type != "code":
            continue
        body = ast.parse(cell.source).body
        for node in body:
            if isinstance(node, ast.ImportFrom) and str(node.module).startswith("brakecourse.views"):
                module = importlib.import_module(str(node.module))
                names |= {one.asname or one.name: getattr(module, one.name, None) for one in node.names}
        call = getattr(body[-1], "value", None) if body else None
        kind = names.get(getattr(call.func, "id", "")) if isinstance(call, ast.Call) else None
        if isinstance(call, ast.Call) and isinstance(kind, type) and issubclass(kind, Activity):
            args = tuple(ast.literal_eval(one) for one in call.args)
            kwargs = {str(one.arg): ast.literal_eval(one.value) for one in call.keywords}
            usual = inspect.signature(kind).parameters["name"].default or _slug(kind.__name__)
            uid = args[0] if args else kwargs.get("name", usual)
            yield Placed(path.stem, uid, kind, args, kwargs)


def inside(widget: Any) -> Iterator[Any]:
    """Yield a widget and everything in it that is shown."""
    if widget.layout.display != "none":
        yield widget
        for child in getattr(widget, "children", ()):
            yield from inside(child)


def controls(activity: Any) -> list[Any]:
    """Return what a learner can reach with Tab, in its order."""
    return [
        one
        for one in inside(activity)
        if hasattr(one, "description")
        and not isinstance(one, (widgets.HTML, widgets.Label))
        and not getattr(one, "disabled", False)
    ]


def press(button: Any) -> None:
    """Press a button; what its action raises comes out here (the widget library itself only logs it)."""
    for action in list(button._click_handlers.callbacks):
        action(button)


def ways(control: Any) -> list[Callable[[], None]]:
    """Return what the keyboard can do with a control, each as something to call."""
    if isinstance(control, widgets.Button):
        return [lambda: press(control)]
    if isinstance(control, widgets.Checkbox):
        return [lambda: setattr(control, "value", not control.value)]
    if isinstance(control, LISTS):
        return [lambda at=at: _choose(control, at) for at in range(len(control.options))]
    if isinstance(control, (*SLIDERS, *BOXES)):
        moves = (control.step, control.step, -control.step, -math.inf, math.inf, -10 * control.step)
        return [lambda by=by: _move(control, by) for by in moves]
    return [lambda typed=typed: setattr(control, "value", typed) for typed in ("", "7", "0.12", "no idea")]


def _choose(control: Any, at: int) -> None:
    if at < len(control.options):  # the list may have become shorter since
        control.index = at


def _move(control: Any, by: float) -> None:
    control.value = type(control.value)(min(control.max, max(control.min, control.value + by)))


def some_way(activity: Any, chance: Random) -> tuple[str, Callable[[], None]]:
    """Return one thing to do with some control of an activity, and its name."""
    control = chance.choice(controls(activity))
    return control.tooltip or control.description, chance.choice(ways(control))
