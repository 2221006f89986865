"""The class: roster, handing out, taking in, grading, giving back."""

import sys

# The library that checks notebooks' form looks for further ones, to check web addresses with. One comes with
# JupyterLab and builds a grammar as it is loaded: that takes longer than all else, and nothing here needs it.
# So it is not to be had in a process that works for a class.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]
