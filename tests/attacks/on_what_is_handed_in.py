"""The file: what is handed in is no notebook, or leads elsewhere, or is too much to read."""

from __future__ import annotations

import io
import json
import os
import stat
import zipfile
from pathlib import Path

from tests.attacks.registry import MARK, Exercise, Surroundings, attack
from tests.classroom.engine_class import MODULE

COULD_NOT, NOT_IN = "could not be graded", "not handed in"
NAME = f"{MODULE}.ipynb"


def content_of(exercise: Exercise) -> bytes:
    return json.dumps(exercise.notebook).encode("utf-8")


def zipped(path: Path, entries: list[tuple[str | zipfile.ZipInfo, bytes]]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries:
            archive.writestr(name, content)
    return path


@attack("Hands in a symbolic link to the class's secret.", kind="inbox", status=NOT_IN, said="it is a link")
def hand_in_a_symbolic_link(folder: Path, _: Exercise, where: Surroundings) -> None:
    (folder / NAME).symlink_to(where.root / ".secret")


@attack(
    "Hands in a folder that is a link to another student's work.",
    kind="inbox",
    status=NOT_IN,
    said="it is a link",
)
def hand_in_a_linked_folder(folder: Path, _: Exercise, where: Surroundings) -> None:
    (folder / "work").symlink_to(where.root / "received", target_is_directory=True)


@attack("Hands in a hard link to a file with a secret.", kind="inbox", status=COULD_NOT, said="can't be read")
def hand_in_a_hard_link(folder: Path, _: Exercise, where: Surroundings) -> None:
    os.link(next(path for path in where.secrets if path.is_relative_to(where.outside)), folder / NAME)


@attack(
    "Puts a link in the place of the copy that is graded.",
    kind="submitted",
    status=COULD_NOT,
    said="is a link",
)
def put_a_link_among_the_submissions(place: Path, _: Exercise, where: Surroundings) -> None:
    place.parent.mkdir(parents=True)
    place.symlink_to(where.root / "submitted" / where.victim / MODULE / NAME)


@attack(
    "Hands in a named pipe, which nobody ever writes to.",
    kind="inbox",
    status=NOT_IN,
    said="no ordinary file",
)
def hand_in_a_pipe(folder: Path, _: Exercise, __: Surroundings) -> None:
    os.mkfifo(folder / NAME)


@attack("Hands in a folder by the notebook's name.", kind="inbox", status=NOT_IN)
def hand_in_a_folder_by_that_name(folder: Path, _: Exercise, __: Surroundings) -> None:
    (folder / NAME).mkdir()


@attack("Hands in folders inside folders, hundreds deep.", kind="inbox", status=NOT_IN, said="folders deep")
def hand_in_a_deep_folder(folder: Path, exercise: Exercise, __: Surroundings) -> None:
    deep = folder.joinpath(*["d"] * 600)
    deep.mkdir(parents=True)
    (deep / NAME).write_bytes(content_of(exercise))


@attack("Hands in a zip whose entries are links.", kind="inbox", status=NOT_IN, said="it is a link")
def hand_in_a_zip_with_links(folder: Path, _: Exercise, where: Surroundings) -> None:
    link = zipfile.ZipInfo(NAME)
    link.create_system, link.external_attr = 3, (stat.S_IFLNK | 0o777) << 16
    zipped(folder / "work.zip", [(link, str(where.root / ".secret").encode())])


@attack("Hands in a zip whose paths lead out of it.", kind="inbox", status=NOT_IN, said="leads out")
def hand_in_a_zip_that_leads_out(folder: Path, exercise: Exercise, where: Surroundings) -> None:
    ways = ["../" * 9 + f"tmp/{MARK}.ipynb", f"{where.outside}/{MARK}.ipynb", f"..\\{MARK}.ipynb"]
    zipped(folder / "work.zip", [(way, content_of(exercise)) for way in ways])


@attack(
    "Hands in a zip that unpacks to a thousand times its size.",
    kind="inbox",
    status=NOT_IN,
    said="times its size",
)
def hand_in_a_zip_bomb(folder: Path, _: Exercise, __: Surroundings) -> None:
    zipped(folder / "work.zip", [(NAME, b" " * 15_000_000)])


@attack("Hands in zips inside zips inside zips.", kind="inbox", status=NOT_IN, said="zip in a zip")
def hand_in_nested_zips(folder: Path, exercise: Exercise, __: Surroundings) -> None:
    inner = content_of(exercise)
    for name in (NAME, "a.zip", "b.zip", "c.zip"):
        stream = io.BytesIO()
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr(name, inner)
        inner = stream.getvalue()
    (folder / "work.zip").write_bytes(inner)


@attack(
    "Hands in so many notebooks that the class's work has no room left.",
    kind="inbox",
    said="no more is taken",
)
def flood_the_intake(folder: Path, exercise: Exercise, __: Surroundings) -> None:
    plain = content_of(exercise)
    for number in range(5):
        (folder / f"{MODULE} copy {number}.ipynb").write_bytes(plain + b"\n" * (15_000_000 + number))


@attack(
    "Names another student in the file's name.", kind="inbox", status=NOT_IN, said="more than one student"
)
def name_another_student_in_the_file(folder: Path, exercise: Exercise, where: Surroundings) -> None:
    (folder / f"{where.victim}_{NAME}").write_bytes(content_of(exercise))


@attack(
    "Calls the file by bytes that are no text, and by signs that steer a terminal.",
    kind="inbox",
    said="was called 'homework ??[2J?]0;owned?[red]",
)
def call_the_file_by_no_text(folder: Path, exercise: Exercise, _: Surroundings) -> None:
    name = os.fsencode(folder) + b"/homework \xff\x1b[2J\x1b]0;owned\x07[red]=1+1.ipynb"
    Path(os.fsdecode(name)).write_bytes(content_of(exercise))


@attack("Hands in bytes that are no notebook: zeros.", kind="file", status=COULD_NOT, said="can't be read")
def hand_in_zeros(_: Exercise, __: Surroundings) -> bytes:
    return b"\x00" * 10_000


@attack("Hands in a notebook with zero bytes in its cells.", kind="file")
def put_zero_bytes_into_the_cells(exercise: Exercise, _: Surroundings) -> bytes:
    exercise.after("8.1", "# \x00\x00 \ud800")
    return content_of(exercise)


@attack("Hands in a notebook that is not UTF-8.", kind="file", status=COULD_NOT, said="can't be read")
def hand_in_another_encoding(exercise: Exercise, _: Surroundings) -> bytes:
    exercise.after("8.1", "# é")
    return json.dumps(exercise.notebook, ensure_ascii=False).encode("latin-1", "replace")


@attack("Hands in a hundred thousand brackets.", kind="file", status=COULD_NOT, said="can't be read")
def hand_in_deep_json(_: Exercise, __: Surroundings) -> bytes:
    return b'{"cells": ' + b"[" * 100_000


@attack("Hides deep JSON in a cell's metadata and outputs.", kind="file")
def hide_deep_json_in_the_metadata(exercise: Exercise, _: Surroundings) -> bytes:
    deep = "[" * 400 + "]" * 400
    exercise.answer("8.1").metadata["deep"] = "DEEP"
    return content_of(exercise).replace(b'"DEEP"', deep.encode())


@attack("Hands in a number of ten thousand digits.", kind="file", status=COULD_NOT, said="can't be read")
def hand_in_a_number_without_end(exercise: Exercise, _: Surroundings) -> bytes:
    exercise.notebook.metadata["number"] = "NUMBER"
    return content_of(exercise).replace(b'"NUMBER"', b"9" * 10_000)


@attack("Hands in ten thousand cells.", kind="file", status=COULD_NOT, said="at most 2000")
def hand_in_ten_thousand_cells(exercise: Exercise, _: Surroundings) -> bytes:
    cell = ',{"cell_type":"code","source":"1","metadata":{},"outputs":[]}'
    exercise.notebook.metadata["last"] = "LAST"
    return content_of(exercise).replace(b'{"cells": [{', b'{"cells": [{}' + cell.encode() * 10_000 + b",{", 1)


@attack("Hands in a cell of a million letters.", kind="file", said="damaged cell was left out")
def hand_in_a_cell_of_a_million_letters(exercise: Exercise, _: Surroundings) -> bytes:
    exercise.first("#" + "x" * 1_000_000)
    return content_of(exercise)


@attack("Says it is a notebook of format 99.", kind="file", status=COULD_NOT, said="format 99")
def claim_an_unknown_format(exercise: Exercise, _: Surroundings) -> bytes:
    return content_of(exercise).replace(b'"nbformat": 4', b'"nbformat": 99')


@attack(
    "Says it is of format 2, and holds what no notebook of that format ever held.",
    kind="file",
    status=COULD_NOT,
    said="format 2",
)
def claim_an_old_format(exercise: Exercise, _: Surroundings) -> bytes:
    return b'{"nbformat": 2, "worksheets": [{"cells": [{"cell_type": ["x"], "input": {"a": []}}, 7]}, null]}'


@attack(
    "Has cells of unknown kinds, without sources, and lists of numbers for text.",
    kind="file",
    said="damaged cells",
)
def hand_in_damaged_cells(exercise: Exercise, _: Surroundings) -> bytes:
    whole = json.loads(content_of(exercise))
    whole["cells"][:0] = [
        None,
        7,
        {"cell_type": "heading", "source": "x"},
        {"cell_type": "code", "source": [1]},
    ]
    return json.dumps(whole).encode()


@attack("Says two different things under one name, hoping that two readers believe two of them.", kind="file")
def say_everything_twice(exercise: Exercise, _: Surroundings) -> bytes:
    text = content_of(exercise).decode()
    return text.replace('"metadata": {', '"metadata": {}, "metadata": {', 3).encode()
