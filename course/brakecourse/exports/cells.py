"""Values as a table shows them: rounded once, at the very end, and never run as a formula."""

from __future__ import annotations

import math
import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal

from brakecourse.errors import CourseError

# A spreadsheet runs a text that starts with one of these. The wide forms are read as the plain ones.
_STARTS_A_FORMULA = tuple("=+-@＝＋－＠")
# XML, and so a workbook, can't hold these; a tab or a line break becomes a blank.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_FEEDS = tuple("\t\r\n")


def safe_text(text: str) -> str:
    """Return a text that a spreadsheet shows and does not run, on one line.

    >>> safe_text("=1+1")
    "'=1+1"
    >>> safe_text("Smith, Jr")
    'Smith, Jr'
    """
    plain = " ".join(_CONTROL.sub("", text).split())
    # Signs that nobody sees (a blank of no width, a mark of direction) hide what a text starts with.
    seen = next((c for c in plain if unicodedata.category(c) not in {"Cf", "Cc"} and not c.isspace()), "")
    return f"'{plain}" if text.startswith(_FEEDS) or seen in _STARTS_A_FORMULA else plain


def rounded(value: float | None, places: int = 2) -> Decimal | None:
    """Round half up, as a person does, from the number's shortest decimal form.

    Raises:
        CourseError: the number is not finite, so no grade table may hold it.

    >>> rounded(2.675), rounded(0.125), rounded(None)
    (Decimal('2.68'), Decimal('0.13'), None)
    """
    if value is None:
        return None
    if not math.isfinite(value):
        raise CourseError(
            f"A grade was found that is no number ({value}); nothing was exported; grade the work again."
        )
    return Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
