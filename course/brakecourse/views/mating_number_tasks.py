"""Draw number questions about flakes, radii and positions, with the usual slips named."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import draw_fit
from brakecourse.bench.rotor_fits import Fit, wheel_words
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.hub_fit import RunOut, at_radius, debris_run_out_mm, stack_run_out_mm
from brakecourse.views.drawings.rotor_index import studs_on
from brakecourse.views.mating_replies import flake_reply, flake_sum, length_reply
from brakecourse.views.quiz import NumberTask
from brakecourse.views.words import mm, number

FLAKE, ALLOWED, HUB, TOGETHER = (
    "run-out from a flake",
    "the thickest flake",
    "the hub at the track",
    "run-out in a position",
)
RADII_TOPICS = (FLAKE, ALLOWED, HUB)
TOPICS = (*RADII_TOPICS, TOGETHER)


def number_task(topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
    """Return a question about a rotor of the motor pool.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: harder questions give diameters where the sum wants radii, and more studs to turn.
        draw: chance.
    """
    if topic == TOGETHER:
        return _together(draw_fit("index", difficulty, draw), difficulty, draw)
    fit = draw_fit("clean", difficulty, draw)
    return {FLAKE: _flake, ALLOWED: _allowed, HUB: _hub}[topic](fit, difficulty, draw)


def _sizes(fit: Fit, difficulty: Difficulty) -> tuple[tuple[str, str], ...]:
    """Return seat and track as the question gives them: radii, or diameters as data sheets print them."""
    seat = (
        ("Seat radius s", mm(fit.seat_mm, 1))
        if difficulty == "easy"
        else ("Diameter of the hub's seat", mm(2 * fit.seat_mm, 1))
    )
    track = (
        ("Dial stands on a circle of diameter", mm(2 * fit.radius_mm, 1))
        if difficulty == "hard"
        else ("Measuring radius r", mm(fit.radius_mm, 1))
    )
    return seat, track


def _flake(fit: Fit, difficulty: Difficulty, draw: Draw) -> NumberTask:
    flake, seat, radius = fit.own.debris_mm, fit.seat_mm, fit.radius_mm
    right = debris_run_out_mm(flake, seat, radius)
    return NumberTask(
        FLAKE,
        f"Under the hat at {wheel_words(fit)} a flake lies at the edge of the seat. What run-out does "
        "it make?",
        "Total run-out",
        "mm run-out",
        lambda typed: flake_reply(typed, flake, seat, radius),
        f"{mm(right)}. {flake_sum(flake, seat, radius)}",
        (("What", "Value"), ("Thickness of the flake", mm(flake)), *_sizes(fit, difficulty)),
        fit,
    )


def _allowed(fit: Fit, difficulty: Difficulty, draw: Draw) -> NumberTask:
    limit, seat, radius = fit.limit_mm, fit.seat_mm, fit.radius_mm
    right = at_radius(RunOut(limit), radius, seat).total_mm
    because = f"The limit times s ÷ r: {number(limit)} × {seat:g} ÷ {radius:g} = {number(right, 3)} mm."
    slips = {
        "That is the limit at the track. The seat lies further in, so less is enough there. "
        "Multiply by s ÷ r.": limit,
        "You multiplied the wrong way round. At the seat it is less than at the track: s ÷ r.": limit
        * radius
        / seat,
        "That is twice as much. You took the diameter of the seat with the radius of the track.": 2 * right,
        "That is half of it. You took the diameter of the dial's circle with the radius of the seat.": right
        / 2,
    }
    return NumberTask(
        ALLOWED,
        f"All else is true at {wheel_words(fit)}. How thick a flake at the seat's edge uses up the "
        "whole limit?",
        "Thickness of the flake",
        "mm run-out",
        lambda typed: length_reply(
            typed, right, slips, because=because, hint="Limit times s ÷ r.", tolerance_mm=0.002
        ),
        because,
        (("What", "Value"), ("Largest total run-out allowed", mm(limit)), *_sizes(fit, difficulty)),
        fit,
    )


def _hub(fit: Fit, difficulty: Difficulty, draw: Draw) -> NumberTask:
    radius, seat = fit.radius_mm, fit.seat_mm
    found = round(draw.between(0.02, 0.09), 2)
    right = at_radius(RunOut(found), seat, radius).total_mm
    because = f"{number(found)} × {radius:g} ÷ {seat:g} = {number(right, 3)} mm."
    slips = {
        "That is what the dial shows at the edge of the seat. Further out the same tilt swings more: "
        "multiply by r ÷ s.": found,
        "You divided the wrong way round. Further out it is more, not less.": found * seat / radius,
        "That is half of it. You divided by the seat's diameter; the sum wants its radius.": right / 2,
        "That is twice as much. You took the diameter of the dial's circle; the sum wants its radius.": 2
        * right,
    }
    return NumberTask(
        HUB,
        f"The rotor is off at {wheel_words(fit)}. The dial on the bare, clean flange, at its edge, "
        "swings by the total below. What will that tilt make at the track?",
        "Hub's run-out at the track",
        "mm run-out",
        lambda typed: length_reply(typed, right, slips, because=because, hint="Multiply by r ÷ s."),
        f"{mm(right)}. {because}",
        (("What", "Value"), ("Total at the seat's edge", mm(found)), *_sizes(fit, difficulty)),
        fit.cleaned(),
    )


def _together(fit: Fit, difficulty: Difficulty, draw: Draw) -> NumberTask:
    hub, rotor, studs = fit.hub, fit.rotor, fit.studs
    index = draw.integer(1, studs - 1)
    right = stack_run_out_mm(hub, rotor, index, studs)
    a, b = hub.total_mm, rotor.total_mm
    turned = 360 * index / studs
    points = (rotor.high_deg + turned) % 360
    apart = abs((points - hub.high_deg + 180) % 360 - 180)
    because = (
        f"The rotor's arrow now points at {points:.0f}°, {apart:.0f}° from the hub's. "
        f"√({number(a)}² + {number(b)}² + 2 × {number(a)} × {number(b)} × cos {apart:.0f}°) = "
        f"{number(right, 3)} mm."
    )
    slips = {
        "You added the two sizes. That holds only where both arrows point the same way.": a + b,
        "You took one size from the other. That holds only where the arrows point opposite ways.": abs(a - b),
        "That is before the rotor is turned. Its arrow turns with it.": stack_run_out_mm(
            hub, rotor, 0, studs
        ),
        "You turned the rotor the other way round. Add to its angle.": stack_run_out_mm(
            hub, rotor, studs - index, studs
        ),
    }
    at_seat = RunOut(fit.own.flange_run_out_mm, hub.high_deg)
    if difficulty == "hard":  # then the flange is given as the dial found it, at the seat
        slips["You took the flange's run-out at the seat. Carry it to the track first: r ÷ s."] = (
            stack_run_out_mm(at_seat, rotor, index, studs)
        )
    rows = [
        ("What", "Value"),
        *(
            (
                (
                    "Bare flange, at the seat's edge",
                    f"{mm(at_seat.total_mm, 3)} at {hub.high_deg:.0f}°",
                ),
                ("Seat radius s", mm(fit.seat_mm, 1)),
                ("Measuring radius r", mm(fit.radius_mm, 1)),
            )
            if difficulty == "hard"
            else (("Hub's arrow, at the track", f"{mm(a)} at {hub.high_deg:.0f}°"),)
        ),
        ("Rotor's arrow, not turned on", f"{mm(b)} at {rotor.high_deg:.0f}°"),
        ("From one stud to the next", f"{360 / studs:.0f}°"),
    ]
    if difficulty == "easy":
        rows.append((f"Rotor's arrow, {studs_on(index)}", f"{mm(b)} at {points:.0f}°"))
        rows.append(("Angle between the two then", f"{apart:.0f}°"))
    return NumberTask(
        TOGETHER,
        f"Hub and rotor are clean at {wheel_words(fit)}. What will the dial show with the rotor "
        f"{studs_on(index)}?",
        "Total run-out",
        "mm run-out",
        lambda typed: length_reply(
            typed,
            right,
            slips,
            because=because,
            hint="Turn the rotor's arrow, lay it on the end of the hub's, and measure from start to end.",
        ),
        f"{mm(right)}. {because}",
        tuple(rows),
        fit,
    )
