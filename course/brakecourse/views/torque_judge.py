"""Judge a wrench, a used bolt, and a way to tighten."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.clamped_bolt import clamped_bolt_svg
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.torque_bolt_tasks import reuse_task
from brakecourse.views.torque_tolerance import OnTester, tolerance_task
from brakecourse.views.torque_tool_tasks import tool_task
from brakecourse.views.torque_wrench_use import wrench_picture

IN_TOLERANCE, REUSE, TOOL = "the wrench's tolerance", "a used bolt", "tool and threads"


class TorqueJudge(Quiz):
    """Three kinds of judgement before a wheel goes back on the road."""

    title = "Would you let it go?"
    task = "Look at the picture and the table. Choose one answer, then press Check."
    lesson = "11_reassembly_and_torque"
    topics = (IN_TOLERANCE, REUSE, TOOL)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        makers = {IN_TOLERANCE: tolerance_task, REUSE: reuse_task, TOOL: tool_task}
        return makers[topic](topic, difficulty, draw)

    def picture(self) -> str:
        case = self.asked.case
        if isinstance(case, OnTester):
            return wrench_picture(
                case.wrench, case.set_nm, uid=self.uid, title="The wrench that was tested, as it was set"
            )
        one = case.fastener
        return clamped_bolt_svg(
            one.diameter_mm,
            one.pitch_mm,
            one.property_class,
            nut=not case.where,
            uid=self.uid,
            title=f"{'Wheel stud and nut' if not case.where else 'Bolt'} of the {case.vehicle.name}",
        )
