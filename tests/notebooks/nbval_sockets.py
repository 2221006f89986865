"""A pytest plugin: nbval's kernels talk over unix sockets, not TCP.

Kernels started side by side can race for the same TCP ports and then one notebook hangs; sockets in the
runtime folder cannot collide. Use it with ``-p tests.notebooks.nbval_sockets``. Where the system has no
unix sockets, TCP stays.
"""

from __future__ import annotations

import os
from typing import Any

import nbval.kernel
import pytest
from jupyter_client.manager import KernelManager


class SocketKernelManager(KernelManager):
    """A kernel manager that asks for unix sockets."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(transport="ipc", **kwargs)


def pytest_configure(config: pytest.Config) -> None:
    if os.name == "posix":
        nbval.kernel.KernelManager = SocketKernelManager


def pytest_unconfigure(config: pytest.Config) -> None:
    nbval.kernel.KernelManager = KernelManager
