"""Whether a hose, a boot or a bore may stay: the choices, and the reason for each from what was found.

Common practice, no source. The maker's data for the vehicle come first, and so does local law.
"""

from __future__ import annotations

from brakecourse.bench.hose_cases import HoseCase, Part
from brakecourse.views.units import both
from brakecourse.views.words import number

HOSE, BOOTS, BORE = "the hose", "the boots", "the bore and the wet places"
PART_OF: dict[str, Part] = {HOSE: "hose", BOOTS: "boots", BORE: "bore"}
TOPICS = tuple(PART_OF)

KEEP_HOSE, RENEW_HOSE = "keep the hose", "renew the hose"
WRAP, WAIT = "wrap the place with tape and keep the hose", "keep it until it is wet"
KEEP_BOOTS, RENEW_PIN = "keep the boots", "renew the pin's boot, then clean and grease its pin"
OVERHAUL, TUCK = "overhaul or renew the caliper", "push the edges of the tear together and keep it"
KEEP_BORE, SEAL = "the caliper may stay", "seal the fitting anew, with new washers"
TOP_UP = "fill up the reservoir and watch the level"

CHOICES: dict[str, tuple[str, ...]] = {
    HOSE: (KEEP_HOSE, RENEW_HOSE, WRAP, WAIT),
    BOOTS: (KEEP_BOOTS, RENEW_PIN, OVERHAUL, TUCK),
    BORE: (KEEP_BORE, OVERHAUL, SEAL, TOP_UP),
}

_SKIN = {
    "whole": "Its cover is smooth",
    "fine lines": "Its lines are fine and do not open when bent, and no cords show",
    "rubbed cover": "The rubbed patch is in the cover only, and no cords show",
    "cracked to the cords": "Its cracks go down to the cords",
    "rubbed to the cords": "Its cover is rubbed away down to the cords",
    "blister": "The lump tells that fluid gets under the cover",
}


def right_choice(topic: str, case: HoseCase) -> str:
    """Return what is to be done."""
    wet = case.there.wet_places
    if topic == HOSE:
        return KEEP_HOSE if case.hose_may_stay else RENEW_HOSE
    if topic == BOOTS:
        caliper = case.there.caliper
        if caliper.piston_boot_torn:
            return OVERHAUL
        return RENEW_PIN if caliper.pin_boot_torn else KEEP_BOOTS
    if "fitting at the caliper" in wet:
        return SEAL
    return OVERHAUL if "caliper piston's boot" in wet or case.piston_sticks else KEEP_BORE


def reasons(topic: str, case: HoseCase) -> dict[str, str]:
    """Return for each choice why it is right or wrong here."""
    return {HOSE: _hose, BOOTS: _boots, BORE: _bore}[topic](case)


def _hose(case: HoseCase) -> dict[str, str]:
    if case.hose_may_stay:
        found = f"{_SKIN[case.skin]}. It is dry, and it lets the pressure go."
        note = {"fine lines": " Note what you saw.", "rubbed cover": " Find what rubs, and note it."}
        return {
            KEEP_HOSE: f"{found}{note.get(case.skin, '')}",
            RENEW_HOSE: f"Nothing here asks for it. {found} A new hose also means bleeding.",
            WRAP: f"There is nothing to wrap, and tape hides the next look. {found}",
            WAIT: f"No hose stays until it leaks. This one stays because it is sound. {found}",
        }
    if case.hose_holds:
        return _collapsed(case)
    looks = f"{_SKIN[case.skin]}.{' Fluid stands there already.' if 'hose' in case.there.wet_places else ''}"
    return {
        RENEW_HOSE: f"{looks} The cords carry the pressure, and the cover no longer keeps them dry.",
        KEEP_HOSE: f"It must not stay. {looks} It can burst.",
        WRAP: f"Tape holds no brake pressure, and it hides the place from the next look. {looks}",
        WAIT: f"A hose that waits until it is wet fails on the road, at the hardest braking. {looks}",
    }


def torque_words(torque_nm: float) -> str:
    """Write a torque that turns a wheel, to a tenth.

    >>> torque_words(36).replace(chr(160), " ")
    '36.0 N·m (26.6 lbf·ft)'
    """
    return both(torque_nm, "N·m", 1, us_places=1)


def _collapsed(case: HoseCase) -> dict[str, str]:
    drag = case.there.drag
    why = (
        f"The wheel drags with {torque_words(drag.torque_nm)}, and still so when the fitting above "
        "the hose is open. When the bleeder is open it comes free: "
        f"{torque_words(drag.bleeder_opened_nm)}. The hose has collapsed inside and holds the pressure."
    )
    return {
        RENEW_HOSE: why,
        KEEP_HOSE: f"It must not stay: it keeps the brake on. {why}",
        WRAP: f"Tape does not reach it: the fault is inside. {why}",
        WAIT: f"It may never get wet: the fault is inside. {why}",
    }


def _boots(case: HoseCase) -> dict[str, str]:
    push = both(case.there.caliper.piston_push_back_n, "N")
    if case.there.caliper.piston_boot_torn:
        why = (
            f"The piston's boot is torn: water and dirt have reached bore and seal. The piston took {push} "
            f"to push back, {number(case.push_ratio, 1)} times as much as at the other wheel."
        )
        return {
            OVERHAUL: f"{why} A new boot alone would seal the dirt in.",
            KEEP_BOOTS: f"It must not stay. {why}",
            RENEW_PIN: f"The pins' boots are whole. {why}",
            TUCK: "Rubber that is torn opens again at the first braking, and the dirt is in already.",
        }
    if case.there.caliper.pin_boot_torn:
        slides = case.there.caliper.pin_slide_n or (0.0, 0.0)
        why = (
            f"One pin's boot is torn, and rust shows on the pin. That pin takes {both(max(slides), 'N')} to "
            f"slide, the other {both(min(slides), 'N')}."
        )
        return {
            RENEW_PIN: f"{why} Clean it, renew the boot, and grease it with what the maker names.",
            KEEP_BOOTS: f"It must not stay: the pin rusts on, and the pads wear unevenly. {why}",
            OVERHAUL: f"The piston's boot is whole and dry. {why}",
            TUCK: "Rubber that is torn opens again at the first braking, and water is in already.",
        }
    fine = "The piston's boot lies in even folds"
    fine += ", and so do the pins'." if case.there.caliper.pin_slide_n else "; a fixed caliper has no pins."
    return {
        KEEP_BOOTS: f"{fine} No tear, no wet place.",
        RENEW_PIN: f"No pin's boot is torn. {fine}",
        OVERHAUL: f"Nothing asks for it. {fine}",
        TUCK: f"There is no tear. {fine}",
    }


def _bore(case: HoseCase) -> dict[str, str]:
    push, partner = case.there.caliper.piston_push_back_n, case.partner.caliper.piston_push_back_n
    pushed = f"{both(push, 'N')} here, {both(partner, 'N')} at the other wheel"
    wet = case.there.wet_places
    if "fitting at the caliper" in wet:
        why = "It is wet at the hose's fitting and nowhere else, so its washers do not seal."
        return {
            SEAL: f"{why} New washers on both sides, the bolt to the maker's torque, then bleed.",
            OVERHAUL: f"{why} The piston's boot is dry, and the piston goes back easily: {pushed}.",
            KEEP_BORE: f"The caliper itself may, but not like this. {why}",
            TOP_UP: f"Filling up hides the leak. {why}",
        }
    if "caliper piston's boot" in wet:
        why = "Fluid comes out at the piston's boot: the seal in the bore leaks."
        return {
            OVERHAUL: f"{why} Look at the bore: rust or scores there end the caliper.",
            SEAL: f"The fitting is dry. {why}",
            KEEP_BORE: f"It must not stay. {why}",
            TOP_UP: f"Filling up hides the leak until the pedal falls. {why}",
        }
    if case.piston_sticks:
        why = f"With the bleeder open it took {pushed}. The piston sticks in its bore, though nothing is wet."
        return {
            OVERHAUL: why,
            KEEP_BORE: f"It must not stay: the pad keeps rubbing. {why}",
            SEAL: f"The fitting is dry. {why}",
            TOP_UP: f"No fluid is missing. {why}",
        }
    fine = f"Nothing is wet, and the piston goes back as easily as its partner: {pushed}."
    return {
        KEEP_BORE: fine,
        OVERHAUL: f"Nothing asks for it. {fine}",
        SEAL: f"The fitting is dry. {fine}",
        TOP_UP: f"No fluid is missing here. {fine}",
    }
