"""A PostgreSQL server of the tests' own, started from the installed programs and reached by a socket."""

from __future__ import annotations

import contextlib
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any

import psycopg

TEACHER = "teacher"
_ACCESS = f"local all {TEACHER} trust\nlocal all all scram-sha-256\n"
_SETTINGS = {"listen_addresses": "", "fsync": "off", "max_connections": "30", "log_min_messages": "panic"}


@dataclass
class Server:
    """A running server.

    Attributes:
        sockets: the folder of its socket.
    """

    sockets: Path
    _numbers: Iterator[int] = field(default_factory=lambda: count(1))

    def address(self, database: str, user: str = TEACHER) -> str:
        """The address of a database, as it stands in a class's settings."""
        return f"postgresql+psycopg://{user}@/{database}?host={self.sockets}"

    def connect(self, database: str = "postgres", **more: Any) -> psycopg.Connection:
        """A connection of the test's own, in which each statement stands for itself."""
        return psycopg.connect(dbname=database, user=TEACHER, host=str(self.sockets), autocommit=True, **more)

    def new_database(self, copy_of: str | None = None) -> str:
        """Make an empty database, or a copy of one, and return its name."""
        name = f"class_{next(self._numbers)}"
        with self.connect() as connection:
            connection.execute(f"CREATE DATABASE {name} TEMPLATE {copy_of or 'template0'}")
        return name


@contextmanager
def own_server(programs: Path) -> Iterator[Server]:
    """Start a server and end it again, with all its files.

    Args:
        programs: the folder of initdb and postgres.
    """
    # Not pytest's folder: the user that the server runs as may not look in there, and its path is too long.
    folder = Path(tempfile.mkdtemp(prefix="bk-pg-", dir="/tmp"))
    who = _someone_else(folder)
    try:
        data = folder / "data"
        subprocess.run(
            [
                programs / "initdb",
                "--no-sync",
                "--auth=trust",
                "--username",
                TEACHER,
                "--encoding=UTF8",
                "--locale=C",
                "-D",
                data,
            ],
            check=True,
            capture_output=True,
            cwd=folder,
            **who,
        )
        (data / "pg_hba.conf").write_text(_ACCESS, encoding="utf-8")
        settings = [part for name, value in _SETTINGS.items() for part in ("-c", f"{name}={value}")]
        process = subprocess.Popen(
            [programs / "postgres", "-D", data, "-k", folder, *settings],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            cwd=folder,
            **who,
        )
        try:
            server = Server(folder)
            _wait_for(server, process)
            yield server
        finally:
            process.send_signal(signal.SIGINT)  # ends the connections there are
            process.wait(20)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _someone_else(folder: Path) -> dict[str, Any]:
    """PostgreSQL refuses to run as root: give the folder to an ordinary user, and say who that is."""
    if os.geteuid() != 0:
        return {}
    with contextlib.suppress(KeyError):
        user = pwd.getpwnam("postgres")
        os.chown(folder, user.pw_uid, user.pw_gid)
        return {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}
    user = pwd.getpwnam("nobody")
    os.chown(folder, user.pw_uid, user.pw_gid)
    return {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}


def _wait_for(server: Server, process: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + 30
    while True:
        try:
            server.connect().close()
            return
        except psycopg.OperationalError:
            if process.poll() is not None or time.monotonic() > end:
                raise
            time.sleep(0.05)
