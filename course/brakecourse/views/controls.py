"""The controls that activities are built from, each with a name, a typed way in, and no colour of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets
from traitlets import link

from brakecourse.views.units import asked_unit, read_typed

_NAMED = {"description_width": "initial"}
_IN_LINE = {"description_width": "17em"}  # controls below each other line up


class NumberPair(widgets.HBox):
    """A slider and a typed number box that always agree. The number shows in the box only.

    Args:
        description: what it sets, with its unit.
        low, high, step: the range. Whole numbers make a whole-number slider.
    """

    def __init__(self, description: str, value: float, low: float, high: float, step: float) -> None:
        whole = all(isinstance(number, int) for number in (value, low, high, step))
        slider = widgets.IntSlider if whole else widgets.FloatSlider
        box = widgets.BoundedIntText if whole else widgets.BoundedFloatText
        numbers = {"value": value, "min": low, "max": high, "step": step}
        self.slider = slider(
            description=description,
            tooltip=description,
            readout=False,
            style=_IN_LINE,
            layout={"width": "540px"},
            **numbers,
        )
        self.box = box(
            description="or type it",
            tooltip=f"{description}, typed",
            style=_NAMED,
            layout={"width": "160px"},
            **numbers,
        )
        link((self.slider, "value"), (self.box, "value"), transform=(_tidy, _tidy))
        super().__init__([self.slider, self.box], layout={"flex_flow": "row wrap"})
        self.add_class("bc-pair")

    @property
    def value(self) -> float:
        """The number both show."""
        return self.slider.value

    @value.setter
    def value(self, number: float) -> None:
        self.slider.value = number

    def on_change(self, action: Callable[[Any], object]) -> None:
        """Call ``action`` with the change whenever the number changes."""
        self.slider.observe(action, "value")


class AnswerBox(widgets.HBox):
    """A box to type an answer in, and a button to check it; Enter checks too.

    Args:
        description: what to type, with its unit.
        check: called with the typed text.
        unit: the symbol of the asked unit, to show an example in the empty box; by default no example.
    """

    def __init__(
        self,
        description: str,
        check: Callable[[str], object],
        placeholder: str = "",
        unit: str | None = None,
    ) -> None:
        if unit is not None and not placeholder:
            asked = asked_unit(unit)
            placeholder = f"for example {asked.example}{asked.after}"
        self.box = widgets.Text(
            description=description,
            placeholder=placeholder,
            continuous_update=False,
            style=_IN_LINE,
            tooltip=description,
            layout={"width": "420px"},
        )
        self.button = widgets.Button(
            description="Check", tooltip=f"Check: {description}", layout={"width": "max-content"}
        )
        self.box.observe(lambda change: check(change["new"]) if change["new"].strip() else None, "value")
        self.button.on_click(lambda _: check(self.box.value))
        super().__init__([self.box, self.button], layout={"flex_flow": "row wrap"})

    def clear(self) -> None:
        """Empty the box."""
        self.box.value = ""


def _tidy(number: float) -> float:
    return round(number, 4)  # a slider's 22.070000000000004 is typed as 22.07


def choice(description: str, options: Sequence[str], value: str | None = None) -> widgets.RadioButtons:
    """Return radio buttons, one of them chosen, or none when ``value`` is None."""
    return widgets.RadioButtons(
        description=description,
        options=list(options),
        value=value,
        style=_NAMED,
        tooltip=description,
        layout={"width": "max-content", "max_width": "100%"},
    )


def tick(description: str, *, value: bool) -> widgets.Checkbox:
    """Return a box to tick."""
    return widgets.Checkbox(
        description=description,
        value=value,
        indent=False,
        tooltip=description,
        layout={"width": "max-content"},
    )


def button(description: str, action: Callable[[], object]) -> widgets.Button:
    """Return a button with words on it."""
    made = widgets.Button(description=description, tooltip=description, layout={"width": "max-content"})
    made.on_click(lambda _: action())
    return made


def dropdown(description: str, options: Sequence[str], value: str) -> widgets.Dropdown:
    """Return a list to choose one line from: for more choices than radio buttons hold well."""
    return widgets.Dropdown(
        description=description,
        options=list(options),
        value=value,
        style=_NAMED,
        tooltip=description,
        layout={"width": "max-content", "max_width": "100%"},
    )


def row(*children: widgets.Widget) -> widgets.HBox:
    """Return controls side by side, wrapping on a narrow page."""
    return widgets.HBox(
        list(children), layout={"flex_flow": "row wrap", "align_items": "flex-start", "grid_gap": "4px 16px"}
    )


def read_number(text: str, unit: str = "mm") -> float:
    """Turn what a person types into a number in the asked unit: ``23.87``, ``23,87 mm``, ``0.94 in``.

    Args:
        text: what stands in the box.
        unit: the symbol of the asked unit, one of :data:`brakecourse.views.units.UNITS`.

    Raises:
        ValueError: with the sentence to show: empty, not a number, or in a unit that does not fit.

    >>> read_number(" 23,87 mm ")
    23.87
    >>> read_number("400 kPa", "MPa")
    0.4
    """
    return read_typed(text, unit).number
