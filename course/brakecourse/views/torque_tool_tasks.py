"""Which tool, which threads, which number: what would you do, and why not the other ways?"""

from __future__ import annotations

from collections.abc import Callable

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.published import convert
from brakecourse.trade import fasteners
from brakecourse.views.quiz import Task
from brakecourse.views.torque_sums import Bolt, all_bolts, clamp_range_n, lbfin, proof_load_n
from brakecourse.views.torque_words import FINISH_WORDS, inch_pounds, kn, nm, plain, thread
from brakecourse.views.words import number, percent

Made = tuple[str, dict[str, str], str]  # the question, each choice with its reason, the right one


def tool_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a question about tightening one fastener.

    Args:
        topic: the quiz's topic.
        difficulty: easy ones are about the tool and oil, hard ones about all of it.
        draw: chance.
    """
    makers: list[Callable[[Draw], tuple[Bolt, Made]]] = [_impact, _oil]
    if difficulty != "easy":
        makers += [_inches, _twice]
    if difficulty == "hard":
        makers += [_socket_bar, _raised]
    maker = draw.child("kind").choice(makers)
    bolt, (question, reasons, right) = maker(draw.child("bolt"))
    one = bolt.fastener
    sheet = inch_pounds(one.torque_nm) if maker is _inches else nm(one.torque_nm)
    evidence = (
        ("What", "Value"),
        ("Fastener", f"{bolt.name} of the {bolt.vehicle.name}, {thread(one)}, class {one.property_class}"),
        ("The sheet says", f"{sheet}, threads {FINISH_WORDS[one.finish]}"),
    )
    choices = tuple(draw.child("choices").shuffled(list(reasons)))
    return Task(topic, question, choices, right, reasons, evidence, bolt)


def _impact(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if not one.where])
    one = bolt.fastener
    low, _, high = clamp_range_n(one, one.torque_nm, one.finish, fasteners.IMPACT_TOLERANCE)
    proof = proof_load_n(one.diameter_mm, one.pitch_mm, one.property_class)
    spread = (
        f"In this course it may miss by {percent(fasteners.IMPACT_TOLERANCE)}: from {kn(low)} to {kn(high)}, "
        f"where the proof load is {kn(proof)}."
    )
    right = "by hand, then with the torque wrench across and across, in steps"
    reasons = {
        right: "Only the torque wrench measures. The steps and the way across let the wheel seat flat.",
        "with the impact wrench, set to this torque": f"An impact wrench is no torque wrench. {spread}",
        "with the impact wrench first, then one click of the torque wrench": (
            "A click shows only that the torque is not less. If the impact wrench gave more, nobody sees "
            f"it. {spread}"
        ),
        "with the torque wrench, each nut to the whole torque, round the circle": (
            "The tool is right, the order is not: the first nuts pull the wheel down on one side."
        ),
    }
    return bolt, ("How do you tighten these wheel nuts?", reasons, right)


def _oil(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if one.fastener.finish in ("plain", "zinc")])
    one = bolt.fastener
    dry, wet = fasteners.nut_factor(one.finish), fasteners.nut_factor("lubricated")
    pull = fasteners.preload_n(one.torque_nm, one.diameter_mm, wet)
    more = plain(100 * (dry / wet - 1))
    right = "clean and dry the threads, then set the torque of the sheet"
    reasons = {
        right: "The torque of the sheet holds for threads as the sheet means them.",
        "set the torque of the sheet: oil does no harm": (
            f"Oil makes the threads slip: the same torque clamps {more} harder, {kn(pull)} instead of "
            f"{kn(one.preload_n)}."
        ),
        "set a little less, to make up for the oil": (
            f"With the oil of a textbook it is {more}, but no two oils are alike. A guess is no maker's "
            "torque."
        ),
        "set a little more, so that it holds in spite of the oil": (
            f"It would go the wrong way: oil alone already clamps {more} harder."
        ),
    }
    return bolt, (f"The threads of {bolt.owner} are oily. What do you do?", reasons, right)


def _inches(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if one.fastener.torque_nm <= 50])
    one = bolt.fastener
    inches = round(lbfin(one.torque_nm))
    wrong = convert(inches, "lbf*ft", "N*m")
    right = f"set {number(inches / 12, 1)} lbf·ft"
    reasons = {
        right: f"A foot has 12 inches: {inches} ÷ 12 = {number(inches / 12, 1)} lbf·ft.",
        f"set {inches} lbf·ft": (
            f"That is lbf·in taken for lbf·ft: {nm(wrong)}, 12 times too much. The bolt would break."
        ),
        f"set {12 * inches} lbf·ft": (
            "You multiplied by 12. A pound-foot is more than a pound-inch, so divide."
        ),
        f"set {inches} N·m": (
            f"That is lbf·in taken for N·m, {number(inches / one.torque_nm, 0)} times too much."
        ),
    }
    question = (
        f"An old sheet gives {inch_pounds(one.torque_nm)} for {bolt.owner}. Your wrench has N·m and lbf·ft."
    )
    return bolt, (f"{question} What do you set?", reasons, right)


def _twice(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if one.where])
    right = "stop at the first click"
    reasons = {
        right: "The click says that the set torque is reached. Whoever pulls on gives more.",
        "pull a little past the click, to be safe": (
            "Past the click nothing is measured any more. More torque is no safety: it stretches the bolt."
        ),
        "let it click three or four times": "Each further jerk turns the bolt a little more.",
        "pull fast, so that it clicks at once": (
            "A fast pull runs past the click before you can stop. Pull slowly, at the middle of the grip."
        ),
    }
    return bolt, (
        f"You tighten {bolt.owner} with the torque wrench. What do you do at the click?",
        reasons,
        right,
    )


def _socket_bar(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if one.where])
    one = bolt.fastener
    share = 450 / 600  # a 450 mm wrench whose lever would grow by the bar's 150 mm
    right = f"set {nm(one.torque_nm)}"
    reasons = {
        right: "The bar stands in line with the bolt. The lever of your pull stays as long as it was.",
        f"set {nm(one.torque_nm * share)}": (
            "The bar is not part of the lever: it stands in line with the bolt, not with the wrench."
        ),
        f"set {nm(one.torque_nm / share)}": (
            "The bar takes nothing away: what twists it at one end twists the bolt at the other."
        ),
    }
    question = (
        f"To reach {bolt.owner} you put a socket bar, 150 mm (5.9 in) long, between wrench and socket, in "
        "line "
        "with the bolt. What do you set?"
    )
    return bolt, (question, reasons, right)


def _raised(draw: Draw) -> tuple[Bolt, Made]:
    bolt = draw.choice([one for one in all_bolts() if not one.where])
    right = "snug on the stands, to the whole torque with the tyre on the ground"
    reasons = {
        right: (
            "On the ground the tyre holds the wheel, and your pull cannot bring the vehicle off its stands."
        ),
        "to the whole torque on the stands, with a helper on the brake pedal": (
            "The pads are new and not bedded in, and a hard pull can bring the vehicle off its stands."
        ),
        "hand-tight on the ground, to the whole torque after the road test": (
            "A loose wheel comes off on the road."
        ),
        "to the whole torque as soon as the wheel is on, still hanging": (
            "A hanging wheel turns with the wrench, and its weight keeps it off its seat."
        ),
    }
    return bolt, ("The wheel is on. Where and when do its nuts get their torque?", reasons, right)
