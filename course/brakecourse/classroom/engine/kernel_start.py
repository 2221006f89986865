"""Start a kernel within limits. This file runs inside the sandbox.

It is started by its path, and needs the learner's side of the course but no part of the grading side. The
limits are hard: code that runs later can't lift them again.
"""

import sys


def set_limits(cpu_s: int, memory_bytes: int, file_bytes: int, open_files: int, processes: int) -> None:
    """Limit this process and its children, as far as the system can."""
    try:
        import resource
    except ImportError:  # Windows
        return
    wanted = {
        resource.RLIMIT_CORE: 0,
        resource.RLIMIT_CPU: cpu_s,
        resource.RLIMIT_FSIZE: file_bytes,
        resource.RLIMIT_NOFILE: open_files,
    }
    if sys.platform.startswith("linux"):
        # Elsewhere these count what other programs of the same user hold, or are refused.
        wanted |= {resource.RLIMIT_AS: memory_bytes, resource.RLIMIT_NPROC: processes}
    for kind, value in wanted.items():
        _, most = resource.getrlimit(kind)
        value = value if most == resource.RLIM_INFINITY else min(value, most)
        try:
            resource.setrlimit(kind, (value, value))
        except (OSError, ValueError):
            # A limit that can't be set here is watched from outside.
            continue


def load_units() -> None:
    """Load the library of units as a student has it: without the large ones that it would take up if found.

    Some of those don't load where there is no /proc, and then nothing could be converted at all.
    """
    large = ("babel", "dask", "numpy", "scipy", "uncertainties", "xarray")
    hidden = {name: None for name in large if name not in sys.modules}
    sys.modules.update(hidden)  # type: ignore[arg-type]  # None there means: not to be had
    try:
        import pint  # noqa: F401
    finally:
        for name in hidden:
            del sys.modules[name]


def main() -> None:
    """Set the limits given as the first arguments, then become an ordinary kernel.

    After the limits stands whether there are walls (1 or 0): only then are calls to the system refused.
    """
    set_limits(*(int(value) for value in sys.argv[1:6]))
    if sys.argv[6] == "1":
        import system_calls  # type: ignore[import-not-found]  # it lies beside this file

        system_calls.refuse(system_calls.A_KERNELS_SOCKETS)
    del sys.argv[1:7]
    sys.path.pop(0)  # the folder of this file
    # Without the course every answer would be missing and count as 0. So a kernel that can't load it never
    # starts, and the submission is not graded. Nothing of the student's can be found on the path yet.
    from ipykernel import kernelapp

    import brakecourse.workorder  # noqa: F401

    load_units()
    kernelapp.launch_new_instance()


if __name__ == "__main__":
    main()
