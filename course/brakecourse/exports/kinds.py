"""The files of each kind of export, as bytes. Writing and logging them is the desk's business."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.classroom.folder import Progress
from brakecourse.exports import table_files
from brakecourse.exports.badge_key import read_key
from brakecourse.exports.badges import badge_bytes
from brakecourse.exports.case import package_bytes
from brakecourse.exports.facts import Facts
from brakecourse.exports.mastery import rules
from brakecourse.exports.record_page import record_pages
from brakecourse.exports.record_pdf import pdf_bytes
from brakecourse.exports.sheets import Table, csv_bytes
from brakecourse.exports.signing import did_of

ISSUER_NAME = "badges/issuer.txt"
ISSUER_TEXT = """\
The badges of the class '{name}' are signed by this key:

{did}

Publish that line where the school publishes other things (its web page, a printed notice), so that whoever is
shown a badge can compare it. To look at a badge without any network:

brakecourse verify-badge FILE --issuer {did}

A badge says that a module or the course was completed. It is no licence and no certification.
"""


@dataclass(frozen=True)
class OutFile:
    """One file to write.

    Attributes:
        name: its path inside the exports folder, with '/'.
        content: its bytes.
        rows: how many rows, items, results or pages it holds.
        who: the ids of the students of whom it tells.
        said: a sentence for each thing in it that had to be made up.
    """

    name: str
    content: bytes
    rows: int
    who: tuple[str, ...]
    said: tuple[str, ...] = ()

    @property
    def sha256(self) -> str:
        """The fingerprint of its bytes."""
        return hashlib.sha256(self.content).hexdigest()


def quietly(_done: int, _total: int, _item: str) -> None:
    """Tell nobody how far the work is."""


def grades(facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return the grade table and the workbook.

    Raises:
        CourseError: nothing was handed out yet.
    """
    rows = len(facts.grades)
    return [
        OutFile("grades.csv", table_files.grades_csv(facts), rows, facts.cls.student_ids),
        OutFile("grades.xlsx", table_files.workbook(facts), rows, facts.cls.student_ids),
    ]


def results(facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return what counts.

    Raises:
        CourseError: nothing was handed out yet.
    """
    return _csv_files(facts, ("results.csv",))


def competencies(facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return the students' and the class's competencies.

    Raises:
        CourseError: nothing was handed out yet.
    """
    return _csv_files(facts, ("competencies.csv", "class_competencies.csv"))


def _csv_files(facts: Facts, names: Sequence[str]) -> list[OutFile]:
    found = table_files.other_tables(facts)
    return [OutFile(name, found[name], _rows(found[name]), facts.cls.student_ids) for name in names]


def _rows(content: bytes) -> int:
    return len(list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))) - 1


def statistics(facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return the figures of what to teach again: of each module's questions, and what went wrong there.

    Raises:
        CourseError: nothing was handed out yet.
    """
    from brakecourse.exports.again import class_again
    from brakecourse.exports.again_sheets import difficulty, discrimination, what_went_wrong

    table_files.refuse_empty(facts.cls)
    return [
        _table_file(facts, f"statistics/{one.module}-{name}.csv", table)
        for one in class_again(facts.cls, facts.records)
        for name, table in (
            ("difficulty", difficulty(one.items)),
            ("discrimination", discrimination(one.items)),
            ("what-to-teach-again", what_went_wrong(one)),
        )
    ]


def pictures(facts: Facts, told: Progress = quietly) -> list[OutFile]:
    """Return every picture of what to teach again and of the competencies, each with its table.

    Args:
        facts: the class. Pictures that were drawn of it already are not drawn again.
        told: told how far the work is, after each picture.

    Raises:
        CourseError: nothing was handed out yet.
    """
    # Only who wants pictures waits for the library that draws them.
    from brakecourse.exports.again import class_again
    from brakecourse.exports.drawing import draw
    from brakecourse.exports.pictures import class_pictures, module_pictures

    table_files.refuse_empty(facts.cls)
    found = [
        *(one for known in class_again(facts.cls, facts.records) for one in module_pictures(known)),
        *class_pictures(facts.mastery, rules()),
    ]
    return [
        file
        for one, content in draw(found, facts.drawn, told)
        for file in (
            OutFile(f"pictures/{one.name}.png", content, len(one.table.rows), facts.cls.student_ids),
            _table_file(facts, f"pictures/{one.name}.csv", one.table),
        )
    ]


def _table_file(facts: Facts, name: str, table: Table) -> OutFile:
    return OutFile(name, csv_bytes(table), len(table.rows), facts.cls.student_ids)


def oneroster(facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return the OneRoster package."""
    from brakecourse.exports.oneroster import oneroster_package

    bulk = oneroster_package(facts.cls, facts=facts)
    return [OutFile("oneroster.zip", bulk.content, bulk.results, facts.cls.student_ids, bulk.said)]


def framework(_facts: Facts, _: Progress = quietly) -> list[OutFile]:
    """Return the competency framework. It tells of nobody."""
    content = package_bytes()
    return [OutFile("competency_framework_case.json", content, len(json.loads(content)["CFItems"]), ())]


def badge_files(facts: Facts, told: Progress = quietly) -> list[OutFile]:
    """Return a badge for each thing that a student has completed, and the page that names the issuer.

    Raises:
        CourseError: nothing was handed out yet, or the class has no signing key.
    """
    cls = facts.cls
    table_files.refuse_empty(cls)
    key = read_key(cls)
    text = ISSUER_TEXT.format(name=cls.settings.name, did=did_of(key.public_key()))
    files = [OutFile(ISSUER_NAME, text.encode("utf-8"), 1, ())]
    earned = [one for one in facts.standings if one.earned]
    for number, one in enumerate(earned, start=1):
        name = f"badges/{one.student_id}/{one.what}.json"
        files.append(OutFile(name, badge_bytes(cls, one, key), 1, (one.student_id,)))
        told(number, len(earned), one.student_id)
    return files


def records(facts: Facts, told: Progress = quietly) -> list[OutFile]:
    """Return everyone's record as a page of PDF.

    Raises:
        CourseError: nothing was handed out yet.
    """
    table_files.refuse_empty(facts.cls)
    pages, files = record_pages(facts.cls, facts.records), []
    for number, page in enumerate(pages, start=1):
        files.append(OutFile(f"records/{page.student_id}.pdf", pdf_bytes(page), 1, (page.student_id,)))
        told(number, len(pages), page.student_id)
    return files
