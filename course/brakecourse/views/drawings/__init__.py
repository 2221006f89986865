"""Drawings as SVG text, from pure functions: the same input always gives the same text."""

from __future__ import annotations

from brakecourse.views.drawings.dial import dial_svg
from brakecourse.views.drawings.dial_on_rotor import dial_on_rotor_svg
from brakecourse.views.drawings.limit import limit_svg
from brakecourse.views.drawings.micrometer import micrometer_svg
from brakecourse.views.drawings.plots import run_out_plot_svg, thickness_plot_svg
from brakecourse.views.drawings.rotor_section import rotor_section_svg

__all__ = [
    "dial_on_rotor_svg",
    "dial_svg",
    "limit_svg",
    "micrometer_svg",
    "rotor_section_svg",
    "run_out_plot_svg",
    "thickness_plot_svg",
]
