"""The states a propeller is tried in: clean in calm water, foul, into a head wind, and the one its margin is for."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from engine.constants import KNOT
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.findings import Outcome
from engine.hull.form import HullForm
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller.hull_curve import HullCurve
from engine.sections.drive import AT_FULL_LOAD
from engine.stages.blades import months_allowed_for
from engine.stages.demand import CalmDemand, ThrustDemand
from engine.stages.hull import HullAnswers
from engine.stages.propulsion import boats_hull_curve, plans_hull_curve
from engine.stages.resistance import CalmResistance, fouling_force, head_wind_force, opinion_of
from engine.stages.wording import months_of

_USUAL = table("service_allowances")["usual_cases"]
_HALF_LOAD: float = table("service_allowances")["half_load"]["displacement_share"]


@dataclass(frozen=True, eq=False)
class Case:
    """One state of boat, water and propeller.

    words: "6 months without cleaning, calm water".   middle: hull curve of the middle of the fleet (S,).
    boats: of each boat, (N, S).   months: of growth on the blades.
    """

    words: str
    middle: HullCurve
    boats: HullCurve
    months: float


@dataclass(frozen=True, eq=False)
class Cases:
    """calm: clean and calm.   foul: calm, but not cleaned.   head_wind: clean, into wind and what sea the plan has;
    None while there is no frontal area.
    service: with all that the plan allows for.   margin: the state that the light-running margin is for."""

    calm: Case
    foul: Case
    head_wind: Case | None
    service: Case
    margin: Case

    def rows(self, rows: NDArray[np.intp]) -> "Cases":
        """The same for some of the boats; cases that are one stay one."""
        every = {item.name: getattr(self, item.name) for item in fields(self)}
        there = {name: case for name, case in every.items() if case is not None}
        few = {case.boats: case.boats.rows(rows) for case in there.values()}
        return replace(self, **{name: replace(case, boats=few[case.boats]) for name, case in there.items()})

    def __iter__(self) -> Iterator[Case]:
        """Those in which the engine is tried over its whole range."""
        every = (self.calm, self.foul, self.head_wind, self.service)
        yield from (case for case in every if case is not None)


@dataclass(frozen=True, eq=False)
class Weathers:
    """The cases that rest on the calm one, as in `Cases`: what the plan allows for does not change them."""

    foul: Case
    head_wind: Case | None
    margin: Case


def assess_weathers(plan: Plan, hull: HullAnswers, resistance: CalmResistance, calm: CalmDemand) -> Outcome[Weathers]:
    """Where the plan allows for no growth or wind, a season's growth and a fresh wind are taken.

    Without a frontal area there is no head wind: a wind without drag would pass a calm for it.
    """
    months = months_allowed_for(plan) or float(_USUAL["months_foul"])
    foul = resistance.force + fouling_force(plan, hull.boats, resistance.speed, hull.water, months)
    in_wind = None if plan.hull.windage_area is None else _head_wind_case(plan, hull, resistance, calm)
    words = f"{months_of(months)} without cleaning, calm water"
    return Outcome(Weathers(_case(plan, hull, calm, words, foul, months), in_wind, _margin_case(plan, hull, calm)))


def assess_cases(plan: Plan, demand: ThrustDemand, weathers: Weathers) -> Outcome[Cases]:
    """All cases of a plan."""
    cases = Cases(
        calm=Case("clean, calm water", demand.calm, demand.boats_calm, 0.0),
        foul=weathers.foul,
        head_wind=weathers.head_wind,
        service=Case("with all that you allow for", demand.service, demand.boats_service, months_allowed_for(plan)),
        margin=weathers.margin,
    )
    return Outcome(cases)


def _head_wind_case(plan: Plan, hull: HullAnswers, resistance: CalmResistance, calm: CalmDemand) -> Case:
    """Clean, into the head wind of the plan, else into a fresh one."""
    wind = amount(plan.power, "head_wind") or float(_USUAL["head_wind_kn"]) * KNOT
    against = resistance.force + head_wind_force(plan, hull.boats, resistance.speed, hull.water, wind)
    sea = " and your head sea" if amount(plan.power, "wave_height") > 0.0 else ""
    return _case(plan, hull, calm, f"clean, {wind / KNOT:.0f} kn of wind from ahead{sea}", against, 0.0)


def _case(plan: Plan, hull: HullAnswers, calm: CalmDemand, words: str, resistance: Array, months: float) -> Case:
    """A case from the resistance of each boat (N, S) [N]."""
    speed, density = calm.middle.speed, hull.water.density
    middle = plans_hull_curve(plan, calm.interaction, speed, hull.fleet.median(resistance), density)
    return Case(words, middle, boats_hull_curve(plan, hull.boats, speed, resistance, density), months)


def _margin_case(plan: Plan, hull: HullAnswers, calm: CalmDemand) -> Case:
    """The calm case, or that of the boat at half load: her resistance changes as the described boat's does."""
    state = word(plan.propeller, "margin_state")
    if state == AT_FULL_LOAD:
        return Case(state, calm.middle, calm.boats, 0.0)
    share = _half_load_share(plan)
    heavy, light = (
        opinion_of(plan, form, calm.middle.speed, hull.water).total
        for form in (hull.form, _floating_lighter(hull.form, share))
    )
    ratio = np.divide(light, heavy, out=np.ones_like(heavy), where=heavy > 0.0)
    middle, boats = (replace(curve, thrust=curve.thrust * ratio) for curve in (calm.middle, calm.boats))
    return Case(state, middle, boats, 0.0)


def _half_load_share(plan: Plan) -> float:
    """Displacement at half load over that of the plan [-], not above 1."""
    half = amount_or_none(plan.propeller, "half_load")
    return _HALF_LOAD if half is None else min(half / amount(plan.hull, "displacement"), 1.0)


def _floating_lighter(form: HullForm, share: float) -> HullForm:
    """The form with a share of its displacement, risen by what her waterplane carries; length and beam are kept.

    No waterplane is reckoned with that is less than the mean of those below it: a lighter boat would come out fuller.
    """
    lost = (1.0 - share) * np.asarray(form.volume)
    fullness = np.maximum(form.waterplane_coefficient, form.block_coefficient)
    plane = fullness * form.waterline_length * form.waterline_beam
    return replace(form, volume=form.volume - lost, draft=form.draft - lost / plane)
