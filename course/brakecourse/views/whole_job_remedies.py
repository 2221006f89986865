"""What puts each cause right, and how a customer hears of it. Common practice, no source.

The maker's service information says for each vehicle what may be repaired and what is renewed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Remedy(NamedTuple):
    """What is done about a cause.

    Attributes:
        work: what puts it right, as a line of the record; ``{rotor}`` stands for what its readings allow.
        plain: what it is, for a customer who is no technician; a whole sentence.
        means: what it means for the driver; a whole sentence.
        pads: the pads of the axle are renewed, whatever their thickness.
        rotors: the rotors of the axle are renewed, whatever their thickness.
        cut: the rotor needs a new face, by machining or by a new rotor, as its readings allow.
    """

    work: str
    plain: str
    means: str
    pads: bool = False
    rotors: bool = False
    cut: bool = False


_LEAK = "Fluid was getting out, and without it the brake fails."
_RUB = "That brake kept rubbing: it gets hot, and it wears its pads early."
_PULSE = "You feel it in the pedal, and it gets worse with every drive."

REMEDIES: Mapping[str, Remedy] = {
    "worn_pads": Remedy(
        "put in new pads at both wheels of the axle",
        "The brake pads were worn out.",
        "Worn-out pads no longer stop the vehicle, and they ruin the rotors.",
        pads=True,
    ),
    "hose_leak": Remedy(
        "fit a new brake hose, then bleed the brakes",
        "A brake hose leaked.",
        _LEAK,
    ),
    "caliper_seal_leak": Remedy(
        "renew the caliper's piston seal, or the caliper, then bleed the brakes",
        "A seal in one brake caliper leaked.",
        _LEAK,
    ),
    "fitting_leak": Remedy(
        "remake the leaking joint with new sealing parts, then bleed the brakes",
        "A joint of the brake pipes leaked.",
        _LEAK,
    ),
    "primary_seal_leak": Remedy(
        "renew the master cylinder, dry the booster, then bleed the brakes",
        "The main brake cylinder leaked to the outside.",
        _LEAK,
    ),
    "internal_bypass": Remedy(
        "renew the master cylinder, then bleed the brakes",
        "The main brake cylinder let pressure slip past inside.",
        "The pedal sinks while you hold it, so the brake can let go.",
    ),
    "air_in_circuit": Remedy(
        "bleed the brakes, and look where the air came in",
        "There was air in the brake lines.",
        "The pedal goes soft and low, so you stop later than you expect.",
    ),
    "old_fluid": Remedy(
        "renew the brake fluid",
        "The brake fluid was old and had taken up water.",
        "On a long descent it can boil, and then the pedal goes to the floor.",
    ),
    "wrong_fluid": Remedy(
        "flush the system, and renew every rubber part that the wrong fluid has touched",
        "A wrong fluid had been poured into the brakes.",
        "It makes the rubber seals swell, until they jam or leak.",
    ),
    "seized_piston": Remedy(
        "renew the caliper's piston and seals, or the caliper, then bleed the brakes",
        "A piston in one brake was stuck.",
        _RUB,
    ),
    "seized_pin": Remedy(
        "renew the seized slide pin and its boot, clean the bores and grease both pins thinly",
        "A pin that the brake slides on was stuck.",
        "Then one pad does the work of two, and wears out early.",
    ),
    "dry_pins": Remedy(
        "clean both slide pins and their bores, and grease them thinly",
        "The pins that the brake slides on had run dry.",
        "Then one pad does the work of two, and wears out early.",
    ),
    "packed_pin_bore": Remedy(
        "clean out the pin's bore, and grease it again with the right amount",
        "There was far too much grease behind a slide pin.",
        _RUB,
    ),
    "swapped_pins": Remedy(
        "put each slide pin back into its own bore, cleaned and greased thinly",
        "Two slide pins had been put into each other's places.",
        _RUB,
    ),
    "rust_under_clips": Remedy(
        "clean the bracket down to the metal and fit new abutment clips",
        "Rust held a brake pad tight in its holder.",
        _RUB,
    ),
    "collapsed_hose": Remedy(
        "fit a new brake hose, then bleed the brakes",
        "A brake hose had swollen shut inside.",
        "It lets pressure in but not out again, so that brake stays on.",
    ),
    "torn_piston_boot": Remedy(
        "fit a new piston boot after a look at the piston and its bore",
        "A rubber cover on a brake piston was torn.",
        "Dirt and water get in, and the piston sticks before long.",
    ),
    "torn_pin_boot": Remedy(
        "fit a new pin boot, clean the pin and its bore, and grease them thinly",
        "A rubber cover on a slide pin was torn.",
        "Dirt and water get in, and the pin sticks before long.",
    ),
    "thin_rotor": Remedy(
        "fit new rotors at both wheels of the axle, with new pads",
        "The brake rotors were too thin.",
        "A thin rotor gets too hot, and it can crack.",
        pads=True,
        rotors=True,
    ),
    "grooved_rotor": Remedy(
        "find what scored the rotor, and {rotor}",
        "A brake rotor had deep grooves.",
        "It eats new pads, and it holds less well.",
        cut=True,
    ),
    "ridged_rotor": Remedy(
        "take the ridge away: {rotor}",
        "The pads had been riding on a ridge at the rotor's edge.",
        "Then only a part of the pad touches, and it squeals and brakes less.",
        cut=True,
    ),
    "thickness_variation": Remedy(
        "clean the hub, and {rotor}",
        "A brake rotor was thicker on one side than on the other.",
        _PULSE,
        cut=True,
    ),
    "heat_spotted_rotor": Remedy(
        "fit new rotors and pads at both wheels of the axle: hard spots come back after machining",
        "A brake rotor had hard spots from heat.",
        _PULSE,
        pads=True,
        rotors=True,
    ),
    "dirty_hub": Remedy(
        "clean the hub and the rotor's seat down to the metal, then measure the run-out again",
        "Rust behind the brake rotor made it wobble.",
        _PULSE,
    ),
    "bent_hub": Remedy(
        "renew the bent hub, then measure the run-out again",
        "The hub that carries the rotor was bent.",
        _PULSE,
    ),
    "under_torqued": Remedy(
        "look for damage, then tighten the fasteners to the maker's torque, in order and in steps",
        "Some nuts or bolts were loose.",
        "A loose nut or bolt can come off while you drive.",
    ),
    "over_torqued": Remedy(
        "renew stretched fasteners, then tighten to the maker's torque, in order and in steps",
        "Some nuts or bolts were far too tight.",
        "They stretch, and may break later.",
    ),
    "glazed_pads": Remedy(
        "put in new pads at both wheels of the axle, and bed them in",
        "The faces of the brake pads had gone hard and shiny.",
        "They hold less than they should, so you stop later.",
        pads=True,
    ),
    "contaminated_pads": Remedy(
        "put in new pads at both wheels of the axle, and stop whatever has soaked the old ones",
        "Grease or fluid had got onto the brake pads.",
        "That brake holds less, so the vehicle pulls to one side.",
        pads=True,
    ),
    "bedding_skipped": Remedy(
        "put in new pads at both wheels of the axle, and bed them in as their maker says",
        "The last new pads were never worn in.",
        "They hold unevenly, so the pedal shakes.",
        pads=True,
    ),
}
"""What is done about each cause of :func:`brakecourse.trade.leaks.diagnosis_table`, by its id."""
