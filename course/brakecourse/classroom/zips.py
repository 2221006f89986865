"""Zips whose bytes depend on their content alone: not on the time, the system, or who may read the files."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Collection, Mapping
from dataclasses import dataclass

_NO_TIME = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can hold
_NO_TIME_PACKED = (0, 1 << 5 | 1)  # the same, as a zip writes it
_FILE, _PROGRAM = 0o100644 << 16, 0o100755 << 16
_UNIX = 3  # else the bytes would tell on which system it was packed

# The three records of the format. Source: PKWARE's APPNOTE.TXT, sections 4.3.7, 4.3.12 and 4.3.16.
_BEFORE_FILE = struct.Struct("<4s5H3I2H")
_IN_DIRECTORY = struct.Struct("<4s2B5H3I5H2I")
_END = struct.Struct("<4s4H2IH")
_VERSION, _UTF8 = 20, 0x800


@dataclass(frozen=True)
class Pressed:
    """A file as it lies in a zip. One that goes into many zips needs pressing only once."""

    crc: int
    size: int
    content: bytes


def pressed(content: bytes) -> Pressed:
    """Press a file."""
    press = zlib.compressobj(wbits=-15)
    return Pressed(zlib.crc32(content), len(content), press.compress(content) + press.flush())


def steady_zip(files: Mapping[str, bytes], programs: Collection[str] = (), press: bool = True) -> bytes:
    """Return a zip of files.

    Args:
        files: the contents by their paths inside the zip.
        programs: the paths of those that may be run as a program.
        press: whether to press them; zips in a zip are pressed already.

    >>> steady_zip({"b": b"2", "a": b"1"}) == steady_zip({"a": b"1", "b": b"2"})
    True
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, _NO_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED if press else zipfile.ZIP_STORED
            entry.create_system = _UNIX
            entry.external_attr = _PROGRAM if name in programs else _FILE
            archive.writestr(entry, files[name])
    return stream.getvalue()


def pressed_zip(files: Mapping[str, Pressed], programs: Collection[str] = ()) -> bytes:
    """Return the zip that `steady_zip` makes of the same files, without pressing them again.

    The library can't take in what is pressed already. Fit for small zips only: below 4 GB and 65,535 files.

    >>> pressed_zip({"a": pressed(b"1")}) == steady_zip({"a": b"1"})
    True
    """
    parts: list[bytes] = []
    directory: list[bytes] = []
    at = 0
    for path in sorted(files):
        file, name = files[path], path.encode("utf-8")
        # Both places tell the same of a file, in the same order.
        how = (0 if path.isascii() else _UTF8, zipfile.ZIP_DEFLATED, *_NO_TIME_PACKED)
        told = (*how, file.crc, len(file.content), file.size, len(name), 0)
        mode = _PROGRAM if path in programs else _FILE
        before = _BEFORE_FILE.pack(b"PK\3\4", _VERSION, *told) + name
        entry = _IN_DIRECTORY.pack(b"PK\1\2", _VERSION, _UNIX, _VERSION, *told, 0, 0, 0, mode, at)
        directory.append(entry + name)
        parts += (before, file.content)
        at += len(before) + len(file.content)
    length, count = sum(map(len, directory)), len(directory)
    return b"".join((*parts, *directory, _END.pack(b"PK\5\6", 0, 0, count, count, length, at, 0)))


def unpacked(content: bytes) -> dict[str, bytes]:
    """Return the files of a zip that the course itself made."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}
