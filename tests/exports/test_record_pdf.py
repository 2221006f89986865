"""The one-page record: what stands on it, that it is always one page, and that its bytes are steady."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from brakecourse.classroom.counting import Counted
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord
from brakecourse.exports.record_page import (
    IT_IS_NOT,
    CompetencyLine,
    ModuleLine,
    RecordPage,
    module_lines,
    record_pages,
)
from brakecourse.exports.record_pdf import lacking_signs, pdf_bytes
from brakecourse.tables import read_table

from tests.exports.small_class import ABLE, ABSENT, WAITING, small_class

STATES = ("mastered", "not yet", "too little to tell")
PAGE = RecordPage(
    student_id="s03",
    name="Amara Quillstone",
    class_name="Larkmoor Technical Institute, evening class (invented)",
    term="Autumn 2026",
    as_of=datetime(2026, 11, 29, 20, 0, tzinfo=UTC),
    modules=tuple(
        ModuleLine(row["number"], row["title"], "graded, 2 days late", "36.75 of 40", "91.9 %")
        for row in read_table("course/modules.csv")
    ),
    competencies=tuple(
        CompetencyLine(row["statement"], STATES[number % 3], "94 %")  # type: ignore[arg-type]
        for number, row in enumerate(read_table("course/competencies.csv"))
    ),
    paper="A4",
)
LONGEST = replace(
    PAGE,
    name="Maximiliana-Alexandrina Konstantinopoulou-Papadimitriou " * 4,
    class_name="Evening class of the technical institute " * 4 + "x" * 36,
    term="Autumn and winter " * 11,
    student_id="s" * 64,
)


def tool(*words: str, content: bytes, folder: Path) -> str:
    path = folder / "page.pdf"
    path.write_bytes(content)
    return subprocess.run([*words[:1], *words[1:], str(path), *(["-"] if words[0] == "pdftotext" else [])],
                          check=True, capture_output=True, text=True, timeout=60).stdout  # fmt: skip


def words_of(content: bytes, folder: Path) -> str:
    """What poppler's pdftotext can select, blanks and line breaks made one."""
    return " ".join(tool("pdftotext", "-layout", content=content, folder=folder).split())


@pytest.mark.parametrize(("paper", "size"), [("A4", "595.276 x 841.89"), ("US Letter", "612 x 792")])
@pytest.mark.parametrize("page", [PAGE, LONGEST], ids=["usual", "longest"])
def test_it_is_one_page_of_the_chosen_paper(page: RecordPage, paper: str, size: str, tmp_path: Path) -> None:
    """Outside check: poppler's pdfinfo and pdftotext. ISO 216 and ANSI give the sizes."""
    content = pdf_bytes(replace(page, paper=paper))  # type: ignore[arg-type]
    info = tool("pdfinfo", content=content, folder=tmp_path)
    assert "Pages:           1\n" in info and size in info
    text = words_of(content, tmp_path)
    for row in read_table("course/competencies.csv"):
        assert row["statement"] in text
    for row in read_table("course/modules.csv"):
        assert row["title"] in text
    assert IT_IS_NOT.replace("-", "") in text.replace("-", "")
    assert " ".join(page.name.split()) in text


@pytest.mark.parametrize("paper", ["A4", "US Letter"])
@pytest.mark.parametrize("page", [PAGE, LONGEST], ids=["usual", "longest"])
def test_nothing_lies_outside_the_page_or_over_something_else(
    page: RecordPage, paper: str, tmp_path: Path
) -> None:
    """Outside check: where poppler sees each word. No two words lie on one another, none over the edge."""
    content = pdf_bytes(replace(page, paper=paper))  # type: ignore[arg-type]
    boxes = word_boxes(content, tmp_path)
    width, height = (595.0, 841.0) if paper == "A4" else (612.0, 792.0)
    assert len(boxes) > 300
    assert all(x0 > 30 and y0 > 25 and x1 < width - 30 and y1 < height - 20 for x0, y0, x1, y1 in boxes)
    for number, (x0, y0, x1, y1) in enumerate(boxes):
        # A word's box is its typeface's whole height, more than its ink: lines may touch a little.
        core = (x0 + 0.3, y0 + 0.25 * (y1 - y0), x1 - 0.3, y1 - 0.25 * (y1 - y0))
        for a0, b0, a1, b1 in boxes[number + 1 :]:
            inner = (a0 + 0.3, b0 + 0.25 * (b1 - b0), a1 - 0.3, b1 - 0.25 * (b1 - b0))
            apart = core[2] <= inner[0] or inner[2] <= core[0] or core[3] <= inner[1] or inner[3] <= core[1]
            assert apart, (boxes[number], (a0, b0, a1, b1))


def word_boxes(content: bytes, folder: Path) -> list[tuple[float, float, float, float]]:
    from bs4 import BeautifulSoup

    text = tool("pdftotext", "-bbox", content=content, folder=folder)
    words = BeautifulSoup(text, "html.parser").find_all("word")
    return [tuple(float(word[name]) for name in ("xmin", "ymin", "xmax", "ymax")) for word in words]  # type: ignore[misc]


def test_the_same_record_gives_the_same_bytes() -> None:
    assert pdf_bytes(PAGE) == pdf_bytes(PAGE)
    assert pdf_bytes(PAGE) != pdf_bytes(replace(PAGE, name="Bruno Quillstone"))


def test_signs_of_many_languages_are_drawn_and_others_are_told(tmp_path: Path) -> None:
    names = "Žofia Ünsal Łukasz Ωmega Дмитро"
    assert lacking_signs(names) == "" and names in words_of(pdf_bytes(replace(PAGE, name=names)), tmp_path)
    assert lacking_signs("王 Wang 王") == "王"
    assert "□ Wang" in words_of(pdf_bytes(replace(PAGE, name="王 Wang")), tmp_path)


def test_markup_in_a_name_is_only_a_name(tmp_path: Path) -> None:
    name = "<b>Amara</b> & (Quill) \\stone"
    assert name in words_of(pdf_bytes(replace(PAGE, name=name)), tmp_path)


def result(**values: object) -> dict[str, Counted]:
    usual: dict[str, object] = {
        "student_id": "s1", "first_name": "A", "last_name": "Q", "module": "08_rotor_measurement",
        "status": "graded", "why": "", "auto_points": 1.0, "hand_points": None, "waiting_questions": (),
        "raw_score": 33.0, "max_score": 40.0, "days_late": 0, "late_penalty": 0.0, "final_score": 33.0,
        "healed": (),
    }  # fmt: skip
    return {"08_rotor_measurement": Counted(GradeRecord(**{**usual, **values}), (1,), (1,), "")}  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("values", "status", "marks", "percent"),
    [
        ({}, "graded", "33 of 40", "82.5 %"),
        ({"days_late": 1, "final_score": 29.7}, "graded, 1 day late", "29.7 of 40", "74.3 %"),
        ({"final_score": 0.0}, "graded", "0 of 40", "0.0 %"),
        ({"status": "waiting for hand-grading", "final_score": None}, "waiting for hand-grading", "", ""),
        ({"status": "not handed in", "final_score": None}, "not handed in", "", ""),
        ({"status": "excused", "final_score": None}, "excused", "", ""),
    ],
)
def test_how_a_module_stands(values: dict[str, object], status: str, marks: str, percent: str) -> None:
    lines = {line.number: line for line in module_lines(result(**values))}
    found = lines["8"]
    assert (found.title, found.status, found.marks, found.percent) == (
        "Thickness and run-out",
        status,
        marks,
        percent,
    )
    assert len(lines) == 13 and lines["1"].status == "not handed out"


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    return small_class(tmp_path_factory.mktemp("records"))


def test_the_pages_of_a_class(cls: ClassFolder, tmp_path: Path) -> None:
    pages = {page.student_id: page for page in record_pages(cls)}
    assert list(pages) == list(cls.student_ids)
    rotor = {student: page.modules[7] for student, page in pages.items()}
    assert (rotor[ABLE].status, rotor[ABLE].percent) == ("graded, 2 days late", "80.0 %")
    assert rotor[WAITING].status == "waiting for hand-grading" and rotor[ABSENT].status == "not handed in"
    states = {line.statement: line.state for line in pages[WAITING].competencies}
    assert states["can read a dial indicator round one turn and give the total indicated run-out"] == (
        "too little to tell"
    )
    assert set(states.values()) == {"too little to tell", "not yet", "mastered"}
    text = words_of(pdf_bytes(pages[ABLE]), tmp_path)
    assert "Amara001 Quillstone" in text and "Amara002" not in text and "@" not in text


def test_a_class_that_was_handed_nothing_yet(cls: ClassFolder) -> None:
    bare = replace(cls, root=cls.root / "nothing here")
    (page, *_) = record_pages(bare)
    assert page.as_of is None and {line.status for line in page.modules} == {"not handed out"}
    assert {line.state for line in page.competencies} == {"too little to tell"}
