"""Write files whole or not at all, and say in one sentence what the disk had against it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from brakecourse.errors import CourseError


def write_bytes_whole(path: Path, content: bytes, mode: int | None = None) -> None:
    """Write a file so that a reader sees the old one or the new one, never a part."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".part-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(name, 0o644 if mode is None else mode)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def write_text_whole(path: Path, text: str, mode: int | None = None) -> None:
    """`write_bytes_whole` for UTF-8 text."""
    write_bytes_whole(path, text.encode("utf-8"), mode)


@contextmanager
def reporting_disk_trouble(what: str) -> Iterator[None]:
    """Turn an operating-system error into the one sentence a person needs.

    Args:
        what: what was being done, e.g. "write the kits".
    """
    try:
        yield
    except OSError as error:
        raise CourseError(
            f"Could not {what}: {error.strerror or error}; free some space or check who may write there, "
            "then give the same command again."
        ) from error
