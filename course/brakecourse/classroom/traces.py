"""Look for a person's traces in files: id, names, email address; also inside zips."""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path

from brakecourse.classroom.roster import RosterEntry

_DEEPEST = 3
_ID_SIGNS = r"A-Za-z0-9_-"


def patterns_of(entry: RosterEntry, *more: str) -> tuple[re.Pattern[bytes], ...]:
    """Return what tells that a text speaks of a person.

    A first or a last name alone could be anybody's, or a common word. The full name is looked for in both
    orders.

    Args:
        entry: the person.
        more: further ids that stand for the person alone.
    """
    first, last = re.escape(entry.first_name), re.escape(entry.last_name)
    between = r"""[\s,;"'<>/=a-zA-Z_.:]{1,40}?"""
    texts = [rf"{first}\s+{last}", rf'{last}["\s]*[,;\t]["\s]*{first}', rf'{first}["\s]*[,;\t]["\s]*{last}']
    texts += [rf"{last}</\w+>{between}{first}"]
    texts += [re.escape(text) for text in (entry.email, entry.lms_user_id, *more) if text]
    own_id = rf"(?<![{_ID_SIGNS}]){re.escape(entry.student_id)}(?![{_ID_SIGNS}])"
    found = [re.compile(text.encode("utf-8"), re.IGNORECASE) for text in texts]
    return (*found, re.compile(own_id.encode("utf-8")))


def names_them(content: bytes, patterns: Iterable[re.Pattern[bytes]], depth: int = 0) -> bool:
    """Tell whether a file's bytes, or a file in it when it is a zip, speak of a person."""
    wanted = tuple(patterns)
    if any(pattern.search(content) for pattern in wanted):
        return True
    if depth == _DEEPEST or not zipfile.is_zipfile(io.BytesIO(content)):
        return False
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            names = "\n".join(archive.namelist()).encode("utf-8", "replace")
            inside = (archive.read(name) for name in archive.namelist())
            return any(p.search(names) for p in wanted) or any(
                names_them(one, wanted, depth + 1) for one in inside
            )
    except (OSError, zipfile.BadZipFile, zlib.error, RuntimeError, NotImplementedError):
        return False


def can_be_searched(content: bytes) -> bool:
    """Tell whether a search of a file can find a name: it is text or a zip, not a picture or a PDF."""
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return zipfile.is_zipfile(io.BytesIO(content))
    return not content.startswith(b"%PDF")


def files_below(folder: Path) -> Iterator[Path]:
    """Yield every file of a folder; what a link leads to is not the folder's."""
    for path in sorted(folder.rglob("*")):
        if path.is_file() and not path.is_symlink():
            yield path
