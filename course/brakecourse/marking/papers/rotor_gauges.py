"""The gauges on a rotor as they stood, drawn for a work order: modules 08 and 13."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.marking.paper import Drawn
from brakecourse.marking.readings import SealedReading
from brakecourse.views.drawings import dial_svg, micrometer_svg


def micrometers(thickness: Sequence[SealedReading], ridge: SealedReading, from_mm: float) -> dict[str, Drawn]:
    """Return the micrometer at each place and on the ridge, `from_mm` the lower end of its range."""
    places = [
        (read.indication, f"Place {place}, on the swept track")
        for place, read in enumerate(thickness, start=1)
    ]
    places.append((ridge.indication, "Place 1, at the outer edge, on the ridge"))
    return {
        f"m{count}": Drawn(
            micrometer_svg(
                value,
                uid=f"m{count}",
                start_mm=from_mm,
                title=f"Micrometer: {caption}",
                whole=False,
            ),
            caption,
        )
        for count, (value, caption) in enumerate(places, start=1)
    }


def dials(reads: Sequence[SealedReading], letter: str, nuts: str) -> dict[str, Drawn]:
    """Return the dial at each place; the letter begins each drawing's name."""
    captions = [f"Place {place}, {nuts}" for place in range(1, len(reads) + 1)]
    return {
        f"{letter}{count}": Drawn(
            dial_svg(read.indication, uid=f"{letter}{count}", title=f"Dial indicator: {caption}"), caption
        )
        for count, (read, caption) in enumerate(zip(reads, captions, strict=True), start=1)
    }
