"""Draw rotors on their hubs: each with one thing to do about it, decided by the bench and the dial."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, get_args

from brakecourse.bench.draw import Draw
from brakecourse.bench.rotor_fits import Fit
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS
from brakecourse.bench.vehicle_cases import draw_roots
from brakecourse.bench.vehicle_faults import BentHub, DirtyHub
from brakecourse.bench.vehicles import Vehicle

Situation = Literal["leave", "clean", "index", "hub", "rotor", "clean then index"]
SITUATIONS: tuple[Situation, ...] = get_args(Situation)
CLEAR_MM = 0.015
"""How far from the limit a total must lie, so that the dial can decide. Above the dial's guard band."""

_FAULTS: dict[str, tuple[type[DirtyHub] | type[BentHub], ...]] = {
    "clean": (DirtyHub,),
    "clean then index": (DirtyHub,),
    "hub": (BentHub,),
}
_TRIES = 60
_PARTS_TRIES = 12
_ANGLE_STEP_DEG = 5


def draw_fit(
    situation: Situation,
    difficulty: Difficulty,
    draw: Draw,
    vehicle: Vehicle | None = None,
    also: Callable[[Fit], bool] = lambda _fit: True,
) -> Fit:
    """Draw a rotor on its hub. The same draw gives the same one.

    Args:
        situation: what is to be done: ``"leave"`` it, ``"clean"`` the faces, ``"index"`` the rotor, renew the
            ``"hub"``, machine or renew the ``"rotor"``; or ``"clean then index"``.
        difficulty: ``"easy"`` (far beyond the limit), ``"normal"`` or ``"hard"`` (near it).
        draw: chance.
        vehicle: which vehicle; drawn when left out.
        also: what else must be true of it. It is asked before the bench is, so it looks at sizes only.

    Raises:
        ValueError: there is no such situation, or nothing that fits came up.
    """
    if situation not in SITUATIONS:
        raise ValueError(f"One of {', '.join(SITUATIONS)} was expected, but it was {situation!r}.")
    for again in range(_TRIES):
        trial = draw.child(f"{situation} {again}")
        bare = _vehicle(situation, difficulty, trial, vehicle)
        for _ in range(_PARTS_TRIES):
            fit = bare.with_rotor(**_SIZES[situation](bare, trial))
            if also(fit) and _is(situation, fit):
                return fit
    raise ValueError(f"No rotor to {situation} came up in {_TRIES} trials; another vehicle may give one.")


def _vehicle(situation: Situation, difficulty: Difficulty, draw: Draw, vehicle: Vehicle | None) -> Fit:
    """Draw the vehicle with its fault, if there is one of the bench's that fits."""
    kinds = _FAULTS.get(situation)
    seed = draw.integer(0, 10**9)
    if kinds:
        case = draw_roots(seed, 1, difficulty, kinds, vehicle)
    else:
        case = draw_roots(seed, 0, difficulty, vehicle=vehicle)
    fault = next((one for one in case.faults if isinstance(one, (DirtyHub, BentHub))), None)
    wheel = fault.wheel if fault else draw.choice(WHEELS)
    alike = case.roots.with_wheel(wheel, nuts_nm=())  # tightened as the maker asks: they tilt nothing
    # Found early: the run-out has not yet worn the rotor uneven. That is another lesson.
    return Fit(case.vehicle, wheel, alike, case.km).with_rotor(run_out_km=0.0)


def _hundredths(value_mm: float) -> float:
    return max(0.01, round(value_mm, 2))


def _parts(fit: Fit, draw: Draw, hub_mm: float, rotor_mm: float, flake_mm: float = 0.0) -> dict[str, float]:
    """Return the roots of a hub and a rotor with these run-outs at the track, as a gauge would show them."""
    hub_at_seat = _hundredths(hub_mm) * fit.seat_mm / fit.radius_mm
    return {
        "debris_mm": round(flake_mm, 2),
        "debris_deg": float(_ANGLE_STEP_DEG * draw.integer(0, 71)),
        "flange_run_out_mm": hub_at_seat,
        "flange_high_deg": float(_ANGLE_STEP_DEG * draw.integer(0, 71)),
        "rotor_run_out_mm": _hundredths(rotor_mm),
        "rotor_high_deg": float(_ANGLE_STEP_DEG * draw.integer(0, 71)),
    }


def _of_limit(fit: Fit, draw: Draw, low: float, high: float) -> float:
    return fit.limit_mm * draw.between(low, high)


def _leave(fit: Fit, draw: Draw) -> dict[str, float]:
    return _parts(fit, draw, _of_limit(fit, draw, 0.1, 0.5), _of_limit(fit, draw, 0.1, 0.5))


def _clean(fit: Fit, draw: Draw) -> dict[str, float]:
    small = (_of_limit(fit, draw, 0.1, 0.3), _of_limit(fit, draw, 0.1, 0.3))
    return _parts(fit, draw, *small, fit.own.debris_mm)


def _index(fit: Fit, draw: Draw) -> dict[str, float]:
    return _parts(fit, draw, _of_limit(fit, draw, 0.55, 0.95), _of_limit(fit, draw, 0.55, 0.95))


def _hub(fit: Fit, draw: Draw) -> dict[str, float]:
    bent = fit.own.flange_run_out_mm * fit.radius_mm / fit.seat_mm
    return _parts(fit, draw, bent, _of_limit(fit, draw, 0.1, 0.25))


def _rotor(fit: Fit, draw: Draw) -> dict[str, float]:
    return _parts(fit, draw, _of_limit(fit, draw, 0.1, 0.2), _of_limit(fit, draw, 1.45, 2.2))


def _both(fit: Fit, draw: Draw) -> dict[str, float]:
    return _index(fit, draw) | {"debris_mm": round(fit.own.debris_mm, 2)}


_SIZES: dict[Situation, Callable[[Fit, Draw], dict[str, float]]] = {
    "leave": _leave,
    "clean": _clean,
    "index": _index,
    "hub": _hub,
    "rotor": _rotor,
    "clean then index": _both,
}


def _is(situation: Situation, fit: Fit) -> bool:
    """Say whether the bench and the dial bear the situation out. What costs no time is looked at first."""
    over, within = fit.limit_mm + CLEAR_MM, fit.limit_mm - CLEAR_MM
    return _parts_fit(situation, fit) and (
        fit.total_mm <= within
        if situation == "leave"
        else fit.total_mm >= over
        and (situation != "clean" or fit.cleaned().total_mm <= within)
        and (situation != "clean then index" or fit.cleaned().total_mm >= over)
    )


def _parts_fit(situation: Situation, fit: Fit) -> bool:
    limit = fit.limit_mm
    hub, rotor, best = fit.hub.total_mm, fit.rotor.total_mm, fit.best[1]
    if situation in ("leave", "clean"):
        return (fit.own.debris_mm > 0) == (situation == "clean")
    if situation in ("index", "clean then index"):
        return max(hub, rotor) <= limit and _one_best(fit) and best <= limit - CLEAR_MM
    bad, good = (hub, rotor) if situation == "hub" else (rotor, hub)
    return bad >= limit + CLEAR_MM and best >= limit + 0.005 and good <= 0.4 * limit


def _one_best(fit: Fit) -> bool:
    """Say whether one position is plainly better than all others, and it is not the one it has."""
    index, best, table = fit.best
    others = [one for place, one in enumerate(table) if place != index]
    return index != 0 and min(others) >= best + 0.01
