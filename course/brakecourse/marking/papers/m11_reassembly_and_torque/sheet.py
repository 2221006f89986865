"""What the student gets to see: the maker's sheet, the bolt, the wrenches and the wheel."""

from __future__ import annotations

from brakecourse.bench.shop_gauges import torque_wrench
from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.job_steps import words
from brakecourse.marking.papers.m11_reassembly_and_torque.key_order import nut
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.published import convert
from brakecourse.trade.conformity import guard_band
from brakecourse.views.drawings import torque_wrench_svg
from brakecourse.views.drawings.clamped_bolt import clamped_bolt_svg
from brakecourse.views.drawings.wheel_nuts import wheel_nuts_svg
from brakecourse.views.torque_sums import turn_nm
from brakecourse.views.torque_words import grip_words, kn, nm, wrench_name
from brakecourse.views.words import number, percent

NOTES = (
    "Somebody has tightened the bolt above with the wrench and the extension of the drawings. The threads "
    "were oiled. The wrench clicked, and was left as it was set.",
    "The old sheet is of another year. It is for question 11.1 only.",
)


def sheet(case: TorqueTruth) -> Sheet:
    """Return what the student gets to see."""
    return Sheet(
        facts=_facts(case),
        notes=NOTES,
        drawings={"w1": _left(case), "e1": _extended(case), "n1": _wheel(case), "c1": _bolt(case)},
        shown={"11.2": ["w1"], "11.3": ["e1"], "11.4": ["n1"], "11.6": ["c1"]},
        labels={"11.1": ["the wheel nuts", f"the {case.old.small}s"]},
        steps={
            "11.4": [nut(one) for one in range(1, case.wheel.studs + 1)],
            "11.5": [words(one) for one in case.listed],
        },
    )


def _facts(case: TorqueTruth) -> tuple[tuple[str, str], ...]:
    bolt, tested, old = case.bolt, case.tested, case.old
    left, other = torque_wrench(case.wrench.largest_nm), torque_wrench(tested.largest_nm)
    band = guard_band(tested.u_nm, tested.confidence)
    return (
        ("Old sheet: the wheel nuts", f"{number(old.nut_lbfft, 0)} lbf·ft"),
        (f"Old sheet: the {old.small}s", f"{number(old.small_lbfin, 0)} lbf·in"),
        ("The bolt that was tightened", bolt.name),
        ("Its torque, maker's sheet", nm(bolt.torque_nm)),
        ("Its threads, maker's sheet", f"{bolt.finish}: K = {bolt.dry:g}"),
        ("Oiled threads", f"K = {bolt.oiled:g}"),
        ("Its proof load", kn(1000 * bolt.proof_kn)),
        ("Used bolts, maker's sheet", "may be used again" if bolt.reusable else "use once, then renew"),
        ("The bolt itself, now", bolt.state),
        ("The wrench that was left", f"{wrench_name(left)}. {grip_words(left)}"),
        ("A wrench on the tester", wrench_name(other)),
        ("It was set to", nm(tested.set_nm)),
        (
            "The tester shows at the click",
            f"{number(tested.shown_nm)} N·m ({number(convert(tested.shown_nm, 'N*m', 'lbf*ft'))} lbf·ft)",
        ),
        ("Its tolerance", f"plus or minus {percent(tested.share)} of the setting"),
        ("Guard band of the tester", f"{number(band)} N·m ({number(convert(band, 'N*m', 'lbf*ft'))} lbf·ft)"),
    )


def _left(case: TorqueTruth) -> Drawn:
    tool, one = torque_wrench(case.wrench.largest_nm), case.wrench
    svg = torque_wrench_svg(
        one.left.indication,
        low_nm=tool.scale.start,
        high_nm=tool.scale.end,
        turn_nm=turn_nm(tool),
        wrench_mm=one.length_mm,
        uid="w1",
        title="The wrench as it was left",
    )
    return Drawn(svg, "The wrench as it was left")


def _extended(case: TorqueTruth) -> Drawn:
    tool, one = torque_wrench(case.wrench.largest_nm), case.wrench
    svg = torque_wrench_svg(
        tool.scale.start,
        low_nm=tool.scale.start,
        high_nm=tool.scale.end,
        turn_nm=turn_nm(tool),
        wrench_mm=one.length_mm,
        extension_mm=one.extension_mm,
        angle_deg=one.angle_deg,
        uid="e1",
        title="The same wrench, at its low end, with the extension",
    )
    return Drawn(svg, "The same wrench, turned back to its low end, with the extension on")


def _wheel(case: TorqueTruth) -> Drawn:
    one = case.wheel
    svg = wheel_nuts_svg(
        one.studs,
        stud_circle_mm=one.circle_mm,
        thread_mm=one.thread_mm,
        rim_radius_mm=one.rim_mm,
        tyre_radius_mm=one.tyre_mm,
        tight=(one.first,),
        uid="n1",
        title="The wheel from the front",
    )
    return Drawn(svg, f"The wheel from the front. Nut {one.first} has been tightened.")


def _bolt(case: TorqueTruth) -> Drawn:
    one = case.bolt
    svg = clamped_bolt_svg(
        one.diameter_mm, one.pitch_mm, one.property_class, nut=False, uid="c1", title=f"A {one.name}"
    )
    return Drawn(svg, f"A {one.name}, in section and from its head")
