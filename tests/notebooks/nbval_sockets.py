"""A pytest plugin: nbval's kernels talk over unix sockets, not TCP.

Kernels started side by side can race for the same TCP ports, and then one notebook hangs. Sockets in a
folder of their own cannot collide. Use it with ``-p tests.notebooks.nbval_sockets``. Where the system has
no unix sockets, TCP stays.
"""

from __future__ import annotations

import itertools
import os
import tempfile
from typing import Any

import nbval.kernel
import pytest
from jupyter_client.manager import KernelManager

# A short path, because a socket's may have about a hundred letters; a whole one, because the kernel runs in
# the notebook's folder and pytest in another.
_folder = tempfile.TemporaryDirectory(prefix="nbval")
_numbers = itertools.count()


class SocketKernelManager(KernelManager):
    """A kernel manager that asks for unix sockets of its own."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(transport="ipc", ip=os.path.join(_folder.name, f"k{next(_numbers)}"), **kwargs)


def pytest_configure(config: pytest.Config) -> None:
    if os.name == "posix":
        nbval.kernel.KernelManager = SocketKernelManager


def pytest_unconfigure(config: pytest.Config) -> None:
    nbval.kernel.KernelManager = KernelManager
    _folder.cleanup()
