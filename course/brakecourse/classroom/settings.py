"""The settings of a class: what `class.toml` may hold, read and written."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import tomlkit
from pydantic import BaseModel, ConfigDict, Field, ValidationError, ValidationInfo, field_validator

from brakecourse.errors import CourseError

_HEAD = """\
Settings of this class. Change a value here, or with the brakecourse commands.
Due times are in the class's time zone."""

GRADEBOOK_FILE = "gradebook.db"
"""The gradebook's name in the class folder, where it is a file there."""

_ADDRESS = (
    f"write '{GRADEBOOK_FILE}' for a file in the class folder, or the address of a PostgreSQL database, "
    "such as 'postgresql://teacher@localhost/evening_class'"
)


AttemptsCount = Literal["best", "last", "average"]
"""Which of several attempts at a module counts: the best one, the last one, or the mean of all."""

Paper = Literal["A4", "US Letter"]
"""What a student's record is printed on."""


class ClassSettings(BaseModel):
    """What `class.toml` holds, checked."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: str = Field(min_length=1, max_length=200)
    term: str = Field(default="", max_length=200)
    timezone: str = "UTC"
    late_penalty_percent_per_day: float = Field(default=10.0, ge=0, le=100, allow_inf_nan=False)
    late_penalty_cap_percent: float = Field(default=50.0, ge=0, le=100, allow_inf_nan=False)
    attempts_count: AttemptsCount = "best"
    cell_timeout_s: float = Field(default=20.0, ge=1, le=3600, allow_inf_nan=False)
    gradebook: str = GRADEBOOK_FILE
    pass_percent: float = Field(default=70.0, ge=0, le=100, allow_inf_nan=False)
    paper: Paper = "A4"
    school: str = Field(default="", max_length=200)
    begins: date | None = None
    ends: date | None = None
    due: dict[str, datetime] = Field(default_factory=dict)

    @field_validator("timezone")
    @classmethod
    def _known_zone(cls, value: str) -> str:
        _zone(value)
        return value

    @field_validator("gradebook")
    @classmethod
    def _known_place(cls, value: str) -> str:
        return value if value == GRADEBOOK_FILE else _server_address(value)

    @field_validator("ends")
    @classmethod
    def _after_it_began(cls, value: date | None, known: ValidationInfo) -> date | None:
        begins = known.data.get("begins")
        if value is not None and begins is not None and value < begins:
            raise ValueError(f"the last day can't be before the first, {begins}")
        return value

    @property
    def gradebook_on_server(self) -> bool:
        """Whether the gradebook is in PostgreSQL, not in a file of the class folder."""
        return self.gradebook != GRADEBOOK_FILE

    @property
    def zone(self) -> ZoneInfo:
        """The class's time zone."""
        return _zone(self.timezone)

    def due_utc(self, module: str) -> datetime | None:
        """When a module is due, in UTC, or None when no time was set."""
        due = self.due.get(module)
        if due is None:
            return None
        return (due if due.tzinfo else due.replace(tzinfo=self.zone)).astimezone(UTC)


def read_settings(path: Path) -> ClassSettings:
    """Read `class.toml`.

    Raises:
        CourseError: it can't be read, or a setting is wrong.
    """
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        words = " ".join(str(error).split()).rstrip(".")
        raise CourseError(f"The class settings {path} can't be read: {words}.") from error
    return checked_settings(values, str(path))


def settings_text(settings: ClassSettings) -> str:
    """Return the text of a new `class.toml`."""
    document = tomlkit.document()
    for line in _HEAD.splitlines():
        document.add(tomlkit.comment(line))
    for key, value in settings.model_dump(exclude={"due"}, exclude_none=True).items():
        document.add(key, value)
    document.add("due", tomlkit.table())
    return tomlkit.dumps(document)


def text_with_due(text: str, module: str, due: datetime, zone: ZoneInfo) -> str:
    """Return the text of `class.toml` with a module's due time set; the rest stays, comments too."""
    local = due.astimezone(zone).replace(tzinfo=None) if due.tzinfo else due
    document = tomlkit.parse(text)
    # A table, not a dotted key: a person adds the next line under it.
    document.setdefault("due", tomlkit.table())[module] = local.replace(microsecond=0)
    return tomlkit.dumps(document)


def parse_time(text: str, zone: ZoneInfo) -> datetime:
    """Read a time that a person typed, such as "2026-12-04 18:00", in the class's time zone.

    >>> parse_time("2026-12-04 18:00", ZoneInfo("Europe/Paris")).isoformat()
    '2026-12-04T18:00:00+01:00'
    """
    try:
        if not re.match(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}", text.strip()):
            raise ValueError
        when = datetime.fromisoformat(text.strip())
    except ValueError as error:
        raise CourseError(
            f"A time such as '2026-12-04 18:00' was expected, but '{text}' was found; "
            "write year-month-day, a blank, hours:minutes."
        ) from error
    return when if when.tzinfo else when.replace(tzinfo=zone)


def checked_settings(values: Mapping[str, object], where: str) -> ClassSettings:
    """Check settings that were read or typed.

    Raises:
        CourseError: one is missing, unknown or out of its range.
    """
    try:
        return ClassSettings.model_validate(values)
    except ValidationError as error:
        first = error.errors()[0]
        key = ".".join(str(part) for part in first["loc"])
        # An address is never repeated: a password can be in it.
        silent = first["type"] == "missing" or "://" in str(first["input"])
        found = "" if silent else f" (found {first['input']!r})"
        message = first["msg"].removeprefix("Value error, ")
        raise CourseError(f"The setting '{key}' of {where} is wrong: {message}{found}.") from error


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise ValueError(
            f"'{name}' is no time zone; write a place such as 'Europe/Paris', or 'UTC'"
        ) from error


def _server_address(value: str) -> str:
    """Return the address of a PostgreSQL database as SQLAlchemy and nbgrader take it."""
    # Only needed by a class that has one.
    from sqlalchemy import make_url
    from sqlalchemy.exc import ArgumentError

    try:
        url = make_url(value)
    except (ArgumentError, ValueError) as error:
        raise ValueError(_ADDRESS) from error
    if url.drivername not in ("postgresql", "postgresql+psycopg") or not url.database:
        raise ValueError(_ADDRESS)
    if url.password is not None or any("password" in name for name in url.query):
        raise ValueError(
            "a password does not belong in the address, because class.toml is copied and shown; put it in "
            "the file ~/.pgpass or in the variable PGPASSWORD, and leave it out here"
        )
    return url.set(drivername="postgresql+psycopg").render_as_string()
