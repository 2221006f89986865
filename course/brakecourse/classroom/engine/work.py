"""One submission, from bytes to judged answers. Nothing here touches the gradebook or the class folder."""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Self

from nbformat import NotebookNode

from brakecourse.classroom.engine.execute import NotebookRun
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.judging import Judged, judge_notebook
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.nodes import notebook_text
from brakecourse.classroom.engine.plan import Plan, StudentCase
from brakecourse.classroom.engine.reading import read_submission
from brakecourse.classroom.engine.sandbox import Protection
from brakecourse.classroom.engine.scores import CellScore, cell_scores
from brakecourse.classroom.engine.warm import WarmRun, warm_servers


@dataclass(frozen=True)
class Setting:
    """How submissions are run.

    Attributes:
        shut_in: what shuts them in.
        limits: how much each may use.
        hidden: folders that they must not see.
        stop: set from outside when the whole grading is to end.
        warm: whether to run them in a warm interpreter where there can be one, and not in a kernel each.
    """

    shut_in: Protection
    limits: Limits
    hidden: tuple[Path, ...] = ()
    stop: threading.Event = field(default_factory=threading.Event)
    warm: bool = True


@dataclass(frozen=True)
class Worked:
    """A submission that was run and judged. It travels between programs, so it holds plain things.

    Attributes:
        text: the healed, run and judged notebook, as it is written to a file.
        scores: what nbgrader reads in its cells, by their names.
        judged: one outcome a question.
        healed: what was put right before it was run, a sentence each.
        troubles: what went wrong while it ran, a sentence each.
        slow: why it ran in an interpreter of its own and not in the warm one; nothing when it did not.
    """

    text: str
    scores: Mapping[str, CellScore]
    judged: tuple[Judged, ...]
    healed: tuple[str, ...] = ()
    troubles: tuple[str, ...] = ()
    slow: str = ""

    @classmethod
    def of(cls, notebook: NotebookNode, judged: tuple[Judged, ...], **more: Any) -> Self:
        """Make it of a judged notebook."""
        return cls(notebook_text(notebook), cell_scores(notebook), judged, **more)


def work(
    content: bytes, plan: Plan, case: StudentCase, setting: Setting, notes: Sequence[str] = ()
) -> Worked:
    """Grade one submission.

    Args:
        content: the submitted notebook as it came.
        plan: what the module asks.
        case: the student's sealed case.
        setting: how to run it.
        notes: what is already known to be odd about it.

    Raises:
        Unreadable: the submission can't be graded.
        KernelTrouble: no kernel could be started.
    """
    submitted = read_submission(content)
    healed = heal(submitted.cells, plan.template, plan.kernelspec)
    slow = why_not_warm(setting)
    run: NotebookRun | WarmRun
    if slow or setting.shut_in.tool is None:
        run = NotebookRun(
            case.files, setting.shut_in, setting.limits, setting.hidden, setting.stop, log=_quiet()
        )
    else:
        servers = warm_servers(setting.shut_in.tool, setting.hidden)
        run = WarmRun(servers.one, case.files, setting.limits, setting.stop)
    run.preprocess(healed.notebook)
    judged = judge_notebook(healed.notebook, plan, case.case)
    said = (*notes, *submitted.notes, *healed.notes)
    troubles = tuple(dict.fromkeys(run.notes))
    return Worked.of(healed.notebook, judged, healed=said, troubles=troubles, slow=slow)


def why_not_warm(setting: Setting) -> str:
    """Return why notebooks can't run in a warm interpreter here, or nothing when they can."""
    if not setting.warm:
        return "it was not asked for"
    if setting.shut_in.tool is None:
        return "bubblewrap is not at work here"
    return warm_servers(setting.shut_in.tool, setting.hidden).why_not or ""


def _quiet() -> logging.Logger:
    """What the libraries say about a student's code goes nowhere: the outcome says it in words."""
    logger = logging.getLogger("brakecourse.run")
    logger.propagate = False
    logger.setLevel(logging.CRITICAL + 1)
    return logger
