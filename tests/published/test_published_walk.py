"""Three steps: from any number that a learner sees to its formula, to its source, to the check of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from brakecourse import published

from tests.published import checks_page
from tests.published.comparison import PROPERTY, Compare, Row, table
from tests.published.conftest import HERE, asked_for
from tests.trade.refusals import public_functions

FUNCTIONS = public_functions()


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_function_names_where_its_formula_comes_from(name: str) -> None:
    source = checks_page.source_of(FUNCTIONS[name])
    assert len(source.split()) > 1, "a law, a standard, a published row, or 'common practice, no source'"
    named = set(re.findall(r"`([a-z0-9]+_\w+)`", source))
    known = {function.partition(".")[2] for function in FUNCTIONS} | published.all_values().keys()
    assert named - known == set(), "neither a published row nor a function of the trade"


def test_every_function_is_checked_against_something_outside() -> None:
    checked = {check.function for check in checks_page.all_checks()}
    assert set(FUNCTIONS) - checked == set(), "a compare(...) in tests/published is missing"
    assert checked - set(FUNCTIONS) == set(), "checked by a name that the trade does not offer"
    assert len(checked) > 70


def test_the_page_from_numbers_to_checks_is_up_to_date() -> None:
    stored = checks_page.PAGE.read_text(encoding="utf-8")
    assert stored == checks_page.page(), "write it anew: python -m tests.published.checks_page"


def test_every_link_of_the_page_leads_somewhere() -> None:
    links = re.findall(r"\]\(([^)]+)\)", checks_page.page())
    assert len(links) > 2 * 70
    for link in set(links):
        assert (checks_page.PAGE.parent / link).is_file(), link


# --- the tools of this walk can fail ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "def test(compare):\n    compare(name, 'q', 1, 1, source='s', how_known='run')",
        "def test(compare):\n    compare('f', 'q', 1, 1, source=words, how_known='run')",
        "def test(compare):\n    compare('f', 'q', 1, 1, source='s')",
        "def test(compare):\n    compare('f', 'q', 1, 1, **elsewhere)",
        "def test(compare):\n    compare.row('f', 1, 'no_such_row')",
        "def test(compare):\n    compare.row('f', 1, some_row)",
    ],
)
def test_a_check_that_hides_its_source_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="name function and source in place"):
        list(checks_page.checks(text, "x.py"))


def test_checks_are_read_from_the_text_of_a_test() -> None:
    text = (
        "LIBRARY = f'a library {version}'\n"
        "def test(compare):\n"
        "    known: dict = {'source': 'a law', 'how_known': 'counted'}\n"
        "    compare('f', 'q', 1, 1, 'mm', **known)\n"
        "    compare('h', 'q', 1, 1, source=f'{LIBRARY}, its example', how_known='run')\n"
        "    compare.row('g', 1, f'unit_{name}_mm')\n"
    )
    first, second, *others = checks_page.checks(text, "x.py")
    assert second.source == "a library, its example"
    assert (first.function, first.source, first.how_known) == ("f", "a law", "counted")
    assert others and {check.function for check in others} == {"g"}
    assert any(check.source.startswith(published.value("unit_inch_mm").source) for check in others)


def test_a_comparison_is_kept_whether_it_agrees_or_not() -> None:
    kept: list[tuple[str, object]] = []
    compare = Compare(kept)
    compare("f", "length", 25.41, 25.4, "mm", within=0.02, source="s", how_known="read")
    with pytest.raises(AssertionError):
        compare("f", "length", 25.41, 25.4, "mm", source="s", how_known="read")
    with pytest.raises(AssertionError):
        compare("f", "end", "leading", "trailing", source="s", how_known="read")
    with pytest.raises(AssertionError):
        compare.row("f", 25.5, "unit_inch_mm")
    assert [name for name, _ in kept] == [PROPERTY] * 4
    lines = table([Row(**row) for _, row in kept])  # type: ignore[arg-type]
    assert lines[0].split()[:4] == ["function", "quantity", "ours", "published"]
    assert re.search(r"length +25\.41 +25\.4 +\+0\.01 +mm +s +read", lines[1])


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        (["tests/published"], True),
        (["tests/published/test_published_pads.py::test_x"], True),
        (["tests"], False),
        (["tests", "course/brakecourse"], False),
        ([], False),
    ],
)
def test_the_table_is_printed_when_the_folder_is_asked_for(words: list[str], asked: bool) -> None:
    assert asked_for(words, HERE.parents[1]) is asked
    assert asked_for([str(Path(HERE.parents[1], word)) for word in words], Path("/")) is asked
