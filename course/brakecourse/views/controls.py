"""The controls that activities are built from, each with a name, a typed way in, and no colour of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets
from traitlets import link

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
    """

    def __init__(self, description: str, check: Callable[[str], object], placeholder: str = "") -> None:
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


def row(*children: widgets.Widget) -> widgets.HBox:
    """Return controls side by side, wrapping on a narrow page."""
    return widgets.HBox(
        list(children), layout={"flex_flow": "row wrap", "align_items": "flex-start", "grid_gap": "4px 16px"}
    )


def read_number(text: str) -> float:
    """Turn what a person types into a number: ``23.87``, ``23,87``, ``23.87 mm``.

    Raises:
        ValueError: with the sentence to show: empty, not a number, or in another unit.

    >>> read_number(" 23,87 mm ")
    23.87
    """
    typed = text.strip().lower()
    if not typed:
        raise ValueError("The box is still empty: type a number of millimetres, for example 12.34.")
    found = text.strip() if len(text.strip()) <= 40 else f"{text.strip()[:40]}…"
    for unit in ("millimetres", "millimeters", "mm"):
        typed = typed.removesuffix(unit).strip()
    try:
        number = float(typed.replace(",", ".").replace("−", "-"))
    except ValueError:
        raise ValueError(
            f"A number of millimetres was expected, for example 12.34, but the box holds “{found}”; "
            "type digits only."
        ) from None
    if not -1000 < number < 1000:
        raise ValueError(f"A number below 1000 mm was expected, but the box holds “{found}”; type it again.")
    return number
