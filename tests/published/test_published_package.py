"""The data package: each table is described, holds what its description says, and is in the dictionary."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest
from frictionless import Package

FOLDER = Path(__file__).parents[2] / "datasets"
DESCRIPTOR = json.loads((FOLDER / "datapackage.json").read_text(encoding="utf-8"))
RESOURCES = {resource["path"]: resource for resource in DESCRIPTOR["resources"]}


def rows(path: str, folder: Path = FOLDER) -> list[dict[str, str]]:
    with (folder / path).open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


def complaints(folder: Path) -> list[str]:
    """What the Frictionless validator says of the tables in a folder."""
    report = Package(str(folder / "datapackage.json")).validate()
    return [
        f"{place} {kind}: {note}" for place, kind, note in report.flatten(["fieldName", "type", "message"])
    ]


def test_every_table_holds_what_its_description_says() -> None:
    # Source: the Frictionless Data Package standard and its validator, types, ranges, keys, references.
    assert complaints(FOLDER) == []


@pytest.mark.parametrize(
    ("path", "column", "cell", "complaint"),
    [
        ("published/units.csv", "how_known", "heard", "how_known constraint-error"),
        ("published/units.csv", "source", "", "source constraint-error"),
        ("published/units.csv", "value", "many", "value type-error"),
        ("motor_pool/vehicles.csv", "mass_kg", "-1", "mass_kg constraint-error"),
        ("course/questions.csv", "module", "99_no_such", "foreign-key"),
        ("course/choices.csv", "mistake", "no_such_mistake", "foreign-key"),
        ("course/mistakes.csv", "part", "99", "foreign-key"),
        ("demo_class/simulated_students.csv", "student_id", "s99", "foreign-key"),
        ("demo_class/roster.csv", "student_id", "s02", "primary-key"),
    ],
)
def test_a_wrong_cell_would_be_refused(
    tmp_path: Path, path: str, column: str, cell: str, complaint: str
) -> None:
    folder = tmp_path / "datasets"
    shutil.copytree(FOLDER, folder)
    table = rows(path, folder)
    table[0][column] = cell
    with (folder / path).open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, table[0].keys())
        writer.writeheader()
        writer.writerows(table)
    assert any(complaint in found for found in complaints(folder))


def test_no_table_is_left_out_and_none_is_missing() -> None:
    assert sorted(RESOURCES) == sorted(path.relative_to(FOLDER).as_posix() for path in FOLDER.rglob("*.csv"))


@pytest.mark.parametrize("path", RESOURCES)
def test_the_description_names_the_columns_in_their_order(path: str) -> None:
    with (FOLDER / path).open(encoding="utf-8", newline="") as handle:
        header = next(csv.reader(handle))
    assert [field["name"] for field in RESOURCES[path]["schema"]["fields"]] == header


@pytest.mark.parametrize("path", RESOURCES)
def test_the_dictionary_tells_each_column_as_the_description_does(path: str) -> None:
    dictionary = (FOLDER / "README.md").read_text(encoding="utf-8")
    heading = "## Published values" if path.startswith("published/") else f"### `{path}`"
    assert heading in dictionary
    section = dictionary.split(heading, 1)[1].split("\n##", 1)[0]
    assert RESOURCES[path]["description"] in section
    lines = [line for line in section.splitlines() if line.startswith("| `")]
    assert lines == [
        f"| `{field['name']}` | {field['type']} | {field.get('unit', '')} | {field['description']} |"
        for field in RESOURCES[path]["schema"]["fields"]
    ]


@pytest.mark.parametrize("path", RESOURCES)
def test_a_column_with_a_unit_in_its_name_says_so(path: str) -> None:
    units = {"_mm": "mm", "_kg": "kg", "_nm": "N·m", "_km": "km", "_percent": "%", "minutes": "min"}
    for field in RESOURCES[path]["schema"]["fields"]:
        for ending, unit in units.items():
            if field["name"].endswith(ending):
                assert field.get("unit") == unit, field["name"]


# --- cells that hold several names, which a table's description cannot tie together ----------------


@pytest.mark.parametrize(
    ("path", "column", "other", "names"),
    [
        ("course/competencies.csv", "modules", "course/modules.csv", "module"),
        ("course/questions.csv", "competencies", "course/competencies.csv", "competency"),
        ("course/activities.csv", "outcomes", "course/competencies.csv", "competency"),
        ("course/glossary.csv", "lessons", "course/modules.csv", "module"),
        ("course/questions.csv", "carries_from", "course/questions.csv", "question"),
        ("demo_class/simulated_students.csv", "habits", "course/mistakes.csv", "mistake"),
    ],
)
def test_each_of_several_names_in_a_cell_is_known(path: str, column: str, other: str, names: str) -> None:
    known = {row[names] for row in rows(other)}
    used = [name for row in rows(path) for name in row[column].split()]
    assert used
    assert set(used) <= known


def test_an_answer_is_carried_from_earlier_questions_only() -> None:
    order = [row["question"] for row in rows("course/questions.csv")]
    for row in rows("course/questions.csv"):
        assert all(order.index(name) < order.index(row["question"]) for name in row["carries_from"].split())


def test_every_question_with_choices_has_some_and_no_other_has() -> None:
    asked = {row["question"] for row in rows("course/questions.csv") if row["kind"] == "choice"}
    assert {row["question"] for row in rows("course/choices.csv")} == asked


def test_the_students_of_the_demonstration_are_the_class() -> None:
    assert [row["student_id"] for row in rows("demo_class/simulated_students.csv")] == [
        row["student_id"] for row in rows("demo_class/roster.csv")
    ]
