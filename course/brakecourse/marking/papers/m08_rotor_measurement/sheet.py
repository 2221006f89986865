"""What the student gets to see of the rotor: its limits, and the gauges as they stood.

The drawings are numbered in the order in which they were taken, and say only where and how.
"""

from __future__ import annotations

from brakecourse.marking.paper import Sheet
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth
from brakecourse.marking.papers.rotor_gauges import dials, micrometers
from brakecourse.trade.conformity import expanded, guard_band
from brakecourse.views.words import mm, number

NOTES = (
    "The rotor was cleaned wet, the hub face was cleaned, and the rotor was cold.",
    "The micrometer was zeroed before use. The dial stood square to the face and was set to 0 at place 1.",
    "The micrometer drawings 1 to 8 and all the dial drawings were taken on the swept track, "
    "{in_from_edge} in from the outer edge. Micrometer drawing 9 was taken at the outer edge itself.",
)


def sheet(rotor: RotorTruth) -> Sheet:
    """Return what the student gets to see."""
    thickness = micrometers(rotor.thickness, rotor.ridge, rotor.micrometer_from_mm)
    turned = {
        **dials(rotor.dial_loose, "o", "wheel nuts off"),
        **dials(rotor.dial_seated, "s", "all wheel nuts fitted and snug"),
    }
    return Sheet(
        facts=_facts(rotor),
        notes=tuple(note.format(in_from_edge=mm(rotor.in_from_edge_mm, 0)) for note in NOTES),
        drawings={**thickness, **turned},
        shown={"8.1": list(thickness), "8.4": list(turned)},
        labels={"8.1": [f"place {place}" for place in range(1, len(rotor.thickness) + 1)]},
    )


def _facts(rotor: RotorTruth) -> tuple[tuple[str, str], ...]:
    spec, gauges = rotor.spec, rotor.instruments
    u, micrometer, dial = gauges.thickness_u_mm, rotor.ridge, rotor.dial_seated[0]
    factor = guard_band(1.0, rotor.confidence)
    return (
        ("Rotor thickness when new", mm(spec.nominal_mm)),
        ("Machine-to limit (after a cut, no thinner)", mm(spec.machine_to_mm)),
        ("Discard limit (ever, no thinner)", mm(spec.discard_mm)),
        ("Largest thickness variation", mm(spec.max_variation_mm, 3)),
        ("Largest total run-out, all wheel nuts snug", mm(spec.max_run_out_mm)),
        ("Micrometer", f"{micrometer.gauge}, lines of {mm(micrometer.division)}"),
        ("A thickness reading: standard uncertainty u", mm(u, 4)),
        ("A thickness reading: expanded uncertainty (k = 2)", mm(expanded(u), 4)),
        ("Difference of two thickness readings: u", mm(gauges.thickness_difference_u_mm, 4)),
        ("Dial indicator", f"lines of {mm(dial.division)}"),
        ("Difference of two dial readings: u", mm(gauges.dial_difference_u_mm, 4)),
        ("Guard band", f"{number(factor, 3)} times u, for {number(100 * rotor.confidence, 0)} % confidence"),
    )
