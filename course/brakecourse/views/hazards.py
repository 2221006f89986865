"""Hazards of the workshop: what is seen, why it hurts, which control works, and which does not.

Common practice, no source, but for dust and jacks, where the published checks name the rule. The maker's
data and local law come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

RAISED, DUST, FLUID = "raised vehicle", "brake dust", "brake fluid"
CLEANERS, HOT, SPRINGS, MOVING = "cleaners and heat", "hot parts", "springs and hose", "first movement"
TOPICS = (RAISED, DUST, FLUID, CLEANERS, HOT, SPRINGS, MOVING)


@dataclass(frozen=True)
class Hazard:
    """One way in which a place can hurt someone.

    Attributes:
        state: of the place's drawing.
        seen: what is to be seen there, a sentence that does not judge.
        why: what can happen, a sentence.
        control: what to do about it.
        wrong: what does not help, each with the reason, a sentence.
    """

    state: str
    seen: str
    why: str
    control: str
    wrong: Mapping[str, str]


@dataclass(frozen=True)
class Spot:
    """A place in the workshop.

    Attributes:
        topic: what its hazards are about.
        state: of its drawing when it is in order.
        seen: what is to be seen then.
        fine: why it is in order, a sentence.
        hazards: the ways in which it can be wrong, at least one.
    """

    topic: str
    state: str
    seen: str
    fine: str
    hazards: tuple[Hazard, ...]


SPOTS: dict[str, Spot] = {
    "support": Spot(
        RAISED,
        "stands",
        "Two stands under the sills carry the front end. The jack stands aside.",
        "Rated stands carry the vehicle.",
        (
            Hazard(
                "jack",
                "A trolley jack is under the sill of the front end. There are no stands.",
                "A jack lifts, it does not hold: one worn seal, and the vehicle comes down.",
                "set rated stands under the maker's lifting points",
                {
                    "pump the jack a little higher": "A higher jack is still only a jack.",
                    "lay the wheel under the sill": "A wheel is not rated to carry a vehicle.",
                },
            ),
            Hazard(
                "blocks",
                "Hollow concrete blocks are piled up under the sill of the front end.",
                "Hollow blocks crack without a warning.",
                "lift it again and set rated stands in place of the blocks",
                {
                    "lay a plank on the blocks": "A plank does not keep a hollow block from cracking.",
                    "add a second pile beside it": "Two piles of blocks crack as one does.",
                },
            ),
        ),
    ),
    "chock": Spot(
        RAISED,
        "chocks",
        "A wedge lies before and behind the rear wheel.",
        "The wheel on the floor cannot roll.",
        (
            Hazard(
                "none",
                "Nothing lies at the rear wheel, which stands on the floor.",
                "The vehicle can roll off its supports.",
                "chock the rear wheel before and behind",
                {
                    "ask a colleague to hold the vehicle": "Nobody can hold a vehicle that begins to roll.",
                    "put one wedge behind the wheel only": "It can still roll the other way.",
                },
            ),
        ),
    ),
    "dust": Spot(
        DUST,
        "wet",
        "A spray bottle wets the brake. A cloth lies ready.",
        "Wet dust does not fly.",
        (
            Hazard(
                "air",
                "Dry dust is on the brake. An air gun points at it.",
                "Air drives the fine dust into everybody's lungs.",
                "wet the dust, wipe it off and bag the cloth",
                {
                    "blow it out through the open door": "Air throws the dust up, and everybody breathes it.",
                    "brush it off dry and put a mask on": (
                        "A dry brush throws the dust up, and your mask guards nobody else."
                    ),
                },
            ),
            Hazard(
                "brush",
                "Dry dust is on the brake. A dry brush sweeps it.",
                "A dry brush throws the fine dust into the air that everybody breathes.",
                "wet the dust, wipe it off and bag the cloth",
                {
                    "brush slowly, towards the floor": "Slow or not, a dry brush throws the dust up.",
                    "use the air gun instead": "Air is worse: it drives the dust through the whole workshop.",
                },
            ),
        ),
    ),
    "caliper": Spot(
        SPRINGS,
        "hook",
        "The caliper hangs from a hook. Its hose is slack.",
        "The hook carries the caliper, not the hose.",
        (
            Hazard(
                "hose",
                "The caliper hangs down. Only its hose holds it.",
                "A hose that carries the caliper is damaged inside, unseen, and can fail on the road.",
                "hang the caliper from a hook, with no load on the hose",
                {
                    "clamp the hose until you fit the caliper": "A clamp harms the hose once more.",
                    "leave it, and be quick with the pads": "The weight is on the hose already.",
                },
            ),
        ),
    ),
    "heat": Spot(
        HOT,
        "cool",
        "A thermometer points at the rotor and shows {heat}.",
        "It is as cool as the room.",
        (
            Hazard(
                "hot",
                "A thermometer points at the rotor and shows {heat}.",
                "Iron that hot burns the skin at a touch.",
                "keep hands off and let the brake cool to the warmth of the room",
                {
                    "pour water over the rotor": "Steam burns you, and hot iron that is quenched can crack.",
                    "touch the caliper for a moment to see": "A moment is enough for a burn.",
                },
            ),
        ),
    ),
    "spring": Spot(
        SPRINGS,
        "covered",
        "A cloth covers the spring of the caliper on the bench. The goggles are in use.",
        "A spring under a cloth flies nowhere.",
        (
            Hazard(
                "levered",
                "A screwdriver levers at the bare spring of a caliper. The goggles hang on the wall.",
                "The spring can jump into an eye.",
                "put the goggles on and hold a cloth over the spring",
                {
                    "lever faster": "A faster spring flies harder.",
                    "look at it closely to see when it lets go": "That brings your eyes into its way.",
                },
            ),
        ),
    ),
    "fluid": Spot(
        FLUID,
        "closed",
        "A bottle of brake fluid stands on the bench, closed.",
        "Nothing is spilt, and no damp air gets into the bottle.",
        (
            Hazard(
                "spilt",
                "An open bottle of brake fluid stands in a puddle. Goggles and gloves hang on the wall.",
                "Fluid harms eyes, skin and paint, and a wet floor makes you slip.",
                "put on goggles and gloves, wipe it up, rinse with water and close the bottle",
                {
                    "wipe it up with your bare hand": "Fluid harms the skin, and a wet hand finds an eye.",
                    "let it dry, then go on": "It does not dry like water. It stays and eats paint.",
                },
            ),
        ),
    ),
    "cleaner": Spot(
        CLEANERS,
        "apart",
        "A can of cleaner stands on the bench, with nothing beside it.",
        "It stands clear of heat and flame.",
        (
            Hazard(
                "heater",
                "A can of cleaner stands beside a heater that glows.",
                "Its vapour can catch fire, and from a chlorinated cleaner heat makes poisonous gas.",
                "switch the heater off, take the can away and air the room",
                {
                    "take a chlorinated cleaner: it does not burn": ("Near heat it makes poisonous gas."),
                    "spray in short bursts": "Vapour creeps to the heater from short bursts too.",
                },
            ),
        ),
    ),
    "sheet": Spot(
        MOVING,
        "checked",
        "The job sheet says: nuts torqued, pedal firm, no leaks, next the first move.",
        "All that must be done before the first move is done.",
        (
            Hazard(
                "unpumped",
                "The job sheet says: nuts torqued, pedal not pumped, no leaks, next the first move.",
                "The first strokes of the pedal find no brake at all.",
                "pump the pedal until it is firm before the vehicle moves",
                {
                    "drive off slowly and pump on the way": "Until the pedal is firm there is no brake.",
                    "rely on the parking brake instead": "It is no brake to drive with.",
                },
            ),
            Hazard(
                "loose nuts",
                "The job sheet says: nuts turned in by hand, pedal firm, no leaks, next the first move.",
                "A wheel with loose nuts can come off.",
                "torque the wheel nuts across and across before the vehicle moves",
                {
                    "drive round the yard, then torque them": "It can come off in the yard too.",
                    "run them home with the impact wrench": "An impact wrench is no torque wrench.",
                },
            ),
        ),
    ),
}
"""Every place, by the name that the drawing calls it. ``{heat}`` stands for the temperature shown."""
