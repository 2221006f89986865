"""What is taken in and what is not, told from names and sizes alone."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path

from brakecourse.classroom.matching import HandsIn, hands_in

# What a computer leaves beside the files, and what a kit makes on the student's own computer.
JUNK_FOLDERS = {"__macosx", ".ipynb_checkpoints", "__pycache__", ".venv", ".virtual_documents", ".git"}
_JUNK_FILES = {"thumbs.db", "desktop.ini", ".ds_store"}
# A student may hand in the whole kit; the class has its own copies of these.
_KIT_FILES = {
    "00_practice_order.json",
    "progress.json",
    "requirements.txt",
    "run.py",
    "start_here.html",
    "work_order.json",
}


@dataclass(frozen=True)
class Limits:
    """How much is taken in. The figures are roomy for honest work: a filled-in notebook is under 1 MB."""

    notebook_bytes: int = 20_000_000
    archive_bytes: int = 200_000_000
    archive_entries: int = 50_000
    student_bytes: int = 60_000_000
    all_bytes: int = 1_000_000_000
    depth: int = 40
    ratio: int = 200
    ratio_from_bytes: int = 1_000_000


@dataclass(frozen=True)
class FoundNotebook:
    """One notebook that was found.

    Attributes:
        where: its place, as a person would look for it.
        parts: the names of the folders and archives it lies in, outermost first, then its own name.
        modified: the file's own time, in UTC.
        content: the file, byte for byte.
    """

    where: str
    parts: tuple[str, ...]
    modified: datetime
    content: bytes

    @cached_property
    def hands_in(self) -> HandsIn:
        """What its cells hand in; looked up once, for every module that asks."""
        return hands_in(self.content)


@dataclass(frozen=True)
class Refusal:
    """One thing that was not taken in, and why."""

    where: str
    why: str


def kind_of(parts: tuple[str, ...]) -> str:
    """Sort a file by its name alone: "notebook", "zip", "skip" or "foreign"."""
    name = parts[-1].lower()
    folders = {part.lower() for part in parts[:-1]}
    if folders & JUNK_FOLDERS or name in _JUNK_FILES or name.startswith("._"):
        return "skip"
    if name in _KIT_FILES or name.endswith(".whl"):
        return "skip"
    if name.endswith(".ipynb"):
        return "notebook"
    return "zip" if name.endswith(".zip") else "foreign"


def leads_out(name: str) -> bool:
    """Tell whether a path inside an archive points outside it.

    >>> [leads_out(name) for name in ("a/b.ipynb", "../b.ipynb", "/etc/b.ipynb", "C:/b.ipynb")]
    [False, True, True, True]
    """
    plain = name.replace("\\", "/")
    return plain.startswith("/") or bool(re.match(r"[A-Za-z]:", plain)) or ".." in plain.split("/")


def names_in(filename: str) -> tuple[str, ...]:
    return tuple(part for part in filename.replace("\\", "/").split("/") if part not in {"", "."}) or ("",)


def readable(name: str) -> str:
    """Return a file's name as a text that can be stored: on some systems a name is any bytes.

    >>> readable("a\\udcffb.ipynb")
    'a?b.ipynb'
    """
    return name.encode("utf-8", "replace").decode("utf-8")


def foreign(where: str) -> Refusal:
    kind = Path(where).suffix or "no ending"
    return Refusal(
        where, f"a notebook (.ipynb) or a zip was expected, but this is '{kind}'; hand in the notebook."
    )


def too_large(where: str, size: int, most: int) -> Refusal:
    return Refusal(
        where,
        f"it is larger than {most // 1_000_000} MB ({size / 1e6:.0f} MB found); "
        "clear the notebook's outputs, save it and hand it in again.",
    )


def plain(error: BaseException) -> str:
    return " ".join(str(error).split()).rstrip(".") or type(error).__name__
