"""Zips whose bytes depend on their content alone: not on the time, the system, or who may read the files."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Collection, Mapping

_NO_TIME = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can hold


def steady_zip(files: Mapping[str, bytes], programs: Collection[str] = ()) -> bytes:
    """Return a zip of files.

    Args:
        files: the contents by their paths inside the zip.
        programs: the paths of those that may be run as a program.

    >>> steady_zip({"b": b"2", "a": b"1"}) == steady_zip({"a": b"1", "b": b"2"})
    True
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, _NO_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # else the bytes would tell on which system it was packed
            entry.external_attr = (0o100755 if name in programs else 0o100644) << 16
            archive.writestr(entry, files[name])
    return stream.getvalue()


def unpacked(content: bytes) -> dict[str, bytes]:
    """Return the files of a zip that the course itself made."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}
