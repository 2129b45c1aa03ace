"""Stage 4: which engine? Power available against power demanded, candidates side by side."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe, table
from engine.bands import Band
from engine.constants import KNOT, RPM
from engine.findings import Finding, Outcome, fits, look, stop
from engine.machinery.diesel import check_engine, full_load_power, judge_cruise_load
from engine.plan import Plan
from engine.propeller.matching import value_at_first_fall
from engine.sections.engine import Candidate
from engine.stages.boats import each_boat
from engine.stages.demand import Demand
from engine.stages.drive import Drive, drive_of
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.resistance import at_speed
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording, percent


@dataclass(frozen=True)
class CandidateRow:
    """One candidate in the comparison. Power is of one engine, burn of all of them."""

    name: str = answer("Engine")
    rated_power_kw: float = answer("Rated power")
    rated_rpm: float = answer("at")
    cruise_load_fraction: Band = answer("Load at cruise")
    top_load_fraction: Band = answer("Load at top speed wanted", spread=True)
    reserve_fraction: Band = answer("Left for wind and sea at cruise", spread=True)
    reachable_kn: Band = answer("Speed it could reach")
    cruise_l_per_h: Band = answer("Burn at cruise")


@dataclass(frozen=True)
class EngineRow:
    """One engine speed: what the engine can give, and what the hull asks for through a propeller that suits it."""

    engine_rpm: float = answer("Engine speed")
    available_kw: float = answer("Full-load power")
    demand_kw: Band = answer("Demand, calm", spread=True)
    service_demand_kw: Band = answer("Demand, with margin")


@dataclass(frozen=True, kw_only=True)
class EngineAnswers:
    """The chosen candidate. Power figures are for one engine, at its crankshaft."""

    name: str = answer("Engine")
    engines: int = answer("Number of engines")
    rated_power_kw: float = answer("Rated power at the crankshaft")
    usable_power_kw: Band = answer("Power left after losses aboard")
    power_at_propeller_kw: Band = answer("Power that reaches the propeller")
    rated_rpm: float = answer("Rated engine speed", digits=4)
    cruise_load_fraction: Band = answer("Load at cruise, calm")
    cruise_service_load_fraction: Band = answer("Load at cruise, with margin")
    top_load_fraction: Band = answer("Load at the top speed wanted")
    cruise_rpm: float = answer("Engine speed at cruise, about")
    reachable_kn: Band = answer("Speed it could reach, calm")
    weight_change_kg: float | None = maybe("Change of weight")
    drive: Drive
    curve: tuple[EngineRow, ...] = table("Power available and demanded")
    candidates: tuple[CandidateRow, ...] = table("Candidates side by side")


_CURVE_FROM, _CURVE_TO, _CURVE_POINTS = 0.4, 1.05, 27
_TOP_LOAD = 0.90
"""A top speed wanted that takes more than this of the power leaves no margin for fouling and weather."""
_WEIGHT_SHARE = 0.02
_TOO_FAST = 1.15
"""Times hull speed."""


def assess_engine(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, power: PowerAnswers) -> Outcome[EngineAnswers]:
    """Every complete candidate against the demand of the boat; the chosen one in detail."""
    matches = [(item, drive) for item in plan.engine.candidate if (drive := drive_of(plan, item)) is not None]
    chosen = plan.engine.selected
    drive = next((drive for item, drive in matches if item is chosen), None)
    if chosen is None or drive is None:
        return Outcome(None, waits_for="an engine with its rated power and rated speed.")
    loading = _loading(drive, power.demand, speed, hull)
    output = each_boat(hull.boats.engine_output, hull.fleet.size)
    answers = EngineAnswers(
        name=chosen.name or "unnamed",
        engines=power.demand.screws,
        rated_power_kw=drive.engine.crankshaft_rated_power / 1e3,
        usable_power_kw=hull.fleet.band(output * drive.usable_power / 1e3),
        power_at_propeller_kw=hull.fleet.band(output * drive.power_at_propeller / 1e3),
        rated_rpm=drive.engine.rated_speed / RPM,
        cruise_load_fraction=loading.cruise,
        cruise_service_load_fraction=loading.cruise_service,
        top_load_fraction=loading.top,
        cruise_rpm=_engine_speed(drive, power.demand, speed.cruise_kn * KNOT, loading.reachable.best) / RPM,
        reachable_kn=loading.reachable.scaled(1.0 / KNOT),
        weight_change_kg=_weight_change(plan, chosen, power.demand.screws),
        drive=drive,
        curve=tuple(_curve(drive, power.demand, loading.reachable.best)),
        candidates=tuple(_row(item, other, power.demand, speed, hull) for item, other in matches),
    )
    return Outcome(answers, tuple(_findings(plan, hull, speed, chosen, answers)))


@dataclass(frozen=True)
class _Loading:
    """Shares of the usable power, and the boat speed [m/s] at which it is all used, in calm water."""

    cruise: Band
    cruise_service: Band
    top: Band
    reachable: Band


def _loading(drive: Drive, demand: Demand, speed: SpeedAnswers, hull: HullAnswers) -> _Loading:
    output = each_boat(hull.boats.engine_output, hull.fleet.size)
    available = output * drive.power_at_propeller * demand.screws
    cruise, top = speed.cruise_kn * KNOT, speed.top_kn * KNOT
    band = hull.fleet.band
    return _Loading(
        cruise=band(demand.each_delivered_power(cruise) / available),
        cruise_service=band(demand.each_delivered_power(cruise, service=True) / available),
        top=band(demand.each_delivered_power(top) / available),
        reachable=band(value_at_first_fall(demand.resistance.speed, available[:, None] - demand.delivered)),
    )


def _engine_speed(drive: Drive, demand: Demand, speed: float, reachable: float) -> float:
    """Engine speed [rev/s] at a boat speed, with a propeller that lets the engine reach its rated speed."""
    turning = np.asarray(demand.propeller.shaft_speed)
    at_full = at_speed(demand.resistance, turning, reachable)
    return drive.engine.rated_speed * at_speed(demand.resistance, turning, speed) / at_full


def _curve(drive: Drive, demand: Demand, reachable: float) -> Iterator[EngineRow]:
    grid, fleet = demand.resistance.speed, demand.resistance.fleet
    turning, in_service = (np.asarray(p.shaft_speed) for p in (demand.propeller, demand.service_propeller))
    scale = drive.engine.rated_speed / at_speed(demand.resistance, turning, reachable)
    for fraction in np.linspace(_CURVE_FROM, _CURVE_TO, _CURVE_POINTS):
        engine_speed = fraction * drive.engine.rated_speed
        calm, service = (
            demand.each_delivered_power(float(np.interp(engine_speed, turns * scale, grid)), service=side)
            for turns, side in ((turning, False), (in_service, True))
        )
        yield EngineRow(
            engine_rpm=engine_speed / RPM,
            available_kw=float(full_load_power(drive.engine, engine_speed, derating=drive.derating)) / 1e3,
            demand_kw=fleet.band(drive.at_crankshaft(calm / demand.screws) / 1e3),
            service_demand_kw=fleet.band(drive.at_crankshaft(service / demand.screws) / 1e3),
        )


def _row(candidate: Candidate, drive: Drive, demand: Demand, speed: SpeedAnswers, hull: HullAnswers) -> CandidateRow:
    loading = _loading(drive, demand, speed, hull)
    cruise = speed.cruise_kn * KNOT
    each = demand.each_delivered_power(cruise) / demand.screws
    engine_speed = _engine_speed(drive, demand, cruise, loading.reachable.best)
    return CandidateRow(
        name=candidate.name or "unnamed",
        rated_power_kw=drive.engine.crankshaft_rated_power / 1e3,
        rated_rpm=drive.engine.rated_speed / RPM,
        cruise_load_fraction=loading.cruise,
        top_load_fraction=loading.top,
        reserve_fraction=loading.cruise_service.mapped(lambda load: 1.0 - load),
        reachable_kn=loading.reachable.scaled(1.0 / KNOT),
        cruise_l_per_h=hull.fleet.band(drive.burn_l_per_h(each, engine_speed) * demand.screws),
    )


def _weight_change(plan: Plan, candidate: Candidate, screws: int) -> float | None:
    if candidate.weight is None or plan.present.engine_weight is None:
        return None
    return (candidate.weight.si - plan.present.engine_weight.si) * screws


def _findings(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, candidate: Candidate, answers: EngineAnswers
) -> Iterator[Finding]:
    path = f"engine.candidate.{plan.engine.candidate.index(candidate)}"
    load, worst = answers.top_load_fraction.best, answers.top_load_fraction.high
    source = "rated power must reach the top speed with a margin for fouling and weather; 10 to 15 %, from memory"
    text = f"The top speed wanted, {speed.top_kn:.1f} kn, takes {percent(load)} of the power of {answers.name}"
    if load > 1.0:
        yield stop(f"{text}: it cannot be reached. Take a larger engine or a lower top speed.", source, "speed.top")
    elif load > _TOP_LOAD:
        yield look(f"{text}: little is left for a foul bottom or a head sea.", source, "speed.top")
    elif worst > 1.0:
        yield look(f"{text}; one plausible boat in ten would need {percent(worst)}.", source, "speed.top")
    else:
        yield fits(f"{text}, at worst {percent(worst)}.", source)
    yield judge_cruise_load(answers.cruise_load_fraction.best)
    if answers.cruise_service_load_fraction.best > 1.0:
        yield stop(
            "With your margin for wind and sea the cruising speed takes more power than the engine has.",
            "sea margin of the power page",
            "power.sea_margin",
        )
    reachable, hull_kn = answers.reachable_kn.best, hull.hull_speed_kn.best
    if not np.isfinite(reachable):
        yield look(
            "The engine could drive the boat beyond the speeds that were worked out: it is far too large.",
            "power curve of the power page",
            f"{path}.rated_power",
        )
    elif reachable > hull_kn * _TOO_FAST:
        yield look(
            f"It could push her to {reachable:.1f} kn, well above hull speed ({hull_kn:.1f} kn): "
            "power that only makes waves.",
            "hull speed: common practice, no source",
        )
    yield from _duty_findings(candidate, f"{path}.duty")
    yield from _weight_findings(Wording(plan.units), hull, answers)
    for sentence in check_engine(answers.drive.engine):
        yield look(sentence, "the data sheet against itself")
    if candidate.fuel_at_rated is None:
        yield look(
            "No specific consumption is given, so a usual value of this kind of diesel stands in; it may be 10 % out.",
            "own choice within the published spread of open fuel maps",
            f"{path}.fuel_at_rated",
        )


def _duty_findings(candidate: Candidate, path: str) -> Iterator[Finding]:
    if candidate.duty is None:
        yield look(
            "The duty class is not given. A displacement boat works her engine steadily: "
            "ask for more than a pleasure rating.",
            "duty classes of engine makers, anonymised",
            path,
        )
    elif candidate.duty == "pleasure":
        yield look(
            "A pleasure rating allows full power for half an hour in eight (from memory). "
            "Ask for the rating of a steadier duty.",
            "duty classes of engine makers, anonymised",
            path,
        )


def _weight_findings(say: Wording, hull: HullAnswers, answers: EngineAnswers) -> Iterator[Finding]:
    change = answers.weight_change_kg
    if change is None:
        yield look(
            "Weigh what comes out and what goes in: the change moves her trim and her stability.",
            "ISO 12217 on stability; from memory",
            "present.engine_weight",
        )
        return
    share = abs(change) / hull.displacement_kg.best
    moves = "heavier" if change > 0 else "lighter"
    text = f"The new machinery is {say.mass(abs(change))} {moves}, {percent(share, 1)} of her displacement."
    source = "2 % of displacement: our own threshold; stability by ISO 12217, with a qualified person"
    yield fits(text, source) if share <= _WEIGHT_SHARE else look(f"{text} Have stability and trim checked.", source)
