"""The blades of a plan's propeller: which tested series stands for them, their area, and growth on them in service."""

from dataclasses import dataclass, replace

import numpy as np

from engine.constants import MONTH
from engine.data import table
from engine.defaults import amount, amount_or_none, whole, word
from engine.numeric import Real
from engine.plan import Plan
from engine.propeller.blade_roughness import BLADE_STATES, blade_roughness_after, blade_roughness_effect
from engine.propeller.geometry import developed_ratio_from_mean_width, expanded_area_ratio
from engine.propeller.market import Blades
from engine.propeller.open_water import BladeFamily, OpenWater
from engine.propeller.series import SERIES, corrected_family, usual_series
from engine.propeller.wageningen import WAGENINGEN_B, blade_chord, blade_thickness, reynolds_number
from engine.sections.drive import DEVELOPED_RATIO, EXPANDED_RATIO

LIGHT_GROWTH = BLADE_STATES["light growth"]
_STOCK = table("stock_propellers")
_USUAL_BLADES, _MOST_BLADES_KNOWN = 3, 5
_SERIES_OF_SECTIONS = {row["words"]: SERIES[row["series"]] for row in _STOCK["sections"]}


@dataclass(frozen=True)
class Offer:
    """Blades that the market offers, and the sections that a plan names them by."""

    sections: str
    blades: Blades


def market_offers() -> tuple[Offer, ...]:
    """All kinds of blades that a search of the market tries."""
    return tuple(
        Offer(row["words"], Blades(_SERIES_OF_SECTIONS[row["words"]], int(count), area))
        for row in _STOCK["sections"]
        for count, areas in row.get("areas", {}).items()
        for area in areas
    )


def wanted_blades(plan: Plan, number: int | None = None) -> Blades:
    """The kind of blades that the plan asks for, its area as expanded area ratio.   number: another one of blades."""
    blades = whole(plan.propeller, "blades") if number is None else number
    series = _SERIES_OF_SECTIONS.get(word(plan.propeller, "sections")) or usual_series(blades)
    return Blades(series, blades, _expanded_area(plan, blades))


def wider_areas(plan: Plan) -> tuple[float, ...]:
    """Expanded area ratios of stock wheels like the one asked for that are wider than usual ones, the least first; none
    where the plan gives an area."""
    if plan.propeller.area_ratio is not None:
        return ()
    asked = wanted_blades(plan)
    alike = (each.blades for each in market_offers() if replace(each.blades, area_ratio=asked.area_ratio) == asked)
    return tuple(sorted(each.area_ratio for each in alike if each.area_ratio > asked.area_ratio))


def present_blades(plan: Plan) -> Blades | None:
    """The blades of the propeller that is in the boat now, as stock wheels usually are.

    Returns: None while its size is not known, or when no series was tested at its pitch. A pitch that the usual series
    does not reach is read by the B-series, which goes finer.
    """
    present = plan.present
    if present.propeller_diameter is None or present.propeller_pitch is None:
        return None
    size = present.propeller_diameter.si, present.propeller_pitch.si
    blades = present.propeller_blades or _USUAL_BLADES
    area = amount_or_none(present, "propeller_area_ratio") or usual_area(blades)
    series = next((series for series in (usual_series(blades), WAGENINGEN_B) if series.describes(*size)), None)
    return None if series is None else Blades(series, blades, area)


def usual_area(blades: int) -> float:
    """Expanded area ratio of stock wheels with a number of blades; more than five have that of five."""
    areas = _STOCK["usual_area"]
    return float(areas[str(min(blades, _MOST_BLADES_KNOWN))])


def _expanded_area(plan: Plan, blades: int) -> float:
    given = amount_or_none(plan.propeller, "area_ratio")
    if given is None:
        return usual_area(blades)
    measure = word(plan.propeller, "area_measure")
    if measure == EXPANDED_RATIO:
        return given
    developed = given if measure == DEVELOPED_RATIO else developed_ratio_from_mean_width(given, blades)
    return float(expanded_area_ratio(developed, blades))


@dataclass(frozen=True)
class BladeWater:
    """The water that blades work in at rated power, for their Reynolds number.

    shaft_speed: [rev/s]; may be an array, which broadcasts against the diameters.   advance_speed: [m/s].
    kinematic_viscosity: [m2/s].
    """

    shaft_speed: Real
    advance_speed: float
    kinematic_viscosity: float

    def reynolds(self, blades: Blades, diameter: Real) -> Real:
        """Reynolds number of blades of a kind at 0.75 of the radius, for diameters [m]."""
        return reynolds_number(
            diameter,
            blades.area_ratio,
            blades.blades,
            self.shaft_speed,
            self.advance_speed,
            self.kinematic_viscosity,
        )

    def family(self, blades: Blades, diameter: Real) -> BladeFamily:
        """Blades of a kind at any pitch, corrected for their Reynolds number, for diameters [m]."""
        return corrected_family(blades.series, blades.area_ratio, blades.blades, self.reynolds(blades, diameter))


def months_allowed_for(plan: Plan) -> float:
    """Months without cleaning that the plan allows for in service."""
    return amount(plan.power, "time_since_cleaning") / MONTH


def fouled(open_water: OpenWater, diameter: Real, pitch_ratio: Real, kind: Blades, months: float) -> OpenWater:
    """A propeller's curves with growth on the blades some months after cleaning.

    Growth is reckoned up to light growth and no further: with barnacles the formula is outside its range, and a wheel
    in that state is cleaned, not planned for. `growth_is_beyond` tells the stages, which tell the owner.
    """
    if months == 0.0:
        return open_water
    height = min(float(blade_roughness_after(months)), LIGHT_GROWTH.roughness_height)
    chord = blade_chord(diameter, kind.area_ratio, kind.blades)
    thickness_ratio = blade_thickness(diameter, kind.blades) / np.asarray(chord)
    effect = blade_roughness_effect(diameter, pitch_ratio, kind.blades, chord, thickness_ratio, height)
    return open_water + effect.open_water


def growth_is_beyond(months: float) -> bool:
    """Whether the wheel may carry more than the light growth that is reckoned."""
    return float(blade_roughness_after(months)) > LIGHT_GROWTH.roughness_height
