"""Whose a notebook is: found without looking for every student of a big class in every name."""

from __future__ import annotations

import json
import random
import re

import pytest
from brakecourse.classroom import matching
from brakecourse.classroom.matching import Students, hands_in

MODULE = "08_rotor_measurement"
PIECES = [
    "s",
    "S1",
    "1",
    "ab",
    "a",
    "08",
    "K",
    "\u212a",
    "\u017f1",
    "\u0130",
    "ß",
    "é",
    "rotor",
    "-",
    "_",
    ".",
    " ",
]


def standing_in(name: str, ids: list[str]) -> set[str]:
    """Every id that stands in a name as a word of its own and not inside a longer id, by looking for each."""
    around = "[A-Za-z0-9]"
    found = [
        (*match.span(), one)
        for one in ids
        for match in re.finditer(f"(?<!{around}){re.escape(one)}(?!{around})", name, re.IGNORECASE)
    ]
    return {
        one
        for start, end, one in found
        if not any(first <= start and end <= last and last - first > end - start for first, last, _ in found)
    }


def test_the_ids_found_are_those_that_looking_for_each_one_finds() -> None:
    chance = random.Random(8)
    several = 0
    for _ in range(3000):
        drawn = {"".join(chance.choices(["s", "S1", "1", "ab", "k-", "i_", "s."], k=3)) for _ in range(6)}
        ids = [one for one in sorted(drawn) if re.fullmatch(r"[A-Za-z0-9][\w.-]*[\w-]", one)]
        ids = list({one.casefold(): one for one in ids}.values())
        name = "".join(chance.choices([*PIECES, *ids], k=5)).strip()
        expected = standing_in(name, ids)
        owner = Students(ids).whose((f"{name}.ipynb",), "99_none")
        several += len(expected) > 1
        if len(expected) == 1:
            assert owner.student_id == expected.pop(), (ids, name)
        elif expected:
            assert owner.why_not.endswith(f"({', '.join(sorted(expected))})"), (ids, name)
        else:
            assert owner.student_id is None and owner.why_not.startswith("no student's id"), (ids, name)
    assert several > 20


@pytest.mark.parametrize("pattern", ["s{:04}", "evening-{:04}", "{:04}-2026", "{:04}.evening.2026"])
def test_in_a_class_of_two_thousand_only_the_likely_ids_are_looked_for(
    monkeypatch: pytest.MonkeyPatch, pattern: str
) -> None:
    looked_for: list[str] = []
    token = matching._token
    monkeypatch.setattr(matching, "_token", lambda one: looked_for.append(one) or token(one))
    students = Students(pattern.format(n) for n in range(2000))
    wanted = pattern.format(1234)
    assert students.whose(("hand-in 7", wanted, f"{MODULE}.ipynb"), MODULE).student_id == wanted
    assert students.whose((f"{MODULE}-{wanted} (1).ipynb",), MODULE).student_id == wanted
    assert students.whose(("holiday.ipynb",), MODULE).student_id is None
    assert set(looked_for) == {wanted}


@pytest.mark.parametrize(
    ("source", "metadata", "answer"),
    [
        ('hand_in("8.1", 24.31)', {}, (True, False)),
        ("hand_in( '9.2', x)", {}, (False, True)),
        ("hand_in('hand_in(\"8.1\"')", {}, (True, False)),
        ('hand_in("8.10")', {}, (False, False)),
        ("# nothing", {}, (False, False)),
        ("# nothing", {"nbgrader": {}}, (True, True)),
        (7, {}, (None, None)),
    ],
)
def test_one_look_into_a_notebook_tells_every_module_whether_it_is_its_exercise(
    source: object, metadata: dict[str, object], answer: tuple[bool | None, bool | None]
) -> None:
    found = hands_in(json.dumps({"cells": [{"source": source, "metadata": metadata}]}).encode())
    assert (found.any_of(["8.1", "8.2"]), found.any_of(["9.1", "9.2"])) == answer
