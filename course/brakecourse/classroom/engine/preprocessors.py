"""The same steps as the course's own grading, for plain nbgrader commands: `nbgrader autograde MODULE`.

The class's `nbgrader_config.py` puts them into nbgrader's chain. An assignment that is not one of the
course's modules passes through as it is, but for being run shut in.
"""

from __future__ import annotations

import logging
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from nbformat import NotebookNode
from nbgrader.preprocessors import NbGraderPreprocessor
from traitlets import Bool

from brakecourse import marking
from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.engine.execute import NotebookRun
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.judging import judge_notebook
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.engine.plan import Plan, StudentCase, read_case, read_plan
from brakecourse.classroom.engine.prepare import SOLUTIONS
from brakecourse.classroom.engine.reading import printable, submitted_cells
from brakecourse.classroom.engine.sandbox import require_protection
from brakecourse.classroom.engine.write import GRADED, RunRecord, store_records
from brakecourse.classroom.files import write_bytes_whole
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.errors import CourseError

Resources = dict[str, Any]

_KEY = "brakecourse"


@dataclass(frozen=True)
class _Job:
    """Which submission nbgrader is at."""

    cls: ClassFolder
    module: str
    student_id: str

    @property
    def is_ours(self) -> bool:
        """Whether the assignment is one of the course's modules."""
        return module_of(self.module) in marking.MODULES

    @property
    def plan(self) -> Plan:
        return read_plan(self.cls, self.module)

    @property
    def case(self) -> StudentCase:
        return read_case(self.cls, self.module, self.student_id)


class _Step(NbGraderPreprocessor):
    """A step of nbgrader's chain that knows the class folder it works in."""

    def job(self, resources: Resources) -> _Job:
        """Return which submission is worked on."""
        owner = self
        while owner is not None and getattr(owner, "coursedir", None) is None:
            owner = owner.parent
        if owner is None:
            raise CourseError(f"{type(self).__name__} runs only inside nbgrader's autograde command.")
        where = resources["nbgrader"]
        return _Job(open_class(Path(owner.coursedir.root)), where["assignment"], where["student"])


class HealSubmission(_Step):
    """Puts a submitted notebook back in order before nbgrader looks at it."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Return the cells that were handed out, with the student's answers in them."""
        job = self.job(resources)
        if not job.is_ours:
            return nb, resources
        plan = job.plan
        cells, _ = submitted_cells(nb)
        healed = heal(cells, plan.template, plan.kernelspec)
        for note in healed.notes:
            self.log.warning("%s: %s", job.student_id, printable(note))
        # nbgrader goes on with the file that is written now, so the notes travel in it.
        healed.notebook.metadata[_KEY] = {"healed": list(healed.notes)}
        return healed.notebook, resources


class PlaceWorkOrder(_Step):
    """Puts the student's own work order, from the class folder, beside the notebook before it runs."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Write the work order over whatever came in under its name."""
        job = self.job(resources)
        if job.is_ours:
            files = job.case.files
            folder = Path(resources["metadata"]["path"])
            for name, content in files.items():
                write_bytes_whole(folder / name, content)
            resources[_KEY] = files
        return nb, resources


class SandboxedExecute(_Step):
    """Runs the notebook shut in and within the class's limits, in the place of nbgrader's own Execute."""

    trust_files = Bool(False, help="Run notebooks even where nothing shuts their code in.").tag(config=True)

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Run every code cell."""
        job = self.job(resources)
        shut_in = require_protection(self.trust_files)
        if shut_in.missing:
            self.log.warning(shut_in.words)
        limits = Limits(cell_s=job.cls.settings.cell_timeout_s)
        quiet = logging.getLogger("brakecourse.run")
        run = NotebookRun(resources.get(_KEY, {}), shut_in, limits, (job.cls.root, SOLUTIONS), log=quiet)
        started = time.monotonic()
        for cell in nb.cells:
            # Outputs that came in, and tags that would make a cell be skipped, count for nothing.
            cell.metadata.pop("tags", None)
            if cell.cell_type == "code":
                cell.outputs, cell.execution_count = [], None
        run.preprocess(nb, resources)
        for note in run.notes:
            self.log.warning("%s: %s", job.student_id, printable(note))
        own = nb.metadata.setdefault(_KEY, {})
        own.update(troubles=list(run.notes), seconds=time.monotonic() - started, shut_in=not shut_in.missing)
        return nb, resources


class JudgeAnswers(_Step):
    """Judges the answers outside the kernel and leaves the points where nbgrader reads them."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Replace what each graded cell put out by its outcome, and keep the course's own records."""
        job = self.job(resources)
        if not job.is_ours:
            return nb, resources
        plan, case = job.plan, job.case
        judged = judge_notebook(nb, plan, case.case)
        own = nb.metadata.pop(_KEY, {})
        record = RunRecord(
            student_id=job.student_id,
            status=GRADED,
            why=" ".join(own.get("troubles", ())),
            healed=tuple(own.get("healed", ())),
            # nbgrader stores the points later, in its own transactions. Without a fingerprint the
            # course's own grading does not take this submission for settled.
            submission_sha256="",
            case_version=case.version,
            shut_in=bool(own.get("shut_in", False)),
            duration_s=float(own.get("seconds", 0.0)),
        )
        with Ledger(job.cls) as ledger, ledger.transaction() as book:
            store_records(book, plan, record, judged)
        return nb, resources
