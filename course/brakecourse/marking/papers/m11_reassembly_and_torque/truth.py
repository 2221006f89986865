"""What is true of the vehicle, the bolt and the wrench behind a case."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pydantic import Field

from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Truth
from brakecourse.trade import fasteners
from brakecourse.trade._bolts import PropertyClass

MODULE = "11_reassembly_and_torque"

SOUND, OVER, SPOILT, ONCE = "sound", "over its proof load", "spoilt", "use once"
SHARES: Mapping[str, float] = MappingProxyType({SOUND: 0.4, OVER: 0.2, SPOILT: 0.2, ONCE: 0.2})
"""How often a bolt is of each kind. Assumption, no source."""

STEPS = (
    "rotor_on",
    "bracket_on",
    "pads_in",
    "caliper_on",
    "torque_bolts",
    "wheel_on",
    "lower_vehicle",
    "torque_nuts",
    "pump_pedal",
    "first_move",
)
"""The steps that are put in order, by the names of the trade, in a right order."""


class Sheet(Record):
    """An old sheet in US units.

    Attributes:
        nut_lbfft: torque of the wheel nuts, whole lbf·ft.
        small, small_lbfin: a small bolt, and its torque in whole lbf·in.
    """

    nut_lbfft: Finite
    small: str
    small_lbfin: Finite


class Wheel(Record):
    """A wheel seen from the front, stud 1 at the top, the others clockwise.

    Attributes:
        studs: how many.
        first: the nut that is tightened already.
        circle_mm, thread_mm, rim_mm, tyre_mm: for the drawing.
    """

    studs: int
    first: int
    circle_mm: Finite
    thread_mm: Finite
    rim_mm: Finite
    tyre_mm: Finite


class SealedBolt(Record):
    """The bolt of the questions 11.3, 11.6, 11.7 and 11.9.

    Attributes:
        name: e.g. ``front bracket bolt``.
        torque_nm: torque of the maker's sheet.
        diameter_mm, pitch_mm, property_class: thread and class, on the drawing.
        finish: how the sheet means the threads, in words.
        dry, oiled: nut factor K of these threads, and of oiled ones, as printed.
        proof_kn: proof load, as printed.
        reusable: what the sheet says.
        state: how the bolt looks, in words.
        spoilt: that look means that it may not go back.
    """

    name: str
    torque_nm: Finite
    diameter_mm: Finite
    pitch_mm: Finite
    property_class: PropertyClass
    finish: str
    dry: Finite
    oiled: Finite
    proof_kn: Finite
    reusable: bool
    state: str
    spoilt: bool


class Extended(Record):
    """The wrench that was left, with its extension.

    Attributes:
        largest_nm: end of its scale.
        length_mm: from the square drive to the middle of the grip.
        extension_mm, angle_deg: of the extension.
        left: what it was left set to; the drawing shows it.
    """

    largest_nm: Finite
    length_mm: Finite
    extension_mm: Finite
    angle_deg: Finite
    left: SealedReading


class OnTester(Record):
    """A wrench on the torque tester.

    Attributes:
        set_nm, shown_nm: its setting, and what the tester shows at the click.
        largest_nm: end of its scale.
        share: how far its click may miss, as a share of the setting.
        u_nm: standard uncertainty of what the tester shows, as printed.
        confidence: probability of a right decision that the guard band is made for.
    """

    set_nm: Finite
    shown_nm: Finite
    largest_nm: Finite
    share: Finite
    u_nm: Finite
    confidence: Finite = Field(ge=0.5, lt=1)


class TorqueTruth(Truth):
    """One vehicle that goes together again.

    Attributes:
        old: the old sheet.
        wheel: the wheel whose nuts are tightened.
        bolt: the bolt that somebody tightened.
        wrench: with what.
        tested: another wrench, on the tester.
        listed: the steps of the job in the order in which they are listed, by the names of the trade.
    """

    old: Sheet
    wheel: Wheel
    bolt: SealedBolt
    wrench: Extended
    tested: OnTester
    listed: tuple[str, ...]

    @property
    def setting_nm(self) -> float:
        """What to set for the bolt with this extension."""
        one = self.wrench
        return fasteners.wrench_setting_nm(
            self.bolt.torque_nm, one.length_mm, one.extension_mm, one.angle_deg
        )

    def carried_percent(self, read_nm: float, setting_nm: float, factor: float) -> float:
        """Return the share of its proof load that the bolt carried, percent.

        Args:
            read_nm: what the wrench was left set to.
            setting_nm: what it should have been set to.
            factor: nut factor K of the threads.

        Source:
            The lever makes torque over setting; the rest is :func:`brakecourse.trade.fasteners.preload_n`.
        """
        got_nm = read_nm * self.bolt.torque_nm / setting_nm
        return 100 * fasteners.preload_n(got_nm, self.bolt.diameter_mm, factor) / (1000 * self.bolt.proof_kn)
