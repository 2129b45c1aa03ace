"""What there is to say about range: at cruise, at the best speed, for the longest leg, of an electric drive."""

from collections.abc import Iterator

import numpy as np

from engine.bands import Band
from engine.constants import KILOWATT_HOUR, KNOT, NAUTICAL_MILE, RPM
from engine.defaults import amount_or_none, whole, word
from engine.findings import Finding, fits, look, stop
from engine.machinery.diesel import DieselEngine
from engine.machinery.electric import (
    ELECTRIC_STATUS,
    PEUKERT_EXPONENT,
    PEUKERT_HOURS,
    POWER_NOTE,
    judge_discharge,
    peukert_time,
)
from engine.machinery.fuel import CONSUMPTION_RULES, DIESEL, litres_per_hour, outside_map, specific_consumption_epa
from engine.numeric import told_apart
from engine.reading import volts_of
from engine.sections.electric import YES, Motor
from engine.sections.engine import Candidate
from engine.sections.voyage import lacks_width
from engine.showing import OF_BOATS, share_of_boats, thousandths
from engine.stages.range_about import SURE_ENOUGH, About
from engine.stages.range_answers import RangeAnswers
from engine.stages.range_at_cruise import reach_findings
from engine.stages.wording import counted, hours_of, percent

_WORTH_SAYING = 0.05
"""A gain of range by another speed that is less than this is not spoken of (ours)."""
_THIN_RESERVE = 0.15
"""A smaller reserve wants a second look; ours, between a tenth, which is too little at sea, and the fifth that is
printed as the least."""
_SAME_VOLTAGE = 0.1
"""So far apart two voltages can still be one: sixteen cells of iron phosphate are called 48 V and 51.2 V (ours)."""


def range_findings(about: About, answers: RangeAnswers) -> Iterator[Finding]:
    """Sentences about the range of the chosen drive."""
    voyage = about.voyage
    distance = answers.cruise_range_nmi
    if not distance.is_known:
        yield stop(
            "With all that you allow for, the chosen propeller cannot push her at the cruising speed.",
            "equilibrium in service",
            "speed.cruise",
        )
        return
    if distance.best <= 0.0:
        yield stop(
            "At the cruising speed she makes no way against the current you gave.",
            "range over the ground",
            "range.current",
        )
        return
    yield from reach_findings(about)
    if round(about.cruise.engine_rpm.best) < round(about.drive.slowest / RPM):
        yield _too_slow_finding(about)
    if about.makes_cruise:
        best, low, high = map(counted, (distance.best, distance.low, distance.high))
        yield fits(
            f"At cruise she goes {best} nmi ({low} to {high}) in {hours_of(answers.cruise_endurance_h.best)} on "
            f"{_planned(about, answers)}, in service, with the reserve ({voyage.reserve_words}) kept back.",
            f"{about.source}; reserve: common practice, {voyage.reserve_status}",
        )
        if isinstance(about.item, Candidate):
            yield _rules_finding(about)
    yield from _best_findings(about, answers)
    yield from _leg_findings(about, answers)
    if voyage.reserve < _THIN_RESERVE:
        share = told_apart(100.0 * voyage.reserve, 100.0 * _THIN_RESERVE)
        yield look(
            f"A reserve of {share} % is too little for the open sea.",
            "a fifth is printed as the least, a tenth from memory; the limit of 15 % is ours",
            "range.reserve" if about.plan.range.reserve_share is None else "range.reserve_share",
        )
    most = answers.full_throttle_consumption
    if most.is_known and about.makes_cruise:
        words = about.say.flow(most.best) if answers.full_throttle_l_per_h else about.say.electric(most.best)
        yield fits(
            f"At full throttle she takes {words}, {most.best / answers.cruise_consumption.best:.1f} times as much as "
            "at cruise.",
            about.source,
        )
    yield from _tank_findings(about, answers)
    if isinstance(about.item, Motor):
        drawn = answers.full_throttle_drawn_kw
        if about.item.battery is not None and drawn is not None and drawn.is_known:
            path = about.item_path("battery")
            yield judge_discharge(drawn.best * 1e3, about.item.battery.si, answers.battery_v, path)
        yield from _voltage_findings(about, about.item)
        yield from _electric_findings(about.item, answers)


def _planned(about: About, answers: RangeAnswers) -> str:
    if answers.planned_l is not None:
        return about.say.volume(answers.planned_l)
    return f"{answers.planned_kwh or 0.0:.1f} kWh"


def _too_slow_finding(about: About) -> Finding:
    """That at the cruising speed the engine would turn slower than it idles."""
    own = isinstance(about.item, Candidate) and about.item.idle_speed is not None
    idles = "it idles at" if own else "such an engine idles at about"
    return look(
        f"At the cruising speed the engine would turn {about.cruise.engine_rpm.best:.0f} rpm, and {idles} "
        f"{about.drive.slowest / RPM:.0f} rpm. In gear she cannot go so slowly, so what is said here of cruise is not "
        "to be had: plan with a higher cruising speed.",
        "the idle speed as you gave it" if own else "an idle speed of 27 % of rated speed is ours",
        "speed.cruise",
    )


def _rules_finding(about: About) -> Finding:
    """What the trade's rules of thumb make of the power at cruise, beside the burn by the engine's own figures."""
    takes = {
        rule.text: float(litres_per_hour(rule.specific_consumption(DIESEL.density) * about.cruise_power))
        for rule in CONSUMPTION_RULES
    }
    least, most = min(takes.values()), max(takes.values())
    handbook = next(iter(takes))
    where = "at the crankshaft" if whole(about.plan.hull, "screws") == 1 else "at both crankshafts together"
    return fits(
        f"By the trade's rules of thumb the {about.say.power(about.cruise_power / 1e3)} that she takes at cruise, "
        f"{where}, burns {about.say.flow(least)} to {about.say.flow(most)}; a handbook's {handbook} "
        f"makes it {about.say.flow(takes[handbook])}. Such rules know neither light load nor what else burns fuel.",
        f"{handbook}: {CONSUMPTION_RULES[0].status}; the others printed, trade and from memory",
    )


def _best_findings(about: About, answers: RangeAnswers) -> Iterator[Finding]:
    gain = answers.best_range_nmi.best / answers.cruise_range_nmi.best - 1.0
    if about.at_slow_end:
        text = f"The slower she goes the further she gets, down to {answers.best_kn:.1f} kn, where this curve begins."
    elif gain > _WORTH_SAYING:
        text = f"At {answers.best_kn:.1f} kn she would get {counted(answers.best_range_nmi.best)} nmi"
        text += f", {percent(gain)} further than at cruise." if about.makes_cruise else "."
    else:
        return
    yield fits(text, about.source)
    yield from _light_load_findings(about, answers)


def _light_load_findings(about: About, answers: RangeAnswers) -> Iterator[Finding]:
    """That the best range rests on fuel at a load that no published map reaches, nor the maker's own curve; a second
    look for who must slow down for the leg."""
    engine, turns = about.drive.engine, about.best.engine_rpm.best * RPM
    power = about.best.load_fraction.best * about.drive.usable_power
    if not isinstance(engine, DieselEngine) or not power > 0.0:
        return
    curve = engine.propeller_fuel_curve
    if not outside_map(engine, power, turns) or (curve is not None and turns >= curve[0][0]):
        return
    load, engines = power / engine.crankshaft_rated_power, whole(about.plan.hull, "screws")
    rate = np.asarray(specific_consumption_epa(load)) * power * engines
    by_line = float(about.voyage.distance(answers.best_kn * KNOT, rate)) / NAUTICAL_MILE
    leg = amount_or_none(about.plan.range, "leg")
    has_to_slow_down = leg is not None and leg / NAUTICAL_MILE > answers.cruise_range_nmi.low
    yield (look if has_to_slow_down else fits)(
        f"At {answers.best_kn:.1f} kn the engine gives {percent(load)} of its rated power, lighter or slower than the "
        f"published fuel map of its kind goes. So the best range, {counted(answers.best_range_nmi.best)} nmi, is a "
        f"guess{_by_line(answers.best_range_nmi, by_line)}. Measure her burn at that speed before you count on it.",
        "the dearer of the map's straight line and the EPA's, or its end row; EPA (2000), EPA420-R-00-002, from memory",
        about.item_path("fuel_speeds"),
    )


def _by_line(best: Band, by_line: float) -> str:
    """What the EPA line makes of the best range [nmi]: where it lies in its band, as much."""
    line = "the line for marine diesels of the US Environmental Protection Agency makes it"
    if best.low <= by_line <= best.high:
        return f", though {line} about as much"
    return f"{', and on the hopeful side' if by_line < best.low else ''}: {line} {counted(by_line)} nmi"


def _leg_findings(about: About, answers: RangeAnswers) -> Iterator[Finding]:
    leg, band, share = amount_or_none(about.plan.range, "leg"), answers.leg_kn, answers.leg_share_fraction
    if leg is None or share is None:
        return
    words = f"The leg of {counted(leg / NAUTICAL_MILE)} nmi"
    with_generator = None if share > SURE_ENOUGH else _leg_with_generator(about, answers, leg / NAUTICAL_MILE)
    if with_generator is not None:
        yield with_generator
        return
    if band is None:
        yield stop(
            f"{words} is too long: {_of_thousand(share)} plausible boats have a speed that makes it with the reserve "
            f"left. {_more(about.item)}",
            about.source,
            "range.leg",
        )
        return
    slowest = f"{band.low:.1f}" if band.low > 0.0 else "not at all"
    best, fastest = f"{band.best:.1f}", f"{band.high:.1f}"
    spread = "" if slowest == best == fastest else f" ({slowest} to {fastest})"
    text = f"{words} can be run at up to {best} kn{spread} with the reserve left."
    yield fits(text, about.source) if share > SURE_ENOUGH else look(text, about.source, "range.leg")


def _leg_with_generator(about: About, answers: RangeAnswers, leg_nmi: float) -> Finding | None:
    """The leg that the battery alone is too small for, on the fuel of the generator; None where that is not enough."""
    ranges = [(row.speed_kn, row.generator_range_nmi) for row in answers.curve if row.generator_range_nmi is not None]
    sure = [speed for speed, each in ranges if each.low >= leg_nmi]
    likely = [speed for speed, each in ranges if each.best >= leg_nmi]
    if not likely:
        return None
    text = (
        f"With the generator and what is in the tanks the leg of {counted(leg_nmi)} nmi can be run at up to "
        f"{max(sure or likely):.1f} kn with the reserve left"
    )
    alone = "The battery alone is too small for it."
    if sure:
        return fits(f"{text}, in nine plausible boats of ten. {alone}", about.source)
    return look(f"{text}, but at least one plausible boat of ten falls short. {alone}", about.source, "range.leg")


def _of_thousand(share: float) -> str:
    """A share of the boats: "912 of 1,000", "none of 1,000"."""
    return f"none {OF_BOATS}" if thousandths(share) == "0" else share_of_boats(share)


def _more(item: Candidate | Motor) -> str:
    """What a leg that is too long wants."""
    if not isinstance(item, Motor):
        return "More fuel aboard, or a stop on the way."
    store = "battery" if item.generator_power is None else "battery or more fuel"
    return f"More {store} aboard, or a stop on the way to charge."


def _tank_findings(about: About, answers: RangeAnswers) -> Iterator[Finding]:
    for number, tank in enumerate(about.plan.range.measured):
        path = f"range.measured.{number}"
        if lacks_width(tank):
            yield look("A measured tank has no width, so it does not count.", "volume of the shape", f"{path}.width")
        elif tank.dip is not None and tank.height is not None and tank.dip.si > tank.height.si:
            yield look("A dipstick reading is over the height of its tank.", "volume of the shape", f"{path}.dip")
    if answers.tanks and about.plan.range.tank:
        yield look(
            "Both the contents of tanks and tanks measured with a tape are given: all of them are added up.",
            "tanks of this page",
            "range.tank",
        )


def _voltage_findings(about: About, item: Motor) -> Iterator[Finding]:
    """The voltage as given against that in the text of the battery."""
    written = None if item.battery is None else volts_of(item.battery)
    if written is None or item.voltage is None or abs(written / item.voltage.si - 1.0) <= _SAME_VOLTAGE:
        return
    yield look(
        f"The battery is written with {written:g} V, and its voltage is given as {item.voltage.si:g} V, with which the "
        "currents are worked out. Mend the one that is wrong.",
        "as entered",
        about.item_path("voltage"),
    )


def _electric_findings(item: Motor, answers: RangeAnswers) -> Iterator[Finding]:
    if any(given is None for given in (item.usable, item.aged, item.chain_efficiency)):
        yield look(
            "Usable share, ageing and losses of the battery stand here as defaults from memory where you gave none: "
            "put the makers' figures in.",
            ELECTRIC_STATUS,
            "engine.motor",
        )
    yield fits(POWER_NOTE, "common practice, no source")
    if item.battery is not None and word(item, "battery_kind") == "lead-acid":
        yield _lead_finding(item.battery.si, answers)
    if item.generator_power is not None and answers.cruise_generator_range_nmi is not None:
        further = counted(answers.cruise_generator_range_nmi.best)
        yield fits(
            f"With the generator and what is in the tanks she goes {further} nmi at cruise{_until(item, answers)}.",
            ELECTRIC_STATUS,
        )
    if word(item, "regenerates") == YES:
        yield look(
            "What the propeller charges under sail is a bonus and is counted in no range: below about 4 kn there is "
            "nothing, and the drag can take a knot.",
            "yachting press, printed, for the 4 kn; the figures from memory",
            "",
        )


def _lead_finding(capacity: float, answers: RangeAnswers) -> Finding:
    """What a lead battery rated at 20 hours gives when it is drawn faster."""
    rated, cruise, top = capacity / KILOWATT_HOUR, answers.cruise_consumption.best, answers.full_throttle_drawn_kw
    text = (
        f"Drawn at {cruise:.1f} kW a lead battery gives {percent(_lead_share(rated, cruise))} of the energy it is "
        "rated for at 20 hours"
    )
    if top is not None and top.is_known:
        text += f", at full throttle, {top.best:.1f} kW, {percent(_lead_share(rated, top.best))}"
    return look(
        f"{text}: the usable share must lie well under that.",
        "Peukert (1897), exponent 1.25 from memory, a default",
        "engine.motor",
    )


def _lead_share(rated: float, drawn: float) -> float:
    """Of the energy that a lead battery is rated for at 20 hours [kWh], what it gives at a power drawn [kW]."""
    return min(float(peukert_time(rated, PEUKERT_HOURS, drawn, PEUKERT_EXPONENT)) * drawn / rated, 1.0)


def _until(item: Motor, answers: RangeAnswers) -> str:
    """What ends it when cruising takes more than the generator gives."""
    drawn = answers.cruise_consumption.best * 1e3
    if item.generator_power is None or item.generator_power.si >= drawn:
        return ""
    return ", until the battery is spent; then she must slow down to what the generator gives"
