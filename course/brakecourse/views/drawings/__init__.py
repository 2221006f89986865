"""Drawings as SVG text, from pure functions: the same input always gives the same text."""

from __future__ import annotations

from brakecourse.views.drawings._caliper_places import CaliperCut
from brakecourse.views.drawings.bench_sheet import bench_sheet_svg
from brakecourse.views.drawings.boiling_tester import boiling_tester_svg
from brakecourse.views.drawings.bore_pair import bore_pair_svg
from brakecourse.views.drawings.caliper_follow import caliper_follow_svg
from brakecourse.views.drawings.clamp_spread import clamp_spread_svg
from brakecourse.views.drawings.clamped_bolt import clamped_bolt_svg
from brakecourse.views.drawings.curve_plot import curve_plot_svg
from brakecourse.views.drawings.depth_gauge import depth_gauge_svg
from brakecourse.views.drawings.dial import dial_svg
from brakecourse.views.drawings.dial_on_rotor import dial_on_rotor_svg
from brakecourse.views.drawings.energy_bars import energy_bars_svg
from brakecourse.views.drawings.fluid_bottles import Bottle, fluid_bottles_svg
from brakecourse.views.drawings.force_flow import force_flow_svg
from brakecourse.views.drawings.hub_face import hub_face_svg
from brakecourse.views.drawings.hub_section import hub_section_svg
from brakecourse.views.drawings.hub_shapes import HubAndRotor
from brakecourse.views.drawings.infrared_thermometer import infrared_thermometer_svg
from brakecourse.views.drawings.job_record import job_record_svg
from brakecourse.views.drawings.job_sheet import job_sheet_svg
from brakecourse.views.drawings.level_band import level_band_svg
from brakecourse.views.drawings.limit import limit_svg
from brakecourse.views.drawings.micrometer import micrometer_svg
from brakecourse.views.drawings.moisture_tester import moisture_tester_svg
from brakecourse.views.drawings.on_stands import on_stands_svg
from brakecourse.views.drawings.pad_measured import pad_measured_svg
from brakecourse.views.drawings.pads_at_rotor import pads_at_rotor_svg
from brakecourse.views.drawings.pedal import pedal_svg
from brakecourse.views.drawings.plots import run_out_plot_svg, thickness_plot_svg
from brakecourse.views.drawings.pressure_gauge import pressure_gauge_svg
from brakecourse.views.drawings.reservoir import reservoir_svg
from brakecourse.views.drawings.road_test import road_test_svg
from brakecourse.views.drawings.rotor_index import rotor_index_svg
from brakecourse.views.drawings.rotor_off import rotor_off_svg
from brakecourse.views.drawings.rotor_section import rotor_section_svg
from brakecourse.views.drawings.rule_on_part import rule_svg
from brakecourse.views.drawings.speed_line import speed_line_svg
from brakecourse.views.drawings.spring_gauge import spring_gauge_svg
from brakecourse.views.drawings.step_cards import step_cards_svg
from brakecourse.views.drawings.stopping_road import stopping_road_svg
from brakecourse.views.drawings.torque_levers import torque_levers_svg
from brakecourse.views.drawings.torque_wrench import torque_wrench_svg
from brakecourse.views.drawings.wheel_nuts import wheel_nuts_svg
from brakecourse.views.drawings.workshop import workshop_svg

__all__ = [
    "Bottle",
    "CaliperCut",
    "HubAndRotor",
    "bench_sheet_svg",
    "boiling_tester_svg",
    "bore_pair_svg",
    "caliper_follow_svg",
    "clamp_spread_svg",
    "clamped_bolt_svg",
    "curve_plot_svg",
    "depth_gauge_svg",
    "dial_on_rotor_svg",
    "dial_svg",
    "energy_bars_svg",
    "fluid_bottles_svg",
    "force_flow_svg",
    "hub_face_svg",
    "hub_section_svg",
    "infrared_thermometer_svg",
    "job_record_svg",
    "job_sheet_svg",
    "level_band_svg",
    "limit_svg",
    "micrometer_svg",
    "moisture_tester_svg",
    "on_stands_svg",
    "pad_measured_svg",
    "pads_at_rotor_svg",
    "pedal_svg",
    "pressure_gauge_svg",
    "reservoir_svg",
    "road_test_svg",
    "rotor_index_svg",
    "rotor_off_svg",
    "rotor_section_svg",
    "rule_svg",
    "run_out_plot_svg",
    "speed_line_svg",
    "spring_gauge_svg",
    "step_cards_svg",
    "stopping_road_svg",
    "thickness_plot_svg",
    "torque_levers_svg",
    "torque_wrench_svg",
    "wheel_nuts_svg",
    "workshop_svg",
]
