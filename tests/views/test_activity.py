"""The base of every activity, and the rules that all of them keep."""

from __future__ import annotations

import importlib
import pkgutil
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import brakecourse.views
import ipywidgets as widgets
import pytest
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair
from brakecourse.views.progress import Progress
from brakecourse.views.shortcuts import Shortcuts

for _module in pkgutil.iter_modules(brakecourse.views.__path__):
    importlib.import_module(f"brakecourse.views.{_module.name}")


def kinds(base: type[Activity] = Activity) -> Iterator[type[Activity]]:
    """Yield every activity that the lessons use: each class of the course with a title; a base has none."""
    for kind in base.__subclasses__():
        if kind.__module__.startswith("brakecourse.") and kind.title != Activity.title:
            yield kind
        yield from kinds(kind)


KINDS = sorted(set(kinds()), key=lambda kind: kind.__name__)
each_kind = pytest.mark.parametrize(
    "kind", [pytest.param(kind, marks=pytest.mark.slow) for kind in KINDS], ids=lambda kind: kind.__name__
)


class Bell(Activity):
    """The smallest activity."""

    title = "Ring?"
    task = "Ring the <bell> & listen."

    def picture(self) -> str:
        return '<svg xmlns="http://www.w3.org/2000/svg"><title>A "bell" #1</title></svg>'

    def words(self) -> str:
        return "A bell & a <rope>."


def inside(widget: widgets.Widget) -> Iterator[widgets.Widget]:
    """Yield a widget and everything in it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from inside(child)


def made(kind: type[Activity], folder: Path) -> Any:
    return kind(progress=Progress(folder / "progress.json"))


def test_the_kinds_of_activity_are_found() -> None:
    assert {kind.__name__ for kind in KINDS} >= {
        *("SetMicrometer", "ReadMicrometer", "WhereToMeasure", "EightPlaces", "TurnRotor", "RunOutPlot"),
        *("LimitCalculator", "CutToTrue", "DecideRotor", "MyProgress"),
    }
    assert "Quiz" not in {kind.__name__ for kind in KINDS}  # a base only
    assert len({kind.__name__ for kind in KINDS}) == len(KINDS)


@pytest.mark.usefixtures("somebody_listens")
def test_without_a_kernel_picture_and_words_stand_in_its_place(tmp_path: Path) -> None:
    bundle = made(Bell, tmp_path)._repr_mimebundle_()
    assert bundle["text/plain"] == "Ring? A bell & a <rope>. (Run this cell to use it.)"
    assert bundle["image/svg+xml"] == Bell.picture(None)  # type: ignore[arg-type]
    assert "Ring? A bell &amp; a &lt;rope&gt;." in bundle["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in bundle  # a running notebook shows the controls


def test_the_picture_in_the_figure_is_whole_although_it_travels_as_an_address(tmp_path: Path) -> None:
    from urllib.parse import unquote

    html = made(Bell, tmp_path)._repr_mimebundle_()["text/html"]
    (source,) = re.findall(r'<img src="data:image/svg\+xml;charset=utf-8,([^"]*)"', html)
    assert unquote(source) == Bell.picture(None)  # type: ignore[arg-type]
    assert not set(source) & set('<>"#')


def test_the_reply_is_announced_and_its_words_are_only_words(tmp_path: Path) -> None:
    bell = made(Bell, tmp_path)
    bell.say("5 < 6 & <b>right</b>.", "", "Next.")
    assert bell.reply() == "5 < 6 & <b>right</b>. Next."
    html = bell._reply.value
    assert html.startswith('<p role="status" aria-live="polite"') and "<b>" not in html


@pytest.mark.parametrize("name", ["Bell", "b ell", "1bell", 'b"', ""])
def test_a_name_that_cannot_be_an_id_is_refused_or_replaced(name: str, tmp_path: Path) -> None:
    if name:
        with pytest.raises(ValueError, match="small letters, digits and hyphens"):
            Bell(name)
    else:
        assert Bell(name).uid == "bell"


def test_an_answer_counts_once_however_often_it_is_checked(tmp_path: Path) -> None:
    bell = made(Bell, tmp_path)
    for answer in ("soft", "soft", "loud", "soft"):
        bell.count(answer, right=answer == "loud")
    (tally,) = bell._record.tallies()
    assert (tally.activity, tally.tries, tally.right) == ("bell", 2, 1)


def test_progress_that_cannot_be_saved_is_told_with_the_reply_and_the_activity_goes_on(
    tmp_path: Path,
) -> None:
    bell = Bell(progress=Progress(tmp_path / "no such folder" / "progress.json"))
    from brakecourse.views.replies import Reply

    assert bell.judge("3", lambda number: Reply(number == 3, "Right."), "task") is True
    assert bell.reply().startswith("Right. Your progress could not be saved")


@each_kind
def test_each_activity_has_a_sound_named_drawing_that_begins_its_ids_with_its_name(
    kind: type[Activity], tmp_path: Path
) -> None:
    activity = kind(name="other-name", progress=Progress(tmp_path / "progress.json"))
    root = ET.fromstring(activity.picture())
    ids = {element.get("id") for element in root.iter()} - {None}
    assert ids and all(str(one).startswith("other-name") for one in ids)
    assert root.get("role") == "img"
    assert set(str(root.get("aria-labelledby")).split()) <= ids
    assert activity.words().strip().endswith((".", "?"))


@each_kind
def test_each_activity_draws_and_says_the_same_when_made_again(kind: type[Activity], tmp_path: Path) -> None:
    one, other = (made(kind, tmp_path)._repr_mimebundle_() for _ in range(2))
    for mime in ("text/plain", "text/html", "image/svg+xml"):
        assert one[mime] == other[mime]


@each_kind
def test_each_activity_carries_the_helper_and_a_reply_before_it(kind: type[Activity], tmp_path: Path) -> None:
    activity = made(kind, tmp_path)
    assert sum(isinstance(child, Shortcuts) for child in activity.children) == 1
    assert "bc-activity" in activity._dom_classes and "bc-reply" in activity._reply._dom_classes


@each_kind
def test_each_control_has_a_name_and_each_slider_a_box_to_type_in(
    kind: type[Activity], tmp_path: Path
) -> None:
    forbidden = (widgets.Output, widgets.Play, widgets.ColorPicker, widgets.Image)
    found = list(inside(made(kind, tmp_path)))
    pairs = [widget for widget in found if isinstance(widget, NumberPair)]
    for widget in found:
        assert not isinstance(widget, forbidden)
        if isinstance(widget, (widgets.IntSlider, widgets.FloatSlider)):
            assert widget.readout is False
        if hasattr(widget, "description") and not isinstance(widget, widgets.HTML):
            assert widget.description.strip() and widget.tooltip, widget
    sliders = [one for one in found if isinstance(one, (widgets.IntSlider, widgets.FloatSlider))]
    assert len(pairs) == len(sliders)


@each_kind
def test_nothing_is_recorded_before_the_learner_acts(kind: type[Activity], tmp_path: Path) -> None:
    made(kind, tmp_path)
    assert not (tmp_path / "progress.json").exists()


def test_the_helper_ships_its_script_and_style_and_stays_out_of_sight() -> None:
    helper = Shortcuts()
    assert helper.layout.display == "none"
    assert "data-lm-suppress-shortcuts" in helper._esm and ".bc-activity" in helper._css
