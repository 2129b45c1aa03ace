"""Stage 6: which propeller? A stock size, and its match with engine and hull over the whole range."""

from dataclasses import replace

import numpy as np

from engine.bands import Band
from engine.constants import INCH, KNOT, RPM
from engine.findings import Outcome
from engine.plan import is_direct
from engine.propeller.bollard import POLYNOMIAL_ERROR, BollardPull, astern_pull
from engine.propeller.cavitation import keller_allowance, keller_area_ratio, tip_speed
from engine.propeller.geometry import (
    developed_area_ratio,
    hub_diameter_range,
    mean_width_ratio_from_developed,
    typical_hub_diameter,
)
from engine.propeller.rotation import hand_for, outward_turning
from engine.stages.boats import each_boat
from engine.stages.drive import said_of
from engine.stages.full_throttle import each_thrust_at
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.propeller_findings import TOO_LIGHT, half_load_findings, propeller_findings
from engine.stages.propeller_match import Match
from engine.stages.propeller_size import ChosenSize
from engine.stages.propeller_tables import case_rows, neighbour_rows
from engine.stages.room import tip_clearance
from engine.stages.setting import Setting
from engine.stages.unknowns import held_findings


def assess_propeller(setting: Setting, chosen: ChosenSize, match: Match) -> Outcome[PropellerAnswers]:
    """The stock propeller for the chosen ratio, and what it does."""
    setting = replace(setting, area_ratio=chosen.area_ratio)
    answers = _answers(setting, chosen, match)
    found = said_of(setting.drive, propeller_findings(setting, answers))
    return Outcome(answers, (*held_findings(setting.plan, "propeller"), *half_load_findings(setting), *found))


def _answers(setting: Setting, chosen: ChosenSize, match: Match) -> PropellerAnswers:
    wheel, held, cruise, exponent = match.wheel, match.held, match.cruise, match.pitch_exponent
    diameter, pitch = wheel.diameter, wheel.pitch
    plan, demand, drive, kind = setting.plan, setting.demand, setting.drive, setting.kind
    fleet, cases = setting.hull.fleet, setting.cases
    calm, margin = wheel.full_throttle(cases.calm), wheel.full_throttle(cases.margin)
    turning, top = calm.shaft_speed, calm.boat_speed
    cruise_speed = each_boat(cruise.shaft_speed, fleet.rows)
    thrust = each_thrust_at(cases.calm.boats, top)
    allowance = keller_allowance(demand.screws)
    needed = keller_area_ratio(thrust, diameter, kind.blades, setting.shaft_pressure, allowance)
    to_engine = setting.ratio / RPM
    rated_rpm = drive.engine.rated_speed / RPM
    developed = float(developed_area_ratio(kind.area_ratio, kind.blades))
    hub_low, hub_high = hub_diameter_range(diameter)
    pull = _pull_of_all(setting, held)
    return PropellerAnswers(
        size=chosen.words,
        other_size=chosen.other,
        hand=_hand_words(setting),
        diameter_m=diameter,
        pitch_m=pitch,
        blades=kind.blades,
        series=kind.series.label,
        area_ratio=kind.area_ratio,
        disc_area_ratio=developed,
        mean_width_ratio=float(mean_width_ratio_from_developed(developed, kind.blades)),
        pitch_ratio=pitch / diameter,
        hub_diameter_m=Band(float(typical_hub_diameter(diameter)), float(hub_low), float(hub_high)),
        tip_clearance_fraction=tip_clearance(plan, diameter),
        full_throttle_rpm=fleet.band(turning * to_engine),
        rated_rpm=rated_rpm,
        reaches_rated_fraction=fleet.share(margin.reaches_rated),
        overloaded_fraction=fleet.share(margin.light_running < 0.0),
        overspeeding_fraction=fleet.share(margin.light_running > TOO_LIGHT),
        light_running_fraction=fleet.band(margin.light_running),
        top_kn=fleet.band(top / KNOT),
        service_full_throttle_rpm=fleet.band(wheel.full_throttle(cases.service).shaft_speed * to_engine),
        cruise_rpm=fleet.band(cruise_speed * to_engine),
        cruise_power_kw=fleet.band(drive.at_crankshaft(each_boat(cruise.delivered_power, fleet.rows)) / 1e3),
        cruise_efficiency_fraction=fleet.band(each_boat(cruise.efficiency, fleet.rows)),
        cruise_slip_fraction=fleet.band(1.0 - setting.cruise / (pitch * cruise_speed)),
        thrust_n=fleet.band(thrust),
        bollard_pull_n=pull,
        astern_pull_n=_astern(pull),
        tip_speed_m_per_s=fleet.band(np.asarray(tip_speed(diameter, turning))),
        needed_area_ratio=fleet.band(np.asarray(needed)),
        handbook_diameter_m=match.handbook[0],
        handbook_pitch_m=match.handbook[1],
        series_pitch_m=match.series_pitch,
        static_thrust_n=_static_thrust(setting, held),
        held=held,
        pitch_exponent=exponent,
        inch_of_pitch_rpm=exponent * (1.0 + float(match.around.light_running[0])) * rated_rpm * INCH / pitch,
        wheel=wheel,
        cases=tuple(case_rows(wheel)),
        match=match.rows,
        neighbours=tuple(neighbour_rows(plan, match.beside, match.around)),
        doubt=match.doubt,
    )


def _hand_words(setting: Setting) -> str:
    if setting.demand.screws == 2:
        return f"{outward_turning(is_port=True)} to port, {outward_turning(is_port=False)} to starboard"
    hand = hand_for(setting.plan.gear.output_turns)
    if hand is not None:
        return hand.words
    return (
        "either: choose one" if is_direct(setting.plan, setting.ratio) else "as the gear's output turns: ask its maker"
    )


def _pull_of_all(setting: Setting, held: BollardPull) -> Band:
    """Of all propellers [N]: the middle of the boats, with the ends that thrust deduction and polynomials leave."""
    fleet = setting.hull.fleet
    middle, low, high = (
        setting.demand.screws * fleet.band(each_boat(pull, fleet.rows)).best
        for pull in (held.pull.middle, held.pull.low, held.pull.high)
    )
    return Band(middle, low, high)


def _static_thrust(setting: Setting, held: BollardPull) -> Band:
    """Of one propeller [N]: the middle of the boats, with the ends that the polynomials leave."""
    fleet = setting.hull.fleet
    middle = fleet.band(each_boat(held.thrust, fleet.rows)).best
    return Band(middle, (1.0 - POLYNOMIAL_ERROR) * middle, (1.0 + POLYNOMIAL_ERROR) * middle)


def _astern(ahead: Band) -> Band:
    middle, least, most = (astern_pull(pull) for pull in (ahead.best, ahead.low, ahead.high))
    return Band(float(middle.middle), float(least.low), float(most.high))
