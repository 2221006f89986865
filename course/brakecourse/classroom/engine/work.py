"""One submission, from bytes to judged answers. Nothing here touches the gradebook or the class folder."""

from __future__ import annotations

import logging
import threading
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from nbformat import NotebookNode

from brakecourse.classroom.engine.execute import NotebookRun
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.judging import Judged, judge_notebook
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.plan import Plan, StudentCase
from brakecourse.classroom.engine.reading import read_submission
from brakecourse.classroom.engine.sandbox import Protection


@dataclass(frozen=True)
class Setting:
    """How submissions are run: shut in by what, within which limits, and which folders they must not see."""

    shut_in: Protection
    limits: Limits
    hidden: tuple[Path, ...] = ()
    stop: threading.Event = field(default_factory=threading.Event)


@dataclass(frozen=True)
class Worked:
    """A submission that was run and judged.

    Attributes:
        notebook: healed, run and judged.
        judged: one outcome a question.
        healed: what was put right before it was run, a sentence each.
        troubles: what went wrong while it ran, a sentence each.
    """

    notebook: NotebookNode
    judged: tuple[Judged, ...]
    healed: tuple[str, ...]
    troubles: tuple[str, ...]


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
    run = runner(case, setting)
    run.preprocess(healed.notebook)
    judged = judge_notebook(healed.notebook, plan, case.case)
    return Worked(
        healed.notebook, judged, (*notes, *submitted.notes, *healed.notes), tuple(dict.fromkeys(run.notes))
    )


def runner(case: StudentCase, setting: Setting) -> NotebookRun:
    """Return the executor for one student's notebook."""
    return NotebookRun(
        case.files, setting.shut_in, setting.limits, setting.hidden, setting.stop, log=_quiet()
    )


def _quiet() -> logging.Logger:
    """What the libraries say about a student's code goes nowhere: the outcome says it in words."""
    logger = logging.getLogger("brakecourse.run")
    logger.propagate = False
    logger.setLevel(logging.CRITICAL + 1)
    return logger
