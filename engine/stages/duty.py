"""The duty class that a boat's use asks for, against the one that the engine is sold in."""

from collections.abc import Iterator
from dataclasses import replace
from math import isfinite

from engine.constants import HOUR, KNOT
from engine.findings import Finding, fits, look
from engine.machinery.diesel import DUTY_CLASSES, DutyClass, duty_class_for, load_factor
from engine.plan import Plan
from engine.sections.engine import Candidate
from engine.showing import numbered
from engine.stages.candidates import Rival
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import percent

_SOURCE = "duty classes of engine makers, anonymised; partly from memory"
_LOAD_FACTOR = (
    "The load factor is fuel, not power: what she burns at cruise with your margin over what full power burns."
)
"""Ends every verdict on a load factor: tells it from the share of the power at cruise, which stands beside it
on the page and is another number."""


def duty_findings(plan: Plan, item: Candidate, load: float, path: str) -> Iterator[Finding]:
    """Whether the class allows the hours of the plan at a load factor; without hours, what the class allows.

    load: [-]; nothing is said where it is not a number.   Both are judged as they are told, in whole hours and per
    cent.
    """
    if not isfinite(load):
        return
    load = round(load, 2)
    hours = None if plan.engine.hours_per_year is None else round(plan.engine.hours_per_year.si / HOUR)
    wanted = None if hours is None else duty_class_for(hours, load)
    given = next((duty for duty in DUTY_CLASSES if duty.name == item.duty), None)
    if given is None:
        ask = "" if wanted is None else f" Your hours and load ask for {wanted.name}: {words_of(wanted)}."
        yield look(
            "The duty class is not given. A displacement boat works her engine steadily: ask for more than a pleasure "
            f"rating.{ask}",
            _SOURCE,
            path,
        )
        return
    if hours is None or wanted is None:
        verdict = _verdict_by_load(given, load, path)
    else:
        use = f"The engine runs some {numbered(hours, 'hour')} a year at a load factor of {percent(load)}"
        verdict = _verdict(given, wanted, use, path)
    yield replace(verdict, text=f"{verdict.text} {_LOAD_FACTOR}")


def _verdict_by_load(given: DutyClass, load: float, path: str) -> Finding:
    """Where the hours are not known: the hardest class allows any, and a load factor can be too much by itself."""
    if given.load_factor is not None and load > given.load_factor:
        text = (
            f"She cruises at a load factor of {percent(load)}: that asks for {duty_class_for(0.0, load).name} duty, "
            f"however few hours she runs, and the engine is sold for {given.name}. "
            f"{given.name.capitalize()} duty: {words_of(given)}."
        )
        return look(text, _SOURCE, path)
    sold = f"The engine is sold for {given.name} duty: {words_of(given)}"
    text = f"{sold}. She cruises at a load factor of {percent(load)}"
    if given.hours_per_year is None:
        return fits(f"{text}.", _SOURCE)
    ask = "Say how many hours a year you run, to see whether that is enough."
    return look(f"{text}. {ask}", _SOURCE, "engine.hours_per_year")


def _verdict(given: DutyClass, wanted: DutyClass, use: str, path: str) -> Finding:
    if DUTY_CLASSES.index(given) <= DUTY_CLASSES.index(wanted):
        return fits(f"{use}; {given.name} duty allows that: {words_of(given)}.", _SOURCE)
    text = f"{use}; that asks for {wanted.name} duty, and it is sold for {given.name}: {words_of(given)}."
    return look(f"{text} Ask for the rating of the steadier duty: it is lower.", _SOURCE, path)


def cruise_load_factor(chosen: Rival, speed: SpeedAnswers) -> float:
    """Fuel at cruise with margin over fuel at full power [-], middle of the fleet: the load factor of steady
    cruising."""
    loading, drive = chosen.loading, chosen.drive
    burned = float(loading.fleet.median(loading.rate(speed.cruise_kn * KNOT, service=True)))
    full = float(drive.rate(drive.power_at_propeller, drive.engine.rated_speed)) * loading.demand.screws
    return float(load_factor(burned, full, 1.0))


def words_of(duty: DutyClass) -> str:
    """What a class allows, in plain words."""
    hours = "any hours" if duty.hours_per_year is None else f"up to {duty.hours_per_year:.0f} hours a year"
    load = "" if duty.load_factor is None else f", load factor up to {percent(duty.load_factor)}"
    return f"{hours}, full power for {duty.full_power}{load}"
