"""Stage 6: which propeller? A stock size, and its match with engine and hull over the whole range."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, table
from engine.constants import INCH, KNOT, RPM
from engine.findings import Finding, Outcome, Verdict, fits, look, stop
from engine.machinery.diesel import full_load_power
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.cavitation import (
    TIP_SPEED_LIMITS,
    burrill_check,
    dynamic_pressure,
    keller_allowance,
    keller_area_ratio,
    pressure_above_vapour,
    tip_speed,
)
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B
from engine.showing import round_number
from engine.stages.defaults import amount
from engine.stages.engine import EngineAnswers
from engine.stages.fitting import (
    Setting,
    Trial,
    blade_reynolds,
    choose,
    corrected_open_water,
    described_by_the_series,
    stock_sizes,
    stock_steps,
    try_propellers,
)
from engine.stages.gear import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.room import shaft_depth, tip_clearance
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording, percent


@dataclass(frozen=True)
class MatchRow:
    """One engine speed with the chosen propeller on the clean hull in calm water, per shaft."""

    engine_rpm: float = answer("Engine speed")
    speed_kn: float = answer("Boat speed")
    demand_kw: float = answer("Demand at the crankshaft")
    service_demand_kw: float = answer("Demand with margin")
    available_kw: float = answer("Full-load power")


@dataclass(frozen=True)
class NeighbourRow:
    """A stock size beside the chosen one."""

    diameter_m: float = answer("Diameter", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    tip_clearance_fraction: float = answer("Tip clearance")
    full_throttle_rpm: float = answer("Full throttle")
    light_running_fraction: float = answer("Light running")
    top_kn: float = answer("Top speed")
    cruise_rpm: float = answer("Engine at cruise")
    cruise_l_per_h: float = answer("Burn at cruise")
    chosen: bool = answer("Chosen")


@dataclass(frozen=True, kw_only=True)
class PropellerAnswers:
    """The propeller and how it matches. Powers are for one engine, at its crankshaft."""

    size: str = answer("Size to order")
    diameter_m: float = answer("Diameter", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    blades: int = answer("Blades")
    area_ratio: float = answer("Blade area ratio")
    pitch_ratio: float = answer("Pitch ratio")
    tip_clearance_fraction: float = answer("Tip clearance")
    full_throttle_rpm: float = answer("Full-throttle engine speed, clean and calm", digits=4)
    rated_rpm: float = answer("Rated engine speed", digits=4)
    light_running_fraction: float = answer("Light running")
    top_kn: float = answer("Speed at full throttle")
    service_full_throttle_rpm: float = answer("Full-throttle engine speed, with margin", digits=4)
    cruise_rpm: float = answer("Engine speed at cruise", digits=4)
    cruise_power_kw: float = answer("Power at cruise")
    cruise_efficiency_fraction: float = answer("Propeller efficiency at cruise")
    cruise_slip_fraction: float = answer("Apparent slip at cruise")
    thrust_n: float = answer("Thrust at full throttle")
    tip_speed_m_per_s: float = answer("Tip speed at full throttle")
    needed_area_ratio: float = answer("Blade area ratio needed (Keller)")
    handbook_diameter_m: float = answer("Handbook diameter, three blades", metric="mm", imperial="in")
    handbook_pitch_m: float = answer("Handbook pitch", metric="mm", imperial="in")
    inch_of_pitch_rpm: float = answer("One inch of pitch changes the engine speed by")
    pitch_exponent: float
    open_water: OpenWater
    match: tuple[MatchRow, ...] = table("The match over the range")
    neighbours: tuple[NeighbourRow, ...] = table("Next sizes up and down")


_TURNABLE = "a propeller that the engine can turn."
_FAR_TOO_LIGHT = 0.07
_HANDBOOK_SPREAD = 0.12
_TWO_BLADE_EFFICIENCY = 0.75
_FULL_THROTTLE = "equilibrium of hull, propeller and engine; light running: trade practice for displacement boats"


def assess_propeller(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, power: PowerAnswers, engine: EngineAnswers, gear: GearAnswers
) -> Outcome[PropellerAnswers]:
    """A stock propeller for the chosen ratio, and how it matches over the whole range."""
    setting = Setting(plan, hull, speed, power.demand, engine.drive, gear.ratio)
    sizes = stock_sizes(plan, gear)
    if len(sizes[0]) == 0:
        low, high = WAGENINGEN_B.pitch_ratio
        text = (
            f"The series of tested propellers has pitches of {low:g} to {high:g} times the diameter, and the size you "
            "chose lies outside. Choose another pitch or diameter, or leave them empty."
        )
        return Outcome(None, (stop(text, WAGENINGEN_B.source, "propeller.pitch"),), "a size the series describes.")
    trial = try_propellers(setting, *sizes)
    best = choose(plan, trial)
    if best is None:
        text = (
            "No stock size in the room lets this engine reach its rated speed with this ratio. "
            "Take a deeper ratio, more room, or another number of blades."
        )
        return Outcome(None, (stop(text, _FULL_THROTTLE, "gear.ratio"),), _TURNABLE)
    if not np.isfinite(np.asarray(trial.full_throttle.shaft_speed)[best]):
        text = (
            "With this size full throttle cannot be worked out: it holds the engine under a quarter of its rated "
            "speed, or drives the boat faster than was worked out. Choose another size, or leave it empty."
        )
        return Outcome(
            None, (stop(text, _FULL_THROTTLE, "propeller.diameter"),), "a propeller that the engine can turn."
        )
    diameter, pitch = float(trial.diameter[best]), float(trial.pitch[best])
    answers = _answers(setting, diameter, pitch)
    return Outcome(answers, tuple(_findings(setting, answers)))


def _neighbours(setting: Setting, diameter: float, pitch: float) -> Trial:
    step, pitch_step = stock_steps(setting.plan)
    moves = ((0.0, 0.0), (0.0, pitch_step), (0.0, -pitch_step), (step, 0.0), (-step, 0.0), (-step, step), (step, -step))
    diameters = np.array([diameter + move for move, _ in moves])
    pitches = np.array([pitch + move for _, move in moves])
    return try_propellers(setting, *described_by_the_series(diameters, pitches))


def _answers(setting: Setting, diameter: float, pitch: float) -> PropellerAnswers:
    plan, speed, demand, drive = setting.plan, setting.speed, setting.demand, setting.drive
    around = _neighbours(setting, diameter, pitch)
    exponent, light = _pitch_exponent(around), float(around.light_running[0])
    turning = np.asarray(around.full_throttle.shaft_speed)
    top = float(np.asarray(around.full_throttle.boat_speed)[0])
    full_speed = float(turning[0])
    cruise_shaft = float(np.asarray(around.cruise.shaft_speed)[0])
    thrust = float(demand.calm.thrust_at(top))
    pressure = pressure_above_vapour(shaft_depth(plan), setting.hull.water.density)
    needed = keller_area_ratio(thrust, diameter, setting.blades, pressure, keller_allowance(demand.screws))
    return PropellerAnswers(
        size=_size_words(diameter, pitch, setting.blades),
        diameter_m=diameter,
        pitch_m=pitch,
        blades=setting.blades,
        area_ratio=setting.area_ratio,
        pitch_ratio=pitch / diameter,
        tip_clearance_fraction=tip_clearance(plan, diameter),
        full_throttle_rpm=full_speed * setting.ratio / RPM,
        rated_rpm=drive.engine.rated_speed / RPM,
        light_running_fraction=light,
        top_kn=top / KNOT,
        service_full_throttle_rpm=float(np.asarray(around.service_full_throttle.shaft_speed)[0]) * setting.ratio / RPM,
        cruise_rpm=cruise_shaft * setting.ratio / RPM,
        cruise_power_kw=float(drive.at_crankshaft(np.asarray(around.cruise.delivered_power)[0])) / 1e3,
        cruise_efficiency_fraction=float(np.asarray(around.cruise.efficiency)[0]),
        cruise_slip_fraction=1.0 - speed.cruise_kn * KNOT / (pitch * cruise_shaft),
        thrust_n=thrust,
        tip_speed_m_per_s=float(tip_speed(diameter, full_speed)),
        needed_area_ratio=float(needed),
        handbook_diameter_m=float(handbook.diameter(drive.power_at_propeller, setting.rated_shaft_speed)),
        handbook_pitch_m=float(handbook.pitch_from_slip(top, setting.rated_shaft_speed, handbook.slip(top))),
        pitch_exponent=exponent,
        inch_of_pitch_rpm=exponent * (1.0 + light) * drive.engine.rated_speed / RPM * INCH / pitch,
        open_water=corrected_open_water(setting, np.asarray(diameter), np.asarray(pitch)),
        match=tuple(_match(setting, around)),
        neighbours=tuple(_neighbour_rows(setting, around)),
    )


def _size_words(diameter: float, pitch: float, blades: int) -> str:
    """As the trade writes it, diameter first: "19 x 14 in, 3 blades"."""
    inches = " x ".join(round_number(length / INCH, 3) for length in (diameter, pitch))
    return f"{inches} in, {blades} blades"


def _pitch_exponent(around: Trial) -> float:
    """Exponent of the pitch in the shaft speed at which rated power is taken, d ln n / d ln P (about -0.6 to -0.9).
    From the sizes of the chosen diameter; NaN with fewer than two."""
    known = (around.diameter == around.diameter[0]) & np.isfinite(around.light_running)
    if known.sum() < 2:
        return math.nan
    pitch, turning = np.log(around.pitch[known]), np.log1p(around.light_running[known])
    return float((turning[pitch.argmax()] - turning[pitch.argmin()]) / np.ptp(pitch))


def _match(setting: Setting, around: Trial) -> Iterator[MatchRow]:
    drive, absorbed = setting.drive, around.absorbed
    engine_speed = absorbed.shaft_speed * setting.ratio
    available = full_load_power(drive.engine, engine_speed, derating=drive.derating)
    calm = drive.at_crankshaft(np.nan_to_num(absorbed.delivered_power[0]))
    service = drive.at_crankshaft(np.nan_to_num(around.service.delivered_power[0]))
    for i in range(len(engine_speed)):
        if np.isfinite(absorbed.delivered_power[0, i]) and engine_speed[i] <= drive.engine.no_load_speed:
            yield MatchRow(
                engine_rpm=float(engine_speed[i]) / RPM,
                speed_kn=float(absorbed.boat_speed[0, i]) / KNOT,
                demand_kw=float(calm[i]) / 1e3,
                service_demand_kw=float(service[i]) / 1e3,
                available_kw=float(np.asarray(available)[i]) / 1e3,
            )


def _neighbour_rows(setting: Setting, around: Trial) -> Iterator[NeighbourRow]:
    order = np.lexsort((around.pitch, around.diameter))
    for i in order:
        yield NeighbourRow(
            diameter_m=float(around.diameter[i]),
            pitch_m=float(around.pitch[i]),
            tip_clearance_fraction=tip_clearance(setting.plan, float(around.diameter[i])),
            full_throttle_rpm=float(np.asarray(around.full_throttle.shaft_speed)[i]) * setting.ratio / RPM,
            light_running_fraction=float(around.light_running[i]),
            top_kn=float(np.asarray(around.full_throttle.boat_speed)[i]) / KNOT,
            cruise_rpm=float(np.asarray(around.cruise.shaft_speed)[i]) * setting.ratio / RPM,
            cruise_l_per_h=float(around.cruise_l_per_h[i]),
            chosen=bool(i == 0),
        )


def _findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    yield _rated_speed_finding(setting, answers)
    yield from _service_findings(answers)
    yield from _room_findings(setting, answers)
    yield from _cavitation_findings(setting, answers)
    yield from _series_findings(setting, answers)
    yield _handbook_finding(setting, answers)


def _cure(answers: PropellerAnswers, wanted: float) -> str:
    """The change of pitch that gives the margin asked for, from the computed exponent."""
    ratio = ((1.0 + wanted) / (1.0 + answers.light_running_fraction)) ** (1.0 / answers.pitch_exponent)
    metres = answers.pitch_m * (ratio - 1.0)
    if not np.isfinite(metres):
        return "The size is too far from what suits to name a cure."
    sense = "more" if metres > 0.0 else "less"
    return f"About {abs(metres) / INCH:.1f} in ({abs(metres) * 1e3:.0f} mm) {sense} pitch suits."


def _worth(per_inch: float) -> str:
    return f"An inch of pitch is worth {-per_inch:.0f} rpm." if np.isfinite(per_inch) else ""


def _rated_speed_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    wanted = amount(setting.plan.propeller, "light_running")
    light, rated = answers.light_running_fraction, answers.rated_rpm
    per_inch = answers.inch_of_pitch_rpm
    if not np.isfinite(light):
        return look(
            "The propeller is far too light: even a quarter above rated speed it would not take the engine's power.",
            _FULL_THROTTLE,
            "propeller.pitch",
        )
    if light < 0.0:
        short = rated - answers.full_throttle_rpm
        return stop(
            f"Overloaded: at full throttle the engine reaches {answers.full_throttle_rpm:.0f} of {rated:.0f} rpm, "
            f"{short:.0f} short, even clean and in calm water. {_cure(answers, wanted)}",
            _FULL_THROTTLE,
            "propeller.pitch",
        )
    text = (
        f"At full throttle, clean and in calm water, the engine reaches {answers.full_throttle_rpm:.0f} rpm "
        f"(rated {rated:.0f}); the propeller runs {percent(light, 1)} light. "
        f"{_worth(per_inch)}"
    )
    if light < wanted - 0.01:
        text = f"{text} That is less in hand than the {percent(wanted)} asked for."
        return look(text, _FULL_THROTTLE, "propeller.pitch")
    if light > max(_FAR_TOO_LIGHT, wanted + 0.03):
        return look(
            f"{text} That is too light: the governor ends it before the power is used. {_cure(answers, wanted)}",
            _FULL_THROTTLE,
            "propeller.pitch",
        )
    return fits(text, _FULL_THROTTLE)


def _service_findings(answers: PropellerAnswers) -> Iterator[Finding]:
    service, rated = answers.service_full_throttle_rpm, answers.rated_rpm
    if not np.isfinite(service):
        yield look("With your margin for wind and sea full throttle cannot be worked out.", _FULL_THROTTLE)
        return
    text = f"With your margin for wind and sea she reaches {service:.0f} rpm at full throttle"
    if service >= rated * 0.995:
        yield fits(f"{text}: the engine still gets its rated speed.", _FULL_THROTTLE)
    else:
        yield look(
            f"{text}, {rated - service:.0f} below rated: do not hold full throttle in such weather.", _FULL_THROTTLE
        )


def _room_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    asked = amount(setting.plan.propeller, "tip_clearance")
    gap = percent(answers.tip_clearance_fraction)
    text = f"The tips clear the hull by {gap} of the diameter; {percent(asked)} is asked for"
    source = "a maker's minimum of 10 %, confirmed by trade practice"
    if answers.tip_clearance_fraction >= asked - 1e-6:
        yield fits(f"{text}.", source)
    elif answers.tip_clearance_fraction <= 0.0:
        yield stop("The propeller is larger than the room for it.", source, "propeller.diameter")
    else:
        yield look(f"{text}: expect noise and vibration, or take a smaller wheel.", source, "propeller.diameter")


def _cavitation_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    area, needed = answers.area_ratio, answers.needed_area_ratio
    keller = f"Keller (1966) asks for a blade area ratio of {needed:.2f}; the wheel has {area:.2f}"
    source = "Keller (1966), as used by Holtrop and Mennen (1982); advice for small single-screw boats, not a stop"
    yield fits(f"{keller}.", source) if area >= needed else look(f"{keller}.", source, "propeller.area_ratio")
    shaft_speed = answers.full_throttle_rpm * RPM / setting.ratio
    advance = answers.top_kn * KNOT * float(setting.demand.calm.advance_fraction)
    density = setting.hull.water.density
    check = burrill_check(
        answers.thrust_n,
        answers.diameter_m,
        answers.pitch_ratio,
        area,
        dynamic_pressure(answers.diameter_m, shaft_speed, advance, density),
        pressure_above_vapour(shaft_depth(setting.plan), density),
    )
    text = f"Burrill's line for about 5 % cavitation asks for {float(check.area_ratio_needed):.2f} at full throttle"
    burrill = "Burrill (1943), merchant line; fit from memory, checked against printed chart readings"
    if float(check.area_ratio_needed) <= area:
        yield fits(f"{text}; the wheel has {area:.2f}.", burrill)
    else:
        yield look(f"{text}; the wheel has {area:.2f}. More blade area is quieter.", burrill, "propeller.area_ratio")
    tip = answers.tip_speed_m_per_s
    quiet, ordinary = float(TIP_SPEED_LIMITS["quiet"]), float(TIP_SPEED_LIMITS["ordinary"])
    tips = f"The tips run at {tip:.0f} m/s"
    practice = "trade practice, from memory"
    if tip <= quiet:
        yield fits(f"{tips}: quiet up to {quiet:.0f}.", practice)
    elif tip <= ordinary:
        yield fits(f"{tips}: ordinary up to {ordinary:.0f}.", practice)
    else:
        yield look(
            f"{tips}, above {ordinary:.0f}: noise and erosion. A deeper ratio slows them.", practice, "gear.ratio"
        )


def _series_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    for record in WAGENINGEN_B.outside(answers.pitch_ratio, answers.area_ratio, answers.blades):
        yield look(record.sentence(), WAGENINGEN_B.source, "propeller.area_ratio")
    if answers.blades == 2 and answers.cruise_efficiency_fraction > _TWO_BLADE_EFFICIENCY:
        yield look(
            f"An efficiency above {percent(_TWO_BLADE_EFFICIENCY)} is optimistic for two blades.", WAGENINGEN_B.source
        )
    correction = blade_reynolds(setting, np.asarray(answers.diameter_m), np.asarray(answers.pitch_m))
    for record in correction.outside:
        yield look(record.sentence(), "Oosterveld and van Oossanen (1975), Reynolds correction")


def _handbook_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    say = Wording(setting.plan.units)
    size = f"{say.size(answers.handbook_diameter_m)} by {say.size(answers.handbook_pitch_m)}"
    source = "Gerr (1989), Propeller Handbook, formulas 5-2 and 5-3; slip from memory"
    total = answers.diameter_m + answers.pitch_m
    gap = total / (answers.handbook_diameter_m + answers.handbook_pitch_m) - 1.0
    text = (
        f"The trade's quick method gives {size} for three blades: {percent(abs(gap))} "
        f"{'less' if gap > 0 else 'more'} in all"
    )
    return Finding(
        Verdict.FITS if abs(gap) <= _HANDBOOK_SPREAD else Verdict.LOOK,
        f"{text} than the size chosen, diameter and pitch added up.",
        source,
        "propeller.diameter",
    )
