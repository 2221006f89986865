"""Refuse the calls to the system that no exercise needs: whoever breaks out of a sandbox goes through those.

This file runs inside the sandbox. Source of the numbers: the Linux kernel's own headers, asm/unistd_64.h for
x86-64 and asm-generic/unistd.h for 64-bit ARM, with linux/sched.h and audit.h; a test reads them again. How a
filter is made up: the manual page seccomp(2), from memory, and linux/{filter,seccomp}.h.
"""

import ctypes
import errno
import os
import platform
import struct
from collections.abc import Sequence

# Name: number on x86-64, number on 64-bit ARM.
REFUSED = {
    "acct": (163, 89),
    "add_key": (248, 217),
    "adjtimex": (159, 171),
    "bpf": (321, 280),
    "chroot": (161, 51),
    "clock_adjtime": (305, 266),
    "clock_settime": (227, 112),
    "delete_module": (176, 106),
    "fanotify_init": (300, 262),
    "finit_module": (313, 273),
    "fsconfig": (431, 431),
    "fsmount": (432, 432),
    "fsopen": (430, 430),
    "fspick": (433, 433),
    "init_module": (175, 105),
    "io_uring_enter": (426, 426),
    "io_uring_register": (427, 427),
    "io_uring_setup": (425, 425),
    "kcmp": (312, 272),
    "kexec_file_load": (320, 294),
    "kexec_load": (246, 104),
    "keyctl": (250, 219),
    "lookup_dcookie": (212, 18),
    "memfd_secret": (447, 447),
    "migrate_pages": (256, 238),
    "mount": (165, 40),
    "mount_setattr": (442, 442),
    "move_mount": (429, 429),
    "move_pages": (279, 239),
    "open_by_handle_at": (304, 265),
    "open_tree": (428, 428),
    "perf_event_open": (298, 241),
    "personality": (135, 92),
    "pidfd_getfd": (438, 438),
    "pivot_root": (155, 41),
    "process_madvise": (440, 440),
    "process_vm_readv": (310, 270),
    "process_vm_writev": (311, 271),
    "ptrace": (101, 117),
    "quotactl": (179, 60),
    "quotactl_fd": (443, 443),
    "reboot": (169, 142),
    "request_key": (249, 218),
    "setdomainname": (171, 162),
    "sethostname": (170, 161),
    "setns": (308, 268),
    "settimeofday": (164, 170),
    "swapoff": (168, 225),
    "swapon": (167, 224),
    "syslog": (103, 116),
    "umount2": (166, 39),
    "unshare": (272, 97),
    "userfaultfd": (323, 282),
    "vhangup": (153, 58),
}
OTHERS = {"clone": (56, 220), "clone3": (435, 435), "socket": (41, 198)}
MACHINES = {"x86_64": (0, 0xC000003E), "aarch64": (1, 0xC00000B7)}
NAMESPACES = 0x7E020000  # of mounts, cgroups, names, messages, users, processes, network
X32_BIT = 0x40000000

_LOAD, _EQUAL, _AT_LEAST, _ANY_BIT, _RETURN = 0x20, 0x15, 0x35, 0x45, 0x06
_ALLOW, _REFUSE = 0x7FFF0000, 0x00050000
_NUMBER_AT, _MACHINE_AT, _FIRST_ARGUMENT_AT = 0, 4, 16
UNIX_SOCKETS = 1
A_KERNELS_SOCKETS = (UNIX_SOCKETS, 2, 10, 16)
"""What a kernel talks with looks for addresses (internet 4 and 6, netlink), though there is no network."""
_NO_NEW_PRIVILEGES, _SET_FILTER, _FILTER = 38, 22, 2


def program(machine: str, families: Sequence[int]) -> bytes:
    """Return the filter.

    Args:
        machine: the machine's name, as `uname` gives it. For one that is not known there is no filter.
        families: the kinds of sockets that may be opened.
    """
    if machine not in MACHINES:
        return b""
    column, sign = MACHINES[machine]
    lines = [
        _line(_LOAD, _MACHINE_AT),
        _line(_EQUAL, sign, 1, 0),
        _refuse(errno.ENOSYS),
        _line(_LOAD, _NUMBER_AT),
        # The same calls have other numbers for programs of another kind.
        _line(_AT_LEAST, X32_BIT, 0, 1),
        _refuse(errno.ENOSYS),
    ]
    for numbers in REFUSED.values():
        lines += [_line(_EQUAL, numbers[column], 0, 1), _refuse(errno.EPERM)]
    # The C library then uses the older call, whose flags can be seen here.
    lines += [_line(_EQUAL, OTHERS["clone3"][column], 0, 1), _refuse(errno.ENOSYS)]
    lines += [
        _line(_EQUAL, OTHERS["clone"][column], 0, 4),
        _line(_LOAD, _FIRST_ARGUMENT_AT),
        _line(_ANY_BIT, NAMESPACES, 0, 1),
        _refuse(errno.EPERM),
        _line(_RETURN, _ALLOW),
    ]
    lines += [
        _line(_EQUAL, OTHERS["socket"][column], 0, len(families) + 3),
        _line(_LOAD, _FIRST_ARGUMENT_AT),
        *(_line(_EQUAL, family, len(families) - at) for at, family in enumerate(families)),
        _refuse(errno.EAFNOSUPPORT),
        _line(_RETURN, _ALLOW),
    ]
    return b"".join([*lines, _line(_RETURN, _ALLOW)])


def refuse(families: Sequence[int] = (UNIX_SOCKETS,)) -> bool:
    """Refuse them from now on, for this process and all that it starts; return whether the system can.

    Args:
        families: the kinds of sockets that may be opened.
    """
    code = program(platform.machine(), families)
    if not code or os.name != "posix":
        return False
    held = ctypes.create_string_buffer(code, len(code))

    class Program(ctypes.Structure):
        _fields_ = [("lines", ctypes.c_ushort), ("code", ctypes.c_void_p)]

    asked = Program(len(code) // 8, ctypes.addressof(held))
    system = ctypes.CDLL(None, use_errno=True)
    system.prctl(_NO_NEW_PRIVILEGES, 1, 0, 0, 0)
    return bool(system.prctl(_SET_FILTER, _FILTER, ctypes.byref(asked), 0, 0) == 0)


def _line(code: int, value: int, if_so: int = 0, if_not: int = 0) -> bytes:
    return struct.pack("=HBBI", code, if_so, if_not, value)


def _refuse(number: int) -> bytes:
    return _line(_RETURN, _REFUSE | number)
