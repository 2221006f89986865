"""Shut a forked child in: its own users, files and messages between processes, and no way back.

This file runs inside the sandbox, which already has no network, no class folder and no other user's process.
Each child gets, on top of that, folders that nobody else has had and nobody will have.
"""

import contextlib
import ctypes
import errno
import os
import struct
from collections.abc import Mapping, Sequence

import system_calls  # type: ignore[import-not-found]  # they lie side by side in the sandbox

WORK = "/tmp/work"

_OURS = "/bench"
_NEWNS, _NEWIPC, _NEWUSER = 0x00020000, 0x08000000, 0x10000000
_RDONLY, _NOSUID, _NODEV, _REMOUNT, _BIND, _REC, _PRIVATE = 1, 2, 4, 32, 4096, 16384, 1 << 18
_PDEATHSIG, _DUMPABLE, _DROP_FROM_BOUNDS, _NO_NEW_PRIVILEGES = 1, 4, 24, 38
_SIGKILL = 9
_CAPABILITIES_V3 = 0x20080522

_system = ctypes.CDLL(None, use_errno=True)


def hide_memory() -> None:
    """Let no other process look into this one's memory."""
    _call("prctl", _DUMPABLE, 0, 0, 0, 0)


def build(files: Mapping[str, bytes], scratch_bytes: int, shown_in_tmp: Sequence[str]) -> None:
    """Shut this process in, for good, and go to its working folder.

    Args:
        files: what lies in the working folder and can't be changed there, by plain file name.
        scratch_bytes: how much it may write into each of its folders.
        shown_in_tmp: paths in /tmp that stay in sight, such as the course when it lies there.

    Raises:
        OSError: the system does not allow it.
    """
    _call("prctl", _PDEATHSIG, _SIGKILL, 0, 0, 0)
    _call("prctl", _DUMPABLE, 1, 0, 0, 0)  # else its own entries in /proc are not its own to write to
    _become_master_of_own_namespaces()
    _call_mount(None, "/", None, _REC | _PRIVATE)
    _fresh_tmp(scratch_bytes, shown_in_tmp)
    _tmpfs("/dev/shm", scratch_bytes)
    os.mkdir(WORK)
    _tmpfs(WORK, scratch_bytes)
    for name, content in files.items():
        _read_only(f"{WORK}/{name}", content)
    # What only the building needed is covered, /proc among it.
    _tmpfs(_OURS, 4096, _RDONLY)
    _drop_capabilities()
    os.chdir(WORK)
    system_calls.refuse()


def _become_master_of_own_namespaces() -> None:
    user, group = os.getuid(), os.getgid()
    _call("unshare", _NEWUSER | _NEWNS | _NEWIPC)
    own = {"setgroups": "deny", "uid_map": f"{user} {user} 1", "gid_map": f"{group} {group} 1"}
    for name, text in own.items():
        with open(f"{_OURS}/proc/self/{name}", "w", encoding="ascii") as stream:
            stream.write(text)


def _fresh_tmp(size: int, shown: Sequence[str]) -> None:
    if shown:
        _call_mount("/tmp", f"{_OURS}/old", None, _BIND | _REC)
    _tmpfs("/tmp", size)
    for path in shown:
        old = f"{_OURS}/old/{os.path.relpath(path, '/tmp')}"
        os.makedirs(path, exist_ok=True)
        _call_mount(old, path, None, _BIND | _REC)


def _read_only(path: str, content: bytes) -> None:
    with open(path, "wb") as stream:
        stream.write(content)
    _call_mount(path, path, None, _BIND)
    _call_mount(None, path, None, _REMOUNT | _BIND | _RDONLY | _NOSUID | _NODEV)


def _tmpfs(path: str, size: int, flags: int = 0) -> None:
    _call_mount("tmpfs", path, "tmpfs", _NOSUID | _NODEV | flags, f"size={size},mode=0755")


def _call_mount(
    source: str | None, target: str, kind: str | None, flags: int, data: str | None = None
) -> None:
    words = [None if word is None else word.encode() for word in (source, target, kind, data)]
    _call("mount", *words[:3], ctypes.c_ulong(flags), words[3])


def _drop_capabilities() -> None:
    with contextlib.suppress(OSError):  # the first one that this system does not know
        for capability in range(64):
            _call("prctl", _DROP_FROM_BOUNDS, capability, 0, 0, 0)
    _call("prctl", _NO_NEW_PRIVILEGES, 1, 0, 0, 0)
    _call("capset", struct.pack("Ii", _CAPABILITIES_V3, 0), struct.pack("6I", *[0] * 6))


def _call(name: str, *arguments: object) -> None:
    if getattr(_system, name)(*arguments) != 0:
        number = ctypes.get_errno()
        raise OSError(number, f"{name}: {os.strerror(number)} ({errno.errorcode.get(number, number)})")
