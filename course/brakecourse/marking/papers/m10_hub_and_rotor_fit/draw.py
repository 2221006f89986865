"""How a rotor on its hub is drawn: so that no reading's own error changes what is to be done with it."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import Situation, draw_fit
from brakecourse.bench.gauges import DialIndicator, dial_indicator
from brakecourse.bench.rotor_fits import PLACES_DEG, Fit
from brakecourse.bench.situations import Difficulty
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import (
    ASKED_STUDS,
    FitTruth,
    Measure,
    Reads,
    Sizes,
)
from brakecourse.marking.readings import seal_reading
from brakecourse.trade.rotor import run_out_mm

SHARES: dict[str, float] = {
    "clean is enough": 0.25,
    "index it": 0.35,
    "hub is bent": 0.2,
    "rotor is bent": 0.2,
}
"""How often each is what the clean faces ask for."""

CLEAR_MM = 0.012
"""A total that is held against the limit lies farther from it than this. The dial's standard uncertainty for
a difference is 0.005 mm, and an honest sum of arrows may be off by 0.007 mm: both stay inside."""

APART_MM = 0.015
"""The best position leaves so much less than any other that no honest rounding names another one."""

SHOWS_MM = 0.03
"""So much more the dial shows with the flake than without, so that the two are told apart."""

ASIDE_DEG = 75.0
"""A flake lies no farther than this from where the clean face stands out most, so that it adds to it."""

RUST_MM = (0.15, 0.4)
"""How far the rust at the outer edge stands off the track. Assumption, no source."""

U_PLACES = 4
MOST_TRIES = 200
SCREW_SHARE, HOLES_SHARE = 0.4, 0.5

_BENCH: dict[str, Situation] = {
    "clean is enough": "clean",
    "index it": "index",
    "hub is bent": "hub",
    "rotor is bent": "rotor",
}
_FLAKE_MM = (0.05, 0.15)
_COMPLAINTS = (
    "The {axle} rotors were renewed some weeks ago, somewhere else. Since then the driver feels a light beat "
    "in the pedal at gentle stops.",
    "New {axle} rotors and pads went on 400 km (250 miles) ago, in a hurry. The pedal has beaten lightly "
    "ever since.",
    "The driver says that the pedal goes down a little farther after each long bend, and that it beats "
    "lightly. The {axle} rotors are nearly new.",
    "It has come back: new {axle} rotors, and still a light beat in the pedal. The driver asks whether the "
    "rotors are to blame.",
)


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> FitTruth:
    """Draw the rotor of one wheel with a flake of rust under it."""
    root = Draw(seed)
    wanted = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    for again in range(MOST_TRIES):
        chance = root.child(f"rotor {again}")
        fit = draw_fit(_BENCH[wanted], difficulty, chance.child("fit"), also=_is_clear)
        if not fit.own.debris_mm:
            fit = _with_flake(fit, chance.child("flake"))
        truth = _truth(fit, wanted, chance)
        if is_fair(truth):
            return truth
    raise RuntimeError(f"No rotor for '{wanted}' was found for seed {seed}; please report this.")


def is_fair(truth: FitTruth) -> bool:
    """Tell whether every finding is clear: what was found, what cleaning left, and the best position."""
    found, clean, limit = run_out_mm(truth.found_mm), run_out_mm(truth.clean_mm), truth.limit_mm
    table = [truth.together_mm(truth.hub, index) for index in ASKED_STUDS]
    every = sorted(truth.positions_mm(clean, table))
    hub, rotor = truth.hub.total_mm, truth.rotor_mm
    clear = found >= limit + CLEAR_MM and found >= clean + SHOWS_MM and every[1] - every[0] >= APART_MM
    if truth.situation == "clean is enough":
        return clear and clean <= limit - CLEAR_MM
    if truth.situation == "index it":
        within = every[0] <= limit - CLEAR_MM and max(hub, rotor) <= limit
        return clear and within and clean >= limit + CLEAR_MM
    bad, good = (hub, rotor) if truth.situation == "hub is bent" else (rotor, hub)
    return clear and min(every[0], bad) >= limit + CLEAR_MM and good <= limit - CLEAR_MM


def _is_clear(fit: Fit) -> bool:
    """Tell whether one position is clearly the best, and neither it nor the old one lies at the limit."""
    every = sorted(fit.best[2])
    deciding = (every[0], fit.best[2][0])
    return every[1] - every[0] >= APART_MM and all(abs(one - fit.limit_mm) >= CLEAR_MM for one in deciding)


def _with_flake(fit: Fit, draw: Draw) -> Fit:
    """Return the same wheel with a flake of rust on it, on the side where it makes the run-out larger."""
    flake = round(draw.between(*_FLAKE_MM), 2)
    place = fit.found.rotor.tilt_high_deg + draw.between(-ASIDE_DEG, ASIDE_DEG)
    return fit.with_rotor(debris_mm=flake, debris_deg=float(5 * round(place / 5) % 360))


def _truth(fit: Fit, situation: str, draw: Draw) -> FitTruth:
    dial, brake, own = dial_indicator(), fit.brake, fit.own
    measures: list[Measure] = ["radius", "diameter"]
    seat_as, track_as = draw.child("measures").shuffled(measures)
    clean = _reads(fit.cleaned(), dial, draw.child("clean"))
    rust = clean[0].reading + draw.child("rust").between(*RUST_MM)
    hat = draw.child("hat")
    flange = round(own.flange_run_out_mm, 3)
    axle = brake.axle
    return FitTruth(
        situation=situation,
        vehicle=fit.vehicle.name,
        fleet_number=fit.vehicle.fleet_number,
        complaint=draw.child("complaint").choice(_COMPLAINTS).format(axle=axle),
        wheel=fit.wheel,
        studs=fit.studs,
        limit_mm=fit.limit_mm,
        seat_mm=fit.seat_mm,
        track_mm=fit.radius_mm,
        seat_as=seat_as,
        track_as=track_as,
        flake_mm=own.debris_mm,
        flake_deg=own.debris_deg,
        flange_mm=flange,
        hub_deg=own.flange_high_deg,
        rotor_mm=own.rotor_run_out_mm,
        rotor_deg=own.rotor_high_deg,
        tried_mm=tuple(dial.reading(fit.best[2][index]) for index in range(len(ASKED_STUDS) + 1, fit.studs)),
        screw=hat.uniform() < SCREW_SHARE,
        holes=hat.uniform() < HOLES_SHARE,
        found=_reads(fit, dial, draw.child("found")),
        clean=clean,
        edge=seal_reading(dial, dial.indicate_clear(rust, draw.child("edge"))),
        difference_u_mm=round(dial.difference_uncertainty_mm, U_PLACES),
        sizes=Sizes(
            outer=brake.rotor_outer_radius_mm,
            inner=brake.rotor_inner_radius_mm,
            thickness=brake.rotor.nominal_mm,
            stud_circle=fit.vehicle.stud_circle_mm,
        ),
    )


def _reads(fit: Fit, dial: DialIndicator, draw: Draw) -> Reads:
    """Return the dial at the eight places, set to 0 at place 1, where it stands on its line."""
    rotor = fit.found.rotor
    start = rotor.face_offset_mm(0)
    shown = [0.0] + [
        dial.indicate_clear(rotor.face_offset_mm(angle) - start, draw.child(f"place {place}"))
        for place, angle in enumerate(PLACES_DEG[1:], start=2)
    ]
    return tuple(seal_reading(dial, one) for one in shown)
