"""`brakecourse print`: lessons and the job sheet as pages for paper, HTML or PDF."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import Annotated, Any

import typer

from brakecourse.cli.screen import count_of, next_step, progress_bar, say
from brakecourse.errors import CourseError
from brakecourse.views.printing import SHEETS, for_paper, page, sheet_of, sheet_page

LESSONS = Path(__file__).resolve().parents[2] / "lessons"
FORMATS = ("html", "pdf")
_BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
_LONGEST_S = 120


def add_to(app: typer.Typer) -> None:
    """Add the command to the program."""
    app.command("print")(print_lessons)


def print_lessons(
    lessons: Annotated[
        list[str],
        typer.Argument(
            metavar="LESSON...",
            help="Lessons by name, such as 08_rotor_measurement or job_sheet; a notebook's file; or 'all'.",
            show_default=False,
        ),
    ],
    to: Annotated[str, typer.Option(help="html, or pdf (which needs Chromium).")] = "html",
    into: Annotated[Path, typer.Option(metavar="DIR", help="Where the pages go.")] = Path("printed"),
) -> None:
    """Print lessons and the job sheet: pictures in place of what moves, and nothing from the network.

    Example:

    brakecourse print 08_rotor_measurement job_sheet --to pdf --into handouts
    """
    if to not in FORMATS:
        raise CourseError(f"--to must be html or pdf, but it was '{to}'; choose one of the two.")
    paths = notebooks(lessons)
    browser = find_browser() if to == "pdf" else ""
    try:
        into.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise CourseError(f"{into} is a file, not a folder; choose another with --into.") from None
    with progress_bar("Printing") as told:
        for number, path in enumerate(paths, start=1):
            told(number - 1, len(paths), path.stem)
            html = printed(path)
            if to == "html":
                (into / f"{path.stem}.html").write_text(html, encoding="utf-8")
            else:
                write_pdf(html, into / f"{path.stem}.pdf", browser)
            told(number, len(paths), path.stem)
    names = ", ".join(path.stem for path in paths)
    say(f"In {into}: {count_of(len(paths), 'page')} as {to.upper()}, {names}.")
    if to == "html":
        next_step("open a page in your browser and print it there, on paper or to a PDF")
    else:
        next_step("open the PDF and print it")


def notebooks(lessons: list[str]) -> list[Path]:
    """Return the notebooks that are meant, each once.

    Args:
        lessons: names, files, or ``all``.

    Raises:
        CourseError: one of them is not there.
    """
    found: dict[Path, None] = {}
    for name in lessons:
        if name == "all":
            found |= dict.fromkeys(sorted(LESSONS.glob("*.ipynb")))
            continue
        tried = (Path(name), LESSONS / f"{name}.ipynb", LESSONS / name)
        path = next((one for one in tried if one.suffix == ".ipynb" and one.is_file()), None)
        if path is None:
            known = ", ".join(sorted(one.stem for one in LESSONS.glob("*.ipynb")))
            raise CourseError(f"There is no lesson '{name}' to print; the lessons are {known}.")
        found[path] = None
    return list(found)


def printed(path: Path) -> str:
    """Return one notebook as a page for paper, from what is stored in it.

    Raises:
        CourseError: the file is no notebook, or has nothing to print.
    """
    from nbconvert import HTMLExporter  # loads for a second, and only printing needs it
    from nbformat import from_dict, reads
    from nbformat.reader import NotJSONError

    try:
        stored = reads(path.read_text(encoding="utf-8"), as_version=4)
        title = _title(stored, path.stem)
        if path.stem in SHEETS:
            return sheet_page(title, sheet_of(stored))
        made = from_dict(for_paper(stored))
    except (KeyError, TypeError, AttributeError, UnicodeDecodeError, NotJSONError):
        raise CourseError(f"{path.name} cannot be read as a notebook; save it again from Jupyter.") from None
    except ValueError as problem:
        raise CourseError(f"{path.name}: {problem}") from None
    exporter = HTMLExporter(
        template_name="basic",
        exclude_input=True,
        exclude_input_prompt=True,
        exclude_output_prompt=True,
        exclude_anchor_links=True,
    )
    body, _ = exporter.from_notebook_node(made)
    return page(title, f"<main>{body}</main>")


def _title(notebook: dict[str, Any], otherwise: str) -> str:
    first = "".join(notebook["cells"][0]["source"]) if notebook["cells"] else ""
    line = first.partition("\n")[0]
    return line.lstrip("# ").strip() if line.startswith("# ") else otherwise


def find_browser() -> str:
    """Return a browser that can write a PDF by itself.

    Raises:
        CourseError: there is none.
    """
    found = next(filter(None, map(shutil.which, _BROWSERS)), None)
    if found is None:
        raise CourseError(
            "A PDF needs the Chromium browser, but this computer has none; print with --to html, open the "
            "page in any browser, and print it there to a PDF."
        )
    return found


def write_pdf(html: str, path: Path, browser: str) -> None:
    """Write a page as a PDF.

    Args:
        html: the page.
        path: where to; an older one is replaced only by a whole new one.
        browser: from :func:`find_browser`.

    Raises:
        CourseError: the browser did not write it.
    """
    with tempfile.TemporaryDirectory() as folder:
        source, made = Path(folder) / "page.html", Path(folder) / "page.pdf"
        source.write_text(html, encoding="utf-8")
        command = [browser, "--headless", "--disable-gpu", "--no-first-run", "--disable-dev-shm-usage"]
        command += [f"--user-data-dir={folder}/profile", "--no-pdf-header-footer", f"--print-to-pdf={made}"]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.append("--no-sandbox")  # the browser refuses to start for this user otherwise
        with suppress(subprocess.TimeoutExpired):
            subprocess.run([*command, source.as_uri()], capture_output=True, timeout=_LONGEST_S, check=False)
        if not made.is_file() or not made.read_bytes().startswith(b"%PDF"):
            raise CourseError(
                f"The browser wrote no PDF of {path.stem}; print with --to html, and print that page to a "
                "PDF in a browser."
            )
        part = path.with_name(f".{path.name}.part")
        shutil.copyfile(made, part)
        os.replace(part, path)
