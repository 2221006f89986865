"""A pytest plugin: nbval's kernels talk over unix sockets, not TCP.

Kernels started side by side can race for the same TCP ports, and then one notebook hangs. Sockets in a
folder of their own cannot collide. Use it with ``-p tests.notebooks.nbval_sockets``. Where the system has
no unix sockets, TCP stays.
"""

from __future__ import annotations

import itertools
import os
import shutil
import tempfile
from typing import Any

import nbval.kernel
import pytest
from jupyter_client.manager import KernelManager

_numbers = itertools.count()


class SocketKernelManager(KernelManager):
    """A kernel manager that asks for unix sockets of its own."""

    folder = ""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(transport="ipc", ip=os.path.join(self.folder, f"k{next(_numbers)}"), **kwargs)


def pytest_configure(config: pytest.Config) -> None:
    if os.name == "posix":
        # A short path, because a socket's may have about a hundred letters; a whole one, because the kernel
        # runs in the notebook's folder and pytest in another.
        SocketKernelManager.folder = tempfile.mkdtemp(prefix="nbval")
        nbval.kernel.KernelManager = SocketKernelManager


def pytest_unconfigure(config: pytest.Config) -> None:
    nbval.kernel.KernelManager = KernelManager
    if SocketKernelManager.folder:
        shutil.rmtree(SocketKernelManager.folder, ignore_errors=True)
