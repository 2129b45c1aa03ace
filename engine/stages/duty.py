"""The duty class that a boat's use asks for, against the one that the engine is sold in."""

from collections.abc import Iterator

from engine.constants import KNOT
from engine.findings import Finding, fits, look
from engine.machinery.diesel import DUTY_CLASSES, DutyClass, duty_class_for, load_factor
from engine.plan import Plan
from engine.sections.engine import Candidate
from engine.stages.candidates import Rival
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import percent

_SOURCE = "duty classes of engine makers, anonymised; partly from memory"
_HOUR = 3600.0


def duty_findings(plan: Plan, item: Candidate, chosen: Rival, speed: SpeedAnswers, path: str) -> Iterator[Finding]:
    """Whether the class allows the hours and the load of the plan; without hours, what the class allows."""
    load = cruise_load_factor(chosen, speed)
    hours = plan.engine.hours_per_year
    wanted = None if hours is None else duty_class_for(hours.si / _HOUR, load)
    if item.duty is None:
        text = (
            "The duty class is not given. A displacement boat works her engine steadily: ask for more than a pleasure "
        )
        ask = "rating." if wanted is None else f"rating. Your hours and load ask for {wanted.name}: {words_of(wanted)}."
        yield look(text + ask, _SOURCE, path)
        return
    given = next(duty for duty in DUTY_CLASSES if duty.name == item.duty)
    if wanted is None:
        yield look(
            f"It is sold for {given.name} duty: {words_of(given)}. She cruises at a load factor of {percent(load)}. "
            "Say how many hours a year you run, to see whether that is enough.",
            _SOURCE,
            "engine.hours_per_year",
        )
        return
    use = f"You run it some {hours.si / _HOUR:.0f} hours a year at a load factor of {percent(load)}" if hours else ""
    if DUTY_CLASSES.index(given) <= DUTY_CLASSES.index(wanted):
        yield fits(f"{use}; {given.name} duty allows that: {words_of(given)}.", _SOURCE)
    else:
        text = f"{use}; that asks for {wanted.name} duty, and it is sold for {given.name}: {words_of(given)}."
        yield look(f"{text} Ask for the rating of the steadier duty: it is lower.", _SOURCE, path)


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
