"""The whole class cycle with simulated students, from hand-out to exported grades."""

from __future__ import annotations

from brakecourse.demo.cycle import MODULE, DemoResult, run_demo

__all__ = ["MODULE", "DemoResult", "run_demo"]
