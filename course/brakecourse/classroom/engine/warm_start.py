"""The warm interpreter: it has loaded what exercises need, and forks a child for each notebook.

This file runs inside the sandbox, as its process number 1, and needs the learner's side of the course but
no part of the grading side. The grader gives orders over one socket; each child has a socket of its own, and
no way to this one. A child's view of the files, its users and its limits are made before its first cell runs,
and when its notebook is done everything that it started is killed, so nothing reaches the next child.
"""

import contextlib
import gc
import json
import os
import pkgutil
import select
import signal
import socket
import sys

_MOST_ORDER_BYTES = 65_536
_PROC = "/bench/proc"
_COUNT_EVERY_MS = 50


def main() -> None:
    """Load everything, try out a child, say so, and serve until the grader is gone."""
    here = sys.path.pop(0)  # the folder of this file
    control = socket.socket(fileno=int(sys.argv[1]))
    shown_in_tmp, processes = json.loads(sys.argv[2]), int(sys.argv[3])
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    sys.path.append(here)
    import warm_child  # type: ignore[import-not-found]  # they lie side by side in the sandbox
    import warm_walls  # type: ignore[import-not-found]

    sys.path.remove(here)
    sys.path.insert(0, "")
    warm_walls.hide_memory()
    shell = warm_child.load()
    _load_learners_side()
    warm_child.first_times(shell)
    gc.collect()
    gc.freeze()
    trouble = _trouble(shown_in_tmp)
    control.send(json.dumps({"ready": not trouble, "why": trouble}).encode())
    while not trouble:
        most, ours = _order(control)
        if ours is None:
            return
        pid = os.fork()
        if pid == 0:
            try:
                control.close()
                warm_child.live(shell, ours, processes, shown_in_tmp)
            finally:
                os._exit(1)
        ours.close()
        _see_through(control, pid, most)


def _load_learners_side() -> None:
    """Load what a solved exercise loads. Without the course every answer would be missing and count as 0."""
    import IPython.core.logger  # noqa: F401
    from kernel_start import load_units  # type: ignore[import-not-found]

    import brakecourse.bench
    import brakecourse.trade
    import brakecourse.workorder
    from brakecourse.published import convert
    from brakecourse.trade.leaks import diagnosis_table

    for room in (brakecourse.trade, brakecourse.workorder):
        for info in pkgutil.iter_modules(room.__path__, room.__name__ + "."):
            __import__(info.name)
    # Large files, read once here and not once a student.
    load_units()
    convert(1.0, "inch", "mm")
    diagnosis_table()


def _trouble(shown_in_tmp: list[str]) -> str:
    """Try whether a child can be shut in; return why not."""
    if len(os.listdir(f"{_PROC}/self/task")) != 1:
        return "more than one thread runs before the fork"
    readable, writable = os.pipe()
    pid = os.fork()
    if pid == 0:
        import warm_walls

        try:
            warm_walls.build({}, 4096, shown_in_tmp)
        except BaseException as error:
            os.write(writable, str(error).encode()[:300])
        os._exit(0)
    os.close(writable)
    with os.fdopen(readable, "rb") as said:
        why = said.read().decode(errors="replace")
    os.waitpid(pid, 0)
    return why


def _order(control: socket.socket) -> tuple[int, socket.socket | None]:
    """Wait for the next notebook.

    Returns:
        How many processes it may have, and one end of the socket its child will have; None when the grader
        is gone.
    """
    while True:
        order, passed, _, _ = socket.recv_fds(control, _MOST_ORDER_BYTES, 1)
        if not order:
            return 0, None
        if passed:
            return int(order), socket.socket(fileno=passed[0])


def _see_through(control: socket.socket, pid: int, most: int) -> None:
    """Serve the grader while a child lives; return when it is gone with all that it started."""
    watched = os.pidfd_open(pid)
    crowded = False
    poll = select.poll()
    poll.register(control, select.POLLIN)
    poll.register(watched, select.POLLIN)
    try:
        while True:
            ready = {number for number, _ in poll.poll(_COUNT_EVERY_MS)}
            if watched in ready:
                poll.unregister(watched)
                control.send(b'{"dead": true}')
            if not crowded and len(_others()) > most:
                # Not left to the grader: a moment later there could be thousands.
                crowded = True
                _kill_all()
            if control.fileno() not in ready:
                continue
            order = control.recv(_MOST_ORDER_BYTES)
            if order == b"interrupt":
                with contextlib.suppress(OSError):
                    signal.pidfd_send_signal(watched, signal.SIGINT)
            elif order == b"usage":
                control.send(json.dumps({"usage": [crowded, sum(map(_memory, _others()))]}).encode())
            else:  # the end of the notebook, or of the grader
                _kill_all()
                control.send(b'{"ended": true}')
                return
    finally:
        os.close(watched)


def _kill_all() -> None:
    """Kill every process but this one. The system does it in one go: no fork escapes."""
    with contextlib.suppress(OSError):
        os.kill(-1, signal.SIGKILL)
    with contextlib.suppress(ChildProcessError):
        while True:
            os.waitpid(-1, 0)


def _others() -> list[str]:
    """Return the numbers of all processes but this one: the notebook's."""
    return [name for name in os.listdir(_PROC) if name.isdigit() and name != "1"]


def _memory(name: str) -> int:
    """Return a process's memory in bytes. What it shares with others counts for its share."""
    with contextlib.suppress(OSError), open(f"{_PROC}/{name}/smaps_rollup", encoding="ascii") as stated:
        for line in stated:
            if line.startswith("Pss:"):
                return int(line.split()[1]) * 1024
    with contextlib.suppress(OSError), open(f"{_PROC}/{name}/statm", encoding="ascii") as stated:
        return int(stated.read().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    return 0


if __name__ == "__main__":
    main()
