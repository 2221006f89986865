"""Where files come from: one found beside the notebook, a path that is typed, or files that are uploaded."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Sequence
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from brakecourse.desks.parts import choose, html, text_field, upload
from brakecourse.desks.state import ClassState
from brakecourse.errors import CourseError

_NONE = "(choose one)"


class Source(widgets.VBox):
    """Three ways to name a file or a folder; the one used last counts.

    Args:
        state: knows which files lie beside the notebook.
        what: what is wanted, in a few words.
        endings: of the files: ``(".csv", ".zip")``.
        folders: whether a folder will do.
        extra: further files to offer.
    """

    def __init__(
        self,
        state: ClassState,
        what: str,
        endings: Sequence[str],
        *,
        folders: bool = False,
        extra: Sequence[Path] = (),
    ) -> None:
        self._state, self._what, self._endings = state, what, tuple(endings)
        self._folders, self._extra = folders, tuple(extra)
        self.listed = choose(f"{what}, found here", [_NONE], _NONE)
        self.typed = text_field("or its path", placeholder="a path on this computer")
        self.uploaded = upload("or upload from your computer", ",".join(endings), several=folders)
        self._which = html("")
        self._chosen: Path | tuple[dict[str, Any], ...] | None = None
        self._uploads: tempfile.TemporaryDirectory[str] | None = None
        for field in (self.listed, self.typed, self.uploaded):
            field.observe(self._changed, "value")
        super().__init__([self.listed, self.typed, self.uploaded, self._which])
        self.look_again()

    def look_again(self) -> None:
        """Look again which files lie beside the notebook."""
        found = self._state.found(*self._endings, folders=self._folders)
        offers = [(self._name(path), path) for path in (*found, *self._extra)]
        kept = self.listed.value
        self.listed.options = [(_NONE, _NONE), *offers]
        if kept in {path for _, path in offers}:
            self.listed.value = kept

    @property
    def path(self) -> Path:
        """What was chosen. Uploaded files are put into a folder of their own; `tidy` takes it away again.

        Raises:
            CourseError: nothing was.
        """
        if self._chosen is None:
            raise CourseError(
                f"{self._what} was expected, but none was chosen; choose one of the list, type its path, or "
                "upload it."
            )
        if isinstance(self._chosen, Path):
            return self._chosen
        self.tidy()
        self._uploads = tempfile.TemporaryDirectory(prefix="brakecourse-upload-")
        return keep_uploads(self._chosen, Path(self._uploads.name))

    def tidy(self) -> None:
        """Take the folder of uploaded files away: students' work must not stay about."""
        if self._uploads is not None:
            self._uploads.cleanup()
            self._uploads = None

    def _name(self, path: Path) -> str:
        shown = path.relative_to(self._state.base) if path.is_relative_to(self._state.base) else path.name
        return f"{shown}{'/' if path.is_dir() else ''}"

    def _changed(self, change: dict[str, Any]) -> None:
        new, field = change["new"], change["owner"]
        if not new or new == _NONE:
            return
        if field is self.uploaded:
            self._chosen = tuple(self.uploaded.value)
            names = ", ".join(str(one["name"]) for one in self._chosen)
            self._which.value = f"<p>Chosen: {escape(names)}</p>"
            return
        if field is self.typed:
            self._chosen = (self._state.base / os.path.expanduser(str(new).strip())).absolute()
        else:
            self._chosen = Path(str(new))
        self._which.value = f"<p>Chosen: {escape(str(self._chosen))}</p>"


def keep_uploads(files: Sequence[dict[str, Any]], folder: Path) -> Path:
    """Put uploaded files into a folder; return it, or the file where it is only one.

    Each keeps the time that the person's computer gives for it.
    """
    path = folder
    for number, one in enumerate(files, start=1):
        name = Path(str(one["name"]).replace("\\", "/")).name or f"file-{number}"
        path = folder / name
        if path.exists():  # two of one name: both are wanted
            path = folder / str(number) / name
            path.parent.mkdir()
        path.write_bytes(bytes(one["content"]))
        changed = one.get("last_modified")
        if changed is not None:
            os.utime(path, (changed.timestamp(), changed.timestamp()))
    return path if len(files) == 1 else folder
