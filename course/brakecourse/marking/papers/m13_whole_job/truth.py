"""What is true of the vehicle behind a whole job, as it is sealed."""

from __future__ import annotations

from pydantic import Field

from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Row, Truth
from brakecourse.trade import rotor as trade
from brakecourse.trade.conformity import Decision, decide
from brakecourse.trade.fluid import MixingGrade, boiling_minima_c
from brakecourse.trade.pads import PadLimits
from brakecourse.trade.rotor import Instruments, RotorSpec

MODULE = "13_whole_job"
CONFIDENCE = 0.95
PLACES = tuple(
    f"{pad}: {end}" for pad in ("inner pad", "outer pad") for end in ("leading end", "trailing end")
)
"""Where the lining is read, in the order of the table."""

HUB = "dirty_hub"
"""The cause that leans a rotor which is itself true."""

PARTS = ("brake pads", "rotors", "brake hoses", "piston-and-seal sets", "slide pins with their boots")

Reads = tuple[SealedReading, ...]


class Found(Record):
    """What one check showed.

    Attributes:
        check: its short name.
        what: what was done, in words.
        shown: what it showed, in words.
    """

    check: str
    what: str
    shown: str


class Torques(Record):
    """The torques of the maker's sheet, and the wrench.

    Attributes:
        bolt: name of the bolt.
        nut_lbfft, bolt_lbfft: torque of the wheel nuts and of the bolt, whole lbf·ft.
        wrench_mm, extension_mm: lengths; the extension is straight on.
    """

    bolt: str
    nut_lbfft: Finite
    bolt_lbfft: Finite
    wrench_mm: Finite
    extension_mm: Finite


class Bedding(Record):
    """What the bedding-in is planned with.

    Attributes:
        mass_kg: mass of the vehicle with its usual load.
        front_percent: share of the braking that the front axle does, in percent, as printed.
        rotor_kg: mass of one front rotor.
        air_c: temperature of the air.
        start_c: a front rotor before the last slowdown.
        half_time_min: time in which half of its difference to the air goes, as printed.
        half_times: how many of them the vehicle is driven on without brakes.
    """

    mass_kg: Finite = Field(gt=0)
    front_percent: Finite
    rotor_kg: Finite = Field(gt=0)
    air_c: Finite
    start_c: Finite
    half_time_min: Finite
    half_times: int


class JobTruth(Truth):
    """One vehicle from the complaint to the signed record.

    Attributes:
        wheel: the wheel that is measured.
        faults: what is the matter, by its short names; the cause of the complaint first.
        checks: what was checked, in its order.
        max_mm, min_mm, height_mm: the reservoir's marks and its inside height, above its floor.
        level: the rule at the reservoir.
        grade: the fluid that the maker asks for.
        boiling: the boiling-point tester, in °C; its display is set to °F.
        boiling_u_c: its standard uncertainty, as printed.
        hottest_c: how hot the fluid gets on the long hill with sound brakes.
        plate_mm: steel backing plate of a pad.
        lining_new_mm: lining when new.
        pad_limits: the pads' limits and the depth gauge's uncertainty, as printed.
        lining: the depth gauge at the four places.
        soaked: a pad is wet with brake fluid.
        spec: the rotor's limits.
        instruments: standard uncertainties of the rotor's gauges, as printed.
        in_from_edge_mm, micrometer_from_mm: where the gauges stood, and the micrometer's low end.
        thickness, ridge: the micrometer at the eight places, and on the ridge.
        dial: the dial at the eight places, all wheel nuts snug.
        confidence: probability of a right decision that the guard band is made for.
        torques, bedding: what belongs to those.
        listed: the steps of the job in the order in which they are listed, by the names of the trade.
    """

    wheel: str
    faults: tuple[str, ...] = Field(min_length=1)
    checks: tuple[Found, ...]
    max_mm: Finite
    min_mm: Finite
    height_mm: Finite
    level: SealedReading
    grade: MixingGrade
    boiling: SealedReading
    boiling_u_c: Finite
    hottest_c: Finite
    plate_mm: Finite
    lining_new_mm: Finite
    pad_limits: PadLimits
    lining: Reads
    soaked: bool
    spec: RotorSpec
    instruments: Instruments
    in_from_edge_mm: Finite
    micrometer_from_mm: Finite
    thickness: Reads
    ridge: SealedReading
    dial: Reads
    confidence: Finite = Field(ge=0.5, lt=1)
    torques: Torques
    bedding: Bedding
    listed: tuple[str, ...]

    @property
    def cause(self) -> str:
        """Short name of the cause of the complaint."""
        return self.faults[0]

    @property
    def axle(self) -> str:
        """The axle of the measured wheel."""
        return self.wheel.split()[0]

    @property
    def lining_mm(self) -> Row:
        """The depth gauge at the four places, to the nearest line."""
        return tuple(one.reading for one in self.lining)

    @property
    def thickness_mm(self) -> Row:
        """The micrometer at the eight places, to the nearest line."""
        return tuple(one.reading for one in self.thickness)

    @property
    def dial_mm(self) -> Row:
        """The dial at the eight places, to the nearest line."""
        return tuple(one.reading for one in self.dial)

    @property
    def wet_c(self) -> float:
        """The wet limit of the maker's grade."""
        return boiling_minima_c(self.grade)[1]

    @property
    def needed_c(self) -> float:
        """What the boiling point must be proven above: the higher of wet limit and hottest fluid."""
        return max(self.wet_c, self.hottest_c)

    def lining_decision(self, lining_mm: float, u_mm: float | None = None) -> Decision:
        """Hold a lining against the minimum.

        Args:
            lining_mm: the thinnest place.
            u_mm: standard uncertainty to count; left out: the gauge's.
        """
        u = self.pad_limits.thickness_u_mm if u_mm is None else u_mm
        return decide(lining_mm, self.pad_limits.minimum_mm, "minimum", u, self.confidence)

    def fluid_decision(
        self, boiling_c: float, limit_c: float | None = None, u_c: float | None = None
    ) -> Decision:
        """Hold a boiling point against a limit.

        Args:
            boiling_c: the boiling point.
            limit_c: the limit; left out: the higher of the two.
            u_c: standard uncertainty to count; left out: the tester's.
        """
        limit = self.needed_c if limit_c is None else limit_c
        u = self.boiling_u_c if u_c is None else u_c
        return decide(boiling_c, limit, "minimum", u, self.confidence)

    def rotor_finding(
        self,
        smallest_mm: float,
        variation_mm: float,
        run_out_mm: float,
        spec: RotorSpec | None = None,
        instruments: Instruments | None = None,
    ) -> trade.RotorFinding:
        """Return the trade's verdict on values that need not be the true ones, mm.

        Args:
            smallest_mm, variation_mm, run_out_mm: of the rotor.
            spec, instruments: limits and uncertainties to count; left out: the vehicle's own.
        """
        return trade.verdict(
            (smallest_mm, smallest_mm + variation_mm),
            (0.0, run_out_mm),
            self.spec if spec is None else spec,
            self.instruments if instruments is None else instruments,
            self.confidence,
        )
