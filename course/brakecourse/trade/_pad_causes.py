"""Which part lets a pad wear like that. All of it: common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable

from brakecourse.trade._pad_records import Evidence, PadCheck

EVEN = "normal use: pins, clips and piston work"
_WORN_OUT = "the pads stayed in service too long; see whether the wear indicator works"
_TOO_CLOSE = "not known yet: measure again, or with a finer gauge"

# Keyed by the check, and by its thin side; "" holds for either side.
_BY_CHECK: dict[tuple[PadCheck, str], tuple[str, ...]] = {
    ("pair", "inner"): (
        "slide pins dry, seized or packed with grease: the caliper's body does not pull the outer pad",
        "caliper piston sticks and does not draw back from the inner pad",
    ),
    ("pair", "outer"): (
        "slide pins bind: the caliper's body does not slide back, so the outer pad drags",
        "outer pad tight in the bracket, on rust under its clips",
    ),
    ("taper in length", ""): ("one slide pin seized or worn, so that the caliper tips",),
    ("taper in length", "leading"): ("pad loose in the bracket: friction draws its leading end in",),
    ("taper in length", "trailing"): ("pad's trailing end tight in the bracket, on rust under its clip",),
    ("taper in height", ""): ("caliper or bracket bent, loose or worn, so that the pad stands at an angle",),
    ("taper in height", "outer"): ("caliper spread or rotor's track worn to a cone",),
    ("step", ""): (
        "pad reaches past the track: wrong pad or rotor, or pad not seated in the bracket",
        "ridge at the rotor's edge",
    ),
}


def causes_of(proven: Iterable[Evidence], even: bool, below_minimum: bool) -> tuple[str, ...]:
    """Return what may have caused the wear, each cause once, the likeliest first.

    Args:
        proven: the checks of shape that are outside their limits.
        even: every check of shape is within its limit.
        below_minimum: a lining is below its minimum.
    """
    found = [
        cause
        for one in proven
        for side in dict.fromkeys(("", one.thin))
        for cause in _BY_CHECK.get((one.check, side), ())
    ]
    if even:
        found.append(EVEN)
    elif not found:
        found.append(_TOO_CLOSE)
    if below_minimum:
        found.append(_WORN_OUT)
    return tuple(dict.fromkeys(found))
