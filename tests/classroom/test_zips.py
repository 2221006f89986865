"""A zip of files that are pressed already is the same as one that the standard library makes of them."""

from __future__ import annotations

import io
import random
import zipfile

import pytest
from brakecourse.classroom.zips import Pressed, pressed, pressed_zip, steady_zip

NOISE = random.Random(4).randbytes(70_000)
FILES = {
    "a/lesson.ipynb": b"A rotor is measured at eight places. " * 3000,
    "a/run.py": b"print()",
    "a/empty.txt": b"",
    "a/noise.whl": NOISE,  # does not get smaller
    "a/Möller–№.txt": "Größe".encode(),
}


@pytest.mark.parametrize("programs", [(), ("a/run.py",)])
@pytest.mark.parametrize("names", [(), ("a/run.py",), tuple(FILES)])
def test_it_is_byte_for_byte_what_the_standard_library_writes(
    names: tuple[str, ...], programs: tuple[str, ...]
) -> None:
    files = {name: FILES[name] for name in names}
    ours = pressed_zip({name: pressed(content) for name, content in files.items()}, programs)
    assert ours == steady_zip(files, programs)


def test_the_standard_library_reads_it_back_and_finds_no_fault() -> None:
    shared = {name: pressed(content) for name, content in FILES.items()}
    for _ in range(2):  # what is pressed serves any number of zips
        with zipfile.ZipFile(io.BytesIO(pressed_zip(shared, ["a/run.py"]))) as archive:
            assert archive.testzip() is None
            assert {name: archive.read(name) for name in archive.namelist()} == FILES
            modes = {one.filename: one.external_attr >> 16 for one in archive.infolist()}
    assert {name for name, mode in modes.items() if mode & 0o111} == {"a/run.py"}


def test_a_file_that_was_pressed_wrong_is_found_out() -> None:
    good = pressed(b"24.31")
    bad = Pressed(good.crc ^ 1, good.size, good.content)
    with zipfile.ZipFile(io.BytesIO(pressed_zip({"a": bad}))) as archive:
        assert archive.testzip() == "a"


def test_what_is_pressed_already_is_stored_as_it_is() -> None:
    inner = steady_zip(FILES)
    outer = steady_zip({"kit.zip": inner}, press=False)
    with zipfile.ZipFile(io.BytesIO(outer)) as archive:
        assert archive.read("kit.zip") == inner
        assert archive.getinfo("kit.zip").compress_type == zipfile.ZIP_STORED
