"""Why a pattern is the right name for a pair of pads, and why another is not: from the pads themselves."""

from __future__ import annotations

from brakecourse.bench.pad_cases import PadCase
from brakecourse.bench.pad_situations import CLOSE, PATTERNS, SITUATIONS
from brakecourse.trade.pads import Evidence
from brakecourse.views.drawings._pad_words import face_words
from brakecourse.views.pad_view import drawn_pad, faces_words

_CLAIMS: dict[str, frozenset[str]] = {
    pattern: frozenset().union(*(one.marks for one in SITUATIONS.values() if one.pattern == pattern))
    for pattern in PATTERNS
}
_LOOKS = {"glazed": "shines", "grease": "is soaked", "fluid": "is soaked", "deposits": "has patches"}
_CROSSED = {"inner leading", "inner trailing", "outer leading", "outer trailing"}


def pattern_reason(case: PadCase, chosen: str) -> str:
    """Return why a pattern is right or wrong for these pads, from their own readings and faces.

    Args:
        case: the pads.
        chosen: one of ``PATTERNS``.
    """
    if chosen == case.pattern:
        return _because(case)
    shown, claimed = case.marks, _CLAIMS[chosen]
    if case.pattern == "too close to call":
        return _too_close(case, claimed)
    if chosen == "too close to call":
        nearest = min(
            case.finding.evidence, key=lambda one: abs(one.decision.margin) / one.decision.guard_band
        )
        return f"Nothing here is too close to call. The check nearest to its limit: {nearest.words}"
    missing = [mark for mark in _ordered(claimed) if mark not in shown]
    if chosen in (
        "both pads tapered lengthwise, at opposite ends",
        "inner pad thin, and both tapered lengthwise",
    ):
        missing = [mark for mark in missing if mark not in _CROSSED]
        if len(shown & _CROSSED) < 2:
            missing.insert(
                0, "inner leading" if not shown & {"inner leading", "inner trailing"} else "outer leading"
            )
    if chosen == "soaked face" and shown & {"grease", "fluid"}:
        missing = []
    if missing:
        return _not_there(case, missing[0])
    more = next(mark for mark in _ordered(shown) if mark not in claimed)
    return f"{'They are not even.' if chosen == 'even' else 'That is not all of it.'} {_there(case, more)}"


def _too_close(case: PadCase, claimed: frozenset[str]) -> str:
    """Say why no pattern is proven: a sign of the chosen one is not there, or the gauge cannot tell."""
    for mark in _ordered(claimed):
        if mark in _LOOKS or _check(case, mark).decision.verdict == "within":
            return _not_there(case, mark)
        if mark.endswith(" thin") and not mark.startswith(_check(case, mark).thin):
            return f"The {_check(case, mark).thin} pad is the thinner one, if any. {_check(case, mark).words}"
    close = next(one for one in case.finding.evidence if one.decision.verdict == "too close to call")
    return f"The gauge cannot tell. {close.words}"


def _ordered(marks: frozenset[str]) -> list[str]:
    return sorted(marks)


def _because(case: PadCase) -> str:
    if case.pattern == "even":
        tightest = min(case.finding.evidence, key=lambda one: one.decision.margin / one.decision.guard_band)
        return f"Every check keeps its limit. The tightest of them: {tightest.words}"
    if CLOSE in case.marks:
        close = next(one for one in case.finding.evidence if one.decision.verdict == "too close to call")
        return f"{close.words} The gauge's guard band reaches over the limit."
    return " ".join(dict.fromkeys(_there(case, mark) for mark in _ordered(case.marks)))


def _there(case: PadCase, mark: str) -> str:
    """Say what shows a mark."""
    if mark in _LOOKS:
        return faces_words(case)
    evidence = _check(case, mark)
    thin = f" The {evidence.thin} {'pad' if evidence.check == 'pair' else _side(evidence)} is the thinner."
    return evidence.words + (thin if evidence.thin else "")


def _side(evidence: Evidence) -> str:
    return "end" if evidence.check == "taper in length" else "edge"


def _not_there(case: PadCase, mark: str) -> str:
    """Say what speaks against a mark."""
    if mark in _LOOKS:
        faces = dict.fromkeys((_face(case, inner=True), _face(case, inner=False)))
        return f"Look at the faces: no face {_LOOKS[mark]} like that. Each {' or '.join(faces)}."
    evidence = _check(case, mark)
    if evidence.decision.verdict == "outside":  # there is such a thing, but the other way round
        thin = "pad" if evidence.check == "pair" else _side(evidence)
        return f"It is the {evidence.thin} {thin} that is thin. {evidence.words}"
    return evidence.words


def _face(case: PadCase, *, inner: bool) -> str:
    return face_words(drawn_pad(case, "inner pad" if inner else "outer pad"))


def _check(case: PadCase, mark: str) -> Evidence:
    """Return the check that a mark is about; of two pads, the one nearer to breaking the limit."""
    word = mark.split()
    if mark.endswith(" thin"):
        name, places = "pair", {"both pads"}
    elif mark in ("below", "step"):
        name, places = ("thickness" if mark == "below" else "step"), {"inner pad", "outer pad"}
    else:
        name, places = ("taper in height" if "height" in word else "taper in length"), {f"{word[0]} pad"}
    found = [one for one in case.finding.evidence if one.check == name and one.place in places]
    return min(found, key=lambda one: one.decision.margin)
