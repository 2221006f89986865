"""Draw the question what to do about a rotor's run-out; its own numbers give each choice its reason."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import Situation, draw_fit
from brakecourse.bench.rotor_fits import Fit, wheel_words
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.rotor_index import studs_on
from brakecourse.views.quiz import Task
from brakecourse.views.words import mm, number

LEAVE = "leave it as it is"
CLEAN = "clean both faces and measure again"
INDEX = "turn the rotor on to another stud"
HUB = "renew the hub"
ROTOR = "machine or renew the rotor"
CHOICES = (LEAVE, CLEAN, INDEX, HUB, ROTOR)

DIRTY_TOPIC, CLEAN_TOPIC = "dirt or metal", "index or replace"
TOPICS = (DIRTY_TOPIC, CLEAN_TOPIC)

_RIGHT: dict[Situation, str] = {
    "leave": LEAVE,
    "clean": CLEAN,
    "clean then index": CLEAN,
    "index": INDEX,
    "hub": HUB,
    "rotor": ROTOR,
}
_SHARES: dict[str, dict[Situation, float]] = {
    DIRTY_TOPIC: {"clean": 2, "clean then index": 1, "leave": 1, "index": 1},
    CLEAN_TOPIC: {"index": 2, "hub": 1, "rotor": 1, "leave": 0.5},
}


def fit_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a question about one rotor.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: easier questions give the run-out at each position, harder ones the arrows only.
        draw: chance.
    """
    situation = draw.weighted(_SHARES[topic])
    fit = draw_fit(situation, difficulty, draw)
    return Task(
        topic,
        f"This is {wheel_words(fit)}. What do you do now?",
        CHOICES,
        _RIGHT[situation],
        _reasons(fit),
        _evidence(fit, difficulty),
        fit,
    )


def dirty(fit: Fit) -> bool:
    """Say whether something lies between the faces."""
    return fit.own.debris_mm > 0


def _reasons(fit: Fit) -> dict[str, str]:
    if dirty(fit):
        return _dirty_reasons(fit)
    hub, rotor, limit = fit.hub.total_mm, fit.rotor.total_mm, fit.limit_mm
    index, best, _ = fit.best
    within = fit.total_mm <= limit
    shown = f"The dial shows {mm(fit.total_mm)}, and the limit is {mm(limit)}"
    turn = f"{studs_on(index)[0].upper()}{studs_on(index)[1:]}, hub and rotor leave {mm(best)}"
    too_much = f"Even the best of the {fit.studs} positions leaves {mm(best)}, above the limit."
    return {
        LEAVE: f"{shown}. "
        + ("It is within." if within else "It is over, and it would wear the rotor uneven."),
        CLEAN: "Both faces are bare metal already. There is nothing left to clean off.",
        INDEX: (
            f"{shown}. It is within, so there is no need."
            if within
            else f"{turn}. That is within the limit, and it costs nothing."
            if best <= limit
            else too_much
        ),
        HUB: (
            f"The bare flange makes {mm(hub)} at the track by itself. {too_much} A flange that is bent "
            "stays bent."
            if hub > limit
            else f"The bare flange makes only {mm(hub)} at the track. The hub by itself is within the limit."
        ),
        ROTOR: (
            f"The rotor makes {mm(rotor)} by itself, the hub only {mm(hub)}. Machine it if it keeps its "
            "thickness, else renew both rotors of the axle."
            if rotor > limit
            else f"The rotor makes only {mm(rotor)} by itself."
            + (" A new rotor on a bent flange would wobble just as well." if hub > limit else "")
        ),
    }


def _dirty_reasons(fit: Fit) -> dict[str, str]:
    flake, makes = fit.own.debris_mm, fit.flake_run_out_mm
    best = min(range(fit.studs), key=lambda index: fit.turned_on(index).total_mm)
    least = fit.turned_on(best).total_mm
    first = "No part can be judged while rust lies under it."
    return {
        LEAVE: f"The dial shows {mm(fit.total_mm)}, and the limit is {mm(fit.limit_mm)}. It is over.",
        CLEAN: (
            f"Rust lies between the faces. One flake of {mm(flake)} at the seat's edge makes {mm(makes)} "
            "at the track. Take it off, and only then measure what hub and rotor do."
        ),
        INDEX: (
            f"Turned on as well as can be, it would still show {mm(least)} with the flake in place. Rust "
            "gives way under the nuts and in the heat, so such a position does not last. Clean first."
        ),
        HUB: f"{first} The flange has not been measured clean, so nobody knows whether it is bent.",
        ROTOR: f"{first} Cut on the lathe, this rotor would come back and wobble on the same flake.",
    }


def _evidence(fit: Fit, difficulty: Difficulty) -> tuple[tuple[str, ...], ...]:
    rows = [
        ("What", "Found"),
        ("Largest total run-out allowed", mm(fit.limit_mm)),
        ("Total run-out, all nuts fitted", mm(fit.total_mm)),
        ("The two faces", "see the picture"),
    ]
    if dirty(fit):
        if difficulty == "hard":
            rows += _positions([fit.turned_on(index).total_mm for index in range(fit.studs)])
        return tuple(rows)
    rows.append(
        (f"Bare flange, at its edge (radius {number(fit.seat_mm, 0)} mm)", mm(fit.own.flange_run_out_mm))
    )
    if difficulty == "hard":
        rows.append(("Where the dial stands", mm(fit.radius_mm, 1)))
        rows.append(("Hub's high spot from stud 0", f"{fit.hub.high_deg:.0f}°"))
        rows.append(("Rotor by itself", f"{mm(fit.rotor.total_mm)}, high at {fit.rotor.high_deg:.0f}°"))
        return tuple(rows)
    if difficulty == "easy":
        rows.append(("The same at the track", mm(fit.hub.total_mm)))
        rows.append(("Rotor by itself", mm(fit.rotor.total_mm)))
    return (*rows, *_positions(fit.best[2]))


def _positions(totals_mm: Sequence[float]) -> list[tuple[str, str]]:
    told = [(studs_on(index), mm(total)) for index, total in enumerate(totals_mm) if index]
    return [(f"{words[0].upper()}{words[1:]}", total) for words, total in told]
