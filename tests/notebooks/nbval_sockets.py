"""A pytest plugin: nbval's kernels talk over unix sockets, not TCP.

Kernels started side by side can race for the same TCP ports, and then one notebook hangs. Sockets in a
folder of their own cannot collide. Use it with ``-p tests.notebooks.nbval_sockets``. Where the system has
no unix sockets, TCP stays.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from typing import Any

import nbval.kernel
import pytest
from jupyter_client.manager import KernelManager


class SocketKernelManager(KernelManager):
    """A kernel manager that asks for unix sockets, in a new folder that goes with the kernel."""

    def __init__(self, **kwargs: Any) -> None:
        # Short, because a socket's path may have about a hundred letters; whole, because the kernel runs
        # in the notebook's folder and pytest in another.
        self.sockets = tempfile.mkdtemp(prefix="nbval")
        super().__init__(transport="ipc", ip=os.path.join(self.sockets, "k"), **kwargs)

    def cleanup_resources(self, restart: bool = False) -> None:
        super().cleanup_resources(restart=restart)
        if not restart:
            shutil.rmtree(self.sockets, ignore_errors=True)


def pytest_configure(config: pytest.Config) -> None:
    if os.name == "posix":
        nbval.kernel.KernelManager = SocketKernelManager


def pytest_unconfigure(config: pytest.Config) -> None:
    nbval.kernel.KernelManager = KernelManager
