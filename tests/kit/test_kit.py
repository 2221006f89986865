"""A student's kit: what is inside, what never is, and that it works where nothing else of the course is."""

from __future__ import annotations

import importlib.util
import io
import json
import os
import re
import subprocess
import sys
import sysconfig
import venv
import zipfile
from collections.abc import Iterator
from datetime import datetime
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType

import nbformat
import pytest
from brakecourse.classroom import learner_side
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.wheel import build_learner_wheel
from nbclient import NotebookClient

MODULE = "08_rotor_measurement"
STUDENTS = ("s01", "s02")
ANSWER_MIME = "application/vnd.brakecourse.answer+json"
INSTRUCTORS_ROOMS = ("marking", "classroom", "exports", "cli", "demo")


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    folder = tmp_path_factory.mktemp("kits")
    rows = ["student_id,first_name,last_name", "s01,Quillon,Zephyrstone", "s02,Quillon,Zephyrmoor"]
    (folder / "roster.csv").write_text("\n".join(rows), encoding="utf-8")
    made = new_class(
        folder / "class", folder / "roster.csv", name="Evening <class> & more", timezone="Europe/Paris"
    )
    assign(made, MODULE, due=datetime(2026, 12, 4, 18, 0))
    return open_class(made.root)


@pytest.fixture(scope="module")
def kit(cls: ClassFolder, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("student")
    with zipfile.ZipFile(cls.kit_file(MODULE, "s01")) as archive:
        archive.extractall(folder)
    (top,) = folder.iterdir()
    return top


def everything_inside(content: bytes, where: str = "") -> Iterator[tuple[str, bytes]]:
    """Every file of a zip, those of the wheel inside it too."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        for name in archive.namelist():
            inner = archive.read(name)
            yield f"{where}{name}", inner
            if name.endswith(".whl"):
                yield from everything_inside(inner, f"{name}/")


def test_a_kit_holds_what_the_start_page_says(cls: ClassFolder) -> None:
    wheel = build_learner_wheel()[0]
    with zipfile.ZipFile(cls.kit_file(MODULE, "s01")) as archive:
        assert archive.testzip() is None
        top = f"{MODULE}-s01/"
        assert archive.namelist() == [
            f"{top}{MODULE}-s01.ipynb",
            f"{top}START_HERE.html",
            f"{top}lessons/00_practice_order.json",
            f"{top}lessons/00_start_here.ipynb",
            f"{top}lessons/{MODULE}.ipynb",
            f"{top}lessons/glossary.ipynb",
            f"{top}lessons/job_sheet.ipynb",
            f"{top}requirements.txt",
            f"{top}run.py",
            f"{top}wheels/{wheel}",
            f"{top}work_order.json",
        ]
        assert archive.getinfo(f"{top}run.py").external_attr >> 16 == 0o100755
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert re.fullmatch(r"brakecourse_learner-[\d.]+-py3-none-any\.whl", wheel)


def test_nothing_of_the_instructors_side_is_inside(cls: ClassFolder) -> None:
    secret = cls.secret
    files = list(everything_inside(cls.kit_file(MODULE, "s01").read_bytes()))
    assert len(files) > 40
    for name, content in files:
        assert not set(re.split(r"[/.]", name)) & set(INSTRUCTORS_ROOMS), name
        assert not set(name.split("/")) & {"solutions", "datasets", "cases", "gradebook.db", "roster.csv"}, (
            name
        )
        for words in (secret, secret.hex().encode(), b"SealedCase", b"BEGIN SOLUTION", b"Zephyr", b"s02"):
            assert words not in content, (name, words)
        for module in re.findall(rb"(?:from|import) brakecourse\.(\w+)", content):
            assert module.decode() not in INSTRUCTORS_ROOMS, (name, module)


def test_the_case_stays_in_the_class(cls: ClassFolder, kit: Path) -> None:
    case = read_case(cls, MODULE, "s01")
    order = json.loads((kit / "work_order.json").read_text(encoding="utf-8"))
    assert order == json.loads(json.dumps(case.work_order()))
    assert order["student"] == "s01"
    text = json.dumps(order)
    for key in ("expected", "tolerance", "mistake", "readings_mm", "thickness_mm", "situation", "redraws"):
        assert f'"{key}"' not in text
    notebook = (kit / f"{MODULE}-s01.ipynb").read_bytes()
    assert notebook == cls.release_notebook(MODULE).read_bytes()


def test_every_student_gets_another_vehicle_and_the_same_notebook(cls: ClassFolder) -> None:
    ours, other = (
        dict(everything_inside(cls.kit_file(MODULE, student).read_bytes())) for student in STUDENTS
    )
    assert ours[f"{MODULE}-s01/work_order.json"] != other[f"{MODULE}-s02/work_order.json"]
    assert ours[f"{MODULE}-s01/{MODULE}-s01.ipynb"] == other[f"{MODULE}-s02/{MODULE}-s02.ipynb"]


@pytest.mark.slow
def test_packing_again_gives_the_same_bytes(cls: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {student: cls.kit_file(MODULE, student).read_bytes() for student in STUDENTS}
    build_learner_wheel.cache_clear()
    monkeypatch.setattr("time.time", lambda: 2_000_000_000.0)
    mask = os.umask(0o077)
    try:
        assign(cls, MODULE)
    finally:
        os.umask(mask)
    assert {student: cls.kit_file(MODULE, student).read_bytes() for student in STUDENTS} == before


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.text, self.tags, self.links = "", [], []  # type: ignore[var-annotated]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value for key, value in attrs if key in {"src", "href"}]

    def handle_data(self, data: str) -> None:
        self.text += data


def test_the_start_page_says_what_to_do_and_needs_nothing_else(cls: ClassFolder, kit: Path) -> None:
    page = _Page()
    source = (kit / "START_HERE.html").read_text(encoding="utf-8")
    page.feed(source)
    text = " ".join(page.text.split())
    for words in (
        "Evening <class> & more",
        "python3 run.py student",
        f"{MODULE}-s01.ipynb",
        "Friday 4 December 2026, 18:00 (Europe/Paris time)",
        "Late work loses 10 % of its points for each day begun, at most 50 %.",
        "Never trust a jack alone",
        "are invented",
    ):
        assert words in text
    assert page.links == [] and "http" not in source and "script" not in page.tags
    assert source.startswith('<!DOCTYPE html>\n<html lang="en">')
    for file in kit.rglob("*"):
        if file.is_file() and file.parent == kit:
            assert file.name in text, file


def test_the_launcher_knows_the_kit(kit: Path) -> None:
    run = _launcher(kit)
    house = run.find_house(kit, {})
    assert house.wheel is not None and house.wheel.name == build_learner_wheel()[0]
    assert house.requirements == kit / "requirements.txt"


def _launcher(kit: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("kit_run", kit / "run.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["kit_run"] = module
    spec.loader.exec_module(module)
    return module


# ------------------------------------------------------------------ on a computer without the course


@pytest.fixture(scope="module")
def bare(kit: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An environment with the kit's wheel and nothing else; the libraries it needs are lent from this one."""
    folder = tmp_path_factory.mktemp("bare") / "venv"
    venv.create(folder, with_pip=False, symlinks=os.name != "nt")
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    (wheel,) = (kit / "wheels").glob("*.whl")
    pip = [sys.executable, "-m", "pip", "--python", python]  # this one's pip: a new one takes ten seconds
    install = [*pip, "install", "--no-deps", "--no-index", "--quiet", wheel]
    subprocess.run(install, check=True, capture_output=True, timeout=120)
    (site,) = folder.glob("Lib/site-packages" if os.name == "nt" else "lib/*/site-packages")
    (site / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return python


def in_bare(python: Path, code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [python, "-I", "-c", code], capture_output=True, text=True, timeout=120, check=False
    )


@pytest.mark.slow
def test_the_wheel_works_alone(bare: Path) -> None:
    code = """
import brakecourse, brakecourse.workorder, brakecourse.trade.rotor
from brakecourse import bench, published
from brakecourse.bench import cases
from brakecourse.views import progress, drawings
print(brakecourse.__file__)
print(len(bench.motor_pool()), published.convert(25.4, "mm", "in"))
print(len(cases.draw_case(1).readings_mm))
"""
    done = in_bare(bare, code)
    assert done.returncode == 0, done.stderr
    place, pool, readings = done.stdout.splitlines()
    assert Path(place).is_relative_to(bare.parents[1])
    # The inch is 25.4 mm exactly (NIST SP 811, B.6; from memory).
    assert pool == "8 1.0" and readings == "8"


@pytest.mark.slow
@pytest.mark.parametrize("room", INSTRUCTORS_ROOMS)
def test_the_wheel_has_no_instructors_room(bare: Path, room: str) -> None:
    done = in_bare(bare, f"import brakecourse.{room}")
    assert done.returncode == 1 and f"No module named 'brakecourse.{room}'" in done.stderr


@pytest.mark.slow
def test_every_module_of_the_wheel_can_be_imported(bare: Path) -> None:
    names = [
        name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        for name, _ in everything_inside(build_learner_wheel()[1])
        if name.endswith(".py")
    ]
    assert {name.split(".")[1] for name in names if name.count(".") > 1} == set(learner_side.ROOMS)
    done = in_bare(bare, "; ".join(f"import {name}" for name in names))
    assert done.returncode == 0, done.stderr


@pytest.mark.slow
@pytest.mark.parametrize(
    "notebook", [f"{MODULE}-s01.ipynb", "lessons/00_start_here.ipynb", f"lessons/{MODULE}.ipynb"]
)
def test_the_kits_notebooks_run_there(
    bare: Path, kit: Path, notebook: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    spec = {
        "argv": [str(bare), "-m", "ipykernel_launcher", "-f", "{connection_file}"],
        "display_name": "kit",
        "language": "python",
    }
    (tmp_path / "kernels" / "kit").mkdir(parents=True)
    (tmp_path / "kernels" / "kit" / "kernel.json").write_text(json.dumps(spec), encoding="utf-8")
    monkeypatch.setenv("JUPYTER_PATH", str(tmp_path))
    path = kit / notebook
    opened = nbformat.read(path, as_version=4)
    client = NotebookClient(
        opened, timeout=120, kernel_name="kit", resources={"metadata": {"path": str(path.parent)}}
    )
    client.create_kernel_manager()
    if os.name != "nt":
        client.km.transport, client.km.ip = "ipc", str(tmp_path / "k")
    client.execute()
    if notebook.startswith(MODULE):
        handed = [
            output.data[ANSWER_MIME]
            for cell in opened.cells
            for output in cell.get("outputs", ())
            if ANSWER_MIME in output.get("data", {})
        ]
        assert [answer["question"] for answer in handed] == [f"8.{n}" for n in range(1, 9)]
        assert all(answer["answer"] is None and answer["problem"] is None for answer in handed)
