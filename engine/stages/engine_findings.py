"""What there is to say about the chosen engine: load, reserve, losses aboard, duty, weight and its data sheet."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from engine.constants import KNOT, RPM
from engine.defaults import amount, word
from engine.findings import Finding, fits, look, stop
from engine.hull.shallow_water import SHALLOW_SOURCE
from engine.machinery.derating import AIR_PRESSURE, REFERENCE_C, check_site, judge_intake_temperature
from engine.machinery.derating import STATUS as DERATING_STATUS
from engine.machinery.diesel import check_engine, cruise_speed_limit, judge_cruise_load
from engine.machinery.duty_cycles import DUTY_CYCLES
from engine.machinery.electric import judge_continuous_load
from engine.machinery.fuel import G_PER_KWH, check_fuel_rate, specific_consumption_epa
from engine.numeric import told_apart
from engine.plan import Plan, chosen_path, noun_of
from engine.plan_defaults import intake_air, raw_water
from engine.quoting import shortened
from engine.sections.electric import INVENTED, Motor
from engine.sections.engine import Candidate
from engine.stages.candidates import Rival
from engine.stages.cases import Cases
from engine.stages.drive import DieselDrive, curve_trouble, site_of
from engine.stages.duty import cruise_load_factor, duty_findings
from engine.stages.hull import HullAnswers
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording, as_much_or, capitalised, percent

TOP_LOAD = 0.90
"""A top speed wanted that takes more than this of the power leaves no margin for fouling and weather."""
_SMALLER = 0.8
"""Of that: an engine that gives more than this share of it for the top speed wanted is no size too large (ours)."""
_TOO_FAST = 1.15
"""Times hull speed (ours)."""
_BY_REFERENCE = "That is by the propeller of the power page; the {page} page has it by the one chosen."
_MARGIN = "rated power must reach the top speed with a margin for fouling and weather; 10 to 15 %, from memory"


def engine_findings(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, cases: Cases, chosen: Rival
) -> Iterator[Finding]:
    """Sentences about the chosen candidate."""
    path = chosen_path(plan)
    yield _top_finding(speed, chosen)
    yield from _cruise_findings(plan, speed, cases, chosen, path)
    yield from _size_findings(hull, chosen, path)
    item, drive = chosen.item, chosen.drive
    if isinstance(drive, DieselDrive) and isinstance(item, Candidate):
        yield from _loss_findings(plan, item, drive, path)
        yield from duty_findings(plan, item, cruise_load_factor(chosen, speed), f"{path}.duty")
        yield from _sheet_findings(item, drive, path)
        yield from _fuel_findings(item, chosen, speed, path)
    if word(item, "figures") == INVENTED:
        yield look(
            f"The figures of {shortened(chosen.name)} are invented: get the data sheet of a real one before you order "
            "anything.",
            "generic example, invented for this program",
            f"{path}.figures",
        )


def _top_finding(speed: SpeedAnswers, chosen: Rival) -> Finding:
    band = chosen.loading.fleet.band(chosen.loading.top)
    load, worst = band.best, band.high
    share = told_apart(100.0 * load, 100.0)
    text = f"The top speed wanted, {speed.top_kn:.1f} kn, takes {share} % of the power of {shortened(chosen.name)}"
    if load > 1.0:
        cure = f"Take a larger {noun_of(chosen.item)} or a lower top speed.{_at_peak(chosen, load)}"
        sure = "it cannot be reached"
        if band.low <= 1.0:
            sure = f"most of the plausible boats do not reach it, one in ten takes {percent(band.low)} or less"
        return stop(f"{text}: {sure}. {cure}", _MARGIN, "speed.top")
    if round(load, 2) > TOP_LOAD:  # what reads as 90 % is what is meant to be left
        return look(f"{text}: little is left for a foul bottom or a head sea.", _MARGIN, "speed.top")
    if worst > 1.0:
        return look(f"{text}; one plausible boat in ten would need {percent(worst)} or more.", _MARGIN, "speed.top")
    return fits(f"{text}, in nine plausible boats of ten at most {percent(worst)}.", _MARGIN)


def _at_peak(chosen: Rival, load: float) -> str:
    """What a motor's peak power is good for at a load of its continuous one."""
    peak = chosen.item.peak_power if isinstance(chosen.item, Motor) else None
    if peak is None or peak.si < load * chosen.drive.usable_power:
        return ""
    return " On its peak power the motor reaches it for a minute or so, no longer."


def _cruise_findings(plan: Plan, speed: SpeedAnswers, cases: Cases, chosen: Rival, path: str) -> Iterator[Finding]:
    loading = chosen.loading
    band = loading.fleet.band
    load = band(loading.cruise).best
    if isinstance(chosen.drive, DieselDrive):
        top = band(loading.top).best
        judged = judge_cruise_load(load, can_be_smaller=not top > _SMALLER * TOP_LOAD)
    else:
        judged = judge_continuous_load(load)
    yield replace(judged, path=f"{path}.rated_power")
    yield _service_finding(plan, chosen)
    against, wind = band(loading.cruise_head_wind), cases.head_wind
    if wind is None or not against.is_known:
        return
    share = told_apart(100.0 * against.best, 100.0)
    text = f"{capitalised(wind.words)}: to hold {speed.cruise_kn:.1f} kn takes {share} % of the power"
    if against.best > 1.0:
        yield look(
            f"{text}, so she will have to slow down.", "air and wave drag of the power page", f"{path}.rated_power"
        )
    elif round(against.high, 2) > 1.0:
        yield look(
            f"{text}; {_some_must_slow_down(against.high, 'propeller')}",
            "air and wave drag of the power page",
            f"{path}.rated_power",
        )
    else:
        yield fits(
            f"{text}, in nine plausible boats of ten at most {percent(against.high)}.",
            "air and wave drag of the power page",
        )


def _service_finding(plan: Plan, chosen: Rival) -> Finding:
    """What is left at cruise with all that is allowed for: a stop where most of the boats have not that much power, a
    second look where one in ten has not. Judged in whole per cent, as it is told."""
    service, reserve = chosen.loading.fleet.band(chosen.loading.cruise_service), chosen.loading.reserve
    if not service.is_known:
        return _no_service_finding(plan)
    text = "With your margin for wind and sea"
    if service.best > 1.0:
        return stop(
            f"{text} the cruising speed takes more power than the {noun_of(chosen.item)} has: "
            f"{told_apart(100.0 * service.best, 100.0)} % of it. {_BY_REFERENCE.format(page='range')}",
            "sea margin of the power page",
            "power.sea_margin",
        )
    left = f"{text} {percent(reserve.best)} of the power is left at cruise"
    if round(service.high, 2) > 1.0:
        return look(
            f"{left}, but {_some_must_slow_down(service.high, 'range')}",
            "load with the margin of the power page",
            "power.sea_margin",
        )
    low = max(reserve.low, 0.0)  # what reads as nothing is not less than that
    return fits(
        f"{left} ({percent(low)} to {percent(reserve.high)} over the plausible boats).",
        "load with the margin of the power page",
    )


def _some_must_slow_down(share: float, page: str) -> str:
    """That one boat in ten has not the power.   share: of it that she takes.   page: has it by the chosen wheel."""
    needs = f"one plausible boat in ten would need {percent(share)} of the power or more"
    return f"{needs}, and must slow down. {_BY_REFERENCE.format(page=page)}"


def _no_service_finding(plan: Plan) -> Finding:
    """That the load with all that is allowed for is not known: the bottom is what the formulas end at first."""
    text = "The load at cruise with all that you allow for cannot be worked out"
    if plan.power.water_depth is None:
        return look(f"{text}: she is beyond what the methods describe.", "power in service", "power.sea_margin")
    return look(
        f"{text}: at that speed the water is too shallow for the formula. Slow down, or find deeper water.",
        SHALLOW_SOURCE,
        "power.water_depth",
    )


def _size_findings(hull: HullAnswers, chosen: Rival, path: str) -> Iterator[Finding]:
    reachable, hull_kn = chosen.loading.reachable_best / KNOT, hull.hull_speed_kn.best
    if not np.isfinite(reachable):
        yield look(
            f"The {noun_of(chosen.item)} could drive the boat beyond the speeds that were worked out: it is far too "
            "large.",
            "power curve of the power page",
            f"{path}.rated_power",
        )
    elif reachable > hull_kn * _TOO_FAST:
        yield look(
            f"The {noun_of(chosen.item)} could push her to {reachable:.1f} kn, well above hull speed ({hull_kn:.1f} "
            "kn): power that only makes waves.",
            "hull speed: common practice, no source",
        )


def _loss_findings(plan: Plan, item: Candidate, drive: DieselDrive, path: str) -> Iterator[Finding]:
    lost = percent(1.0 - drive.derating)
    if item.power_lost is not None:
        yield fits(f"By your own figure {lost} of the rated power is lost aboard.", "given by you")
    else:
        say, air = Wording(plan.units), intake_air(plan)
        height = amount(plan.engine, "altitude")
        place = f"{say.length(height)} above the sea, with" if height > 0.0 else "With"
        share = "none" if lost == percent(0.0) else lost
        yield (fits if share == "none" else look)(
            f"{place} {say.temperature(air)} at the intake, {percent(amount(plan.engine, 'humidity'))} humidity and "
            f"raw water of {say.temperature(raw_water(plan))} it loses {share} of its rated power and "
            f"takes {_fuel_words(drive.consumption_ratio - 1.0)} for the same work. That is a default: the maker's own "
            "loss comes before it.",
            DERATING_STATUS,
            f"{path}.power_lost",
        )
        for outside in check_site(site_of(plan)):
            is_pressure = outside.quantity == AIR_PRESSURE
            shown, field = (say.pressure, "altitude") if is_pressure else (say.temperature, "intake_air")
            yield look(outside.sentence(shown), DERATING_STATUS, f"engine.{field}")
    air, say = intake_air(plan), Wording(plan.units)
    said = f"{say.temperature(air)} (its data sheet is for {say.temperature(REFERENCE_C)})"
    yield replace(judge_intake_temperature(air, said), path="engine.intake_air")


def _fuel_words(more: float) -> str:
    """Fuel over that of the data sheet, as a share more: "1.1 % more fuel"; air colder than the sheet's saves some."""
    return f"{as_much_or(more, 1)} fuel"


def _sheet_findings(item: Candidate, drive: DieselDrive, path: str) -> Iterator[Finding]:
    for sentence in check_engine(drive.engine):
        yield look(sentence, "the data sheet against itself", path + ".rated_power")
    full_load = item.full_load_torques or item.full_load_powers
    for words, speeds, values, field in (
        ("full-load", item.full_load_speeds, full_load, "full_load_speeds"),
        ("fuel", item.fuel_speeds, item.fuel_flows, "fuel_speeds"),
    ):
        trouble = curve_trouble(speeds, values)
        if trouble:
            text = f"The {words} curve is left out, a published one stands in: {trouble}."
            yield look(text, "the data sheet against itself", f"{path}.{field}")


def _fuel_findings(item: Candidate, chosen: Rival, speed: SpeedAnswers, path: str) -> Iterator[Finding]:
    drive, loading = chosen.drive, chosen.loading
    assert isinstance(drive, DieselDrive)
    if drive.engine.propeller_fuel_curve is not None:
        yield fits(
            "Fuel is taken from your own curve; a published map only shapes it off the propeller curve.", "data sheet"
        )
    elif item.fuel_at_rated is None:
        yield look(
            "No specific consumption is given, so a usual value of this kind of diesel stands in; it may be 10 % out.",
            "own choice within the published spread of open fuel maps",
            f"{path}.fuel_at_rated",
        )
    cruise = speed.cruise_kn * KNOT
    engine_speed = loading.engine_speed(cruise)
    power = drive.at_crankshaft(loading.demand.delivered_power(cruise) / loading.demand.screws)
    for outside in check_fuel_rate(drive.engine, power, engine_speed):
        text = (
            f"Fuel at cruise is less sure, as it lies outside what is known of such diesels. {outside.sentence()} The "
            "maker's own fuel curve settles it."
        )
        yield look(text, "open fuel maps; see the range page", f"{path}.fuel_at_rated")
    cycle = DUTY_CYCLES["E5"]
    mean = drive.over_cycle(cycle) / G_PER_KWH
    line = float(specific_consumption_epa(cycle.mean_load)) / G_PER_KWH
    yield fits(
        f"Over test cycle E5, at a mean load of {percent(cycle.mean_load)}, it takes {mean:.0f} g/kWh; the line for "
        f"marine diesels of the US Environmental Protection Agency gives {line:.0f}. That figure is only a check.",
        "ISO 8178-4 test cycle E5; EPA (2000), EPA420-R-00-002, from memory",
    )
    limit = float(cruise_speed_limit(drive.engine.rated_speed))
    if np.isfinite(limit) and np.isfinite(engine_speed):
        source = "one engine maker (anonymised), printed"
        text = (
            f"One maker asks for at most {limit / RPM:.0f} rpm between spells of full power; about "
            f"{engine_speed / RPM:.0f} rpm at cruise"
        )
        if engine_speed <= limit:
            yield fits(f"{text} holds that.", source)
        else:
            yield look(f"{text} does not hold that.", source)
