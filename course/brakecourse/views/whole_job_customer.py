"""What the customer hears: in plain words what was found, what it means, and what was done."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import JobCase
from brakecourse.views.quiz import Task
from brakecourse.views.whole_job_measure import Step
from brakecourse.views.whole_job_remedies import REMEDIES
from brakecourse.views.whole_job_work import FINISH, rubs_anew, works
from brakecourse.views.words import mm

CUSTOMER = "tell the customer"


def customer_words(job: JobCase) -> str:
    """Return what the customer should hear."""
    remedies = [REMEDIES[fault.id] for fault in job.faults]
    told = " ".join(f"{one.plain} {one.means}" for one in remedies)
    told += " We have put that right" + ("." if len(remedies) == 1 else ", both of it.")
    if rubs_anew(job):
        told += " The brakes were bedded in; brake gently for the first days."
    if job.lining.action == "measure again":
        told += " One measure of the pads is too close to its limit to call: let us measure it again soon."
    elif job.lining.action == "find the cause":
        told += " The pads had worn unevenly: let us look at them again at the next service."
    return told


def telling(job: JobCase, draw: Draw) -> Step:
    """Return the last step: what to tell the customer."""
    plain = " ".join(REMEDIES[fault.id].plain for fault in job.faults)
    right = customer_words(job)
    reasons = {
        right: "It says what was found, what it means and what was done, and a driver can understand it.",
        f"{plain} Now it is as good as new and will give no trouble for years.": (
            "Nobody has measured the years to come. Promise only what you have measured and done."
        ),
        f"Smallest rotor thickness {mm(job.rotor.smallest_mm)}, variation {mm(job.rotor.variation_mm, 3)}, "
        f"run-out {mm(job.rotor.run_out_mm)}. We had to {works(job)[0]}.": (
            "All of it may be true, and no customer can use it. Say what it means when they drive."
        ),
        "We have looked at the brakes and done what was needed. All is well now.": (
            f"The finding is left out. {plain} The customer has a right to hear that."
        ),
    }
    task = Task(
        CUSTOMER,
        "The customer asks what was the matter. What do you say?",
        tuple(draw.shuffled(tuple(reasons))),
        right,
        reasons,
        case=job,
    )
    return Step("customer", FINISH, "The customer hears", task, right)
