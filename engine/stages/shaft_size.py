"""Thickness of the shaft that a drive asks for, by the plan's material and use."""

from math import isclose

from engine.defaults import amount_or_none, word
from engine.machinery.gearbox import gear_output_torque
from engine.machinery.shaft import SAFETY_FACTORS, shaft_diameter_small_craft
from engine.machinery.shaft_ends import System, is_standard_diameter
from engine.machinery.shaft_materials import MATERIALS, ShaftMaterial
from engine.plan import Plan
from engine.stages.drive import Drive

_SYSTEMS: tuple[System, ...] = ("inch", "metric")
_SAME = 1e-3
"""Shafts that differ by less are of one diameter (ours)."""


def shaft_material(plan: Plan) -> ShaftMaterial:
    """The material of the plan."""
    return MATERIALS[word(plan.shaft, "material")]


def is_one_diameter(one: float, other: float) -> bool:
    """Whether two diameters [m] are those of one shaft."""
    return isclose(one, other, rel_tol=_SAME)


def wanted_factor(plan: Plan) -> float:
    """Safety factor asked for [-]: the owner's own, else that of the boat's use."""
    return amount_or_none(plan.shaft, "safety_factor") or SAFETY_FACTORS[word(plan.shaft, "use")].value


def shaft_system(plan: Plan) -> System:
    """Whether the shaft is of inch or of metric bar: as chosen, else as the owner's diameter is stocked in one of them
    alone, else as the plan's units."""
    usual: System = "inch" if plan.units == "imperial" else "metric"
    chosen, own = plan.shaft.sizes, plan.shaft.diameter
    if chosen is not None:
        return "inch" if chosen == "inch" else "metric"
    stocked = [] if own is None else [system for system in _SYSTEMS if is_standard_diameter(own.si, system)]
    return stocked[0] if len(stocked) == 1 else usual


def needed_diameter(plan: Plan, drive: Drive, shaft_speed: float) -> float:
    """Least diameter [m] for a drive at full power at a shaft speed [rev/s]."""
    strength = shaft_material(plan).shear_yield
    return float(shaft_diameter_small_craft(drive.power_after_gear, shaft_speed, strength, wanted_factor(plan)))


def gear_torque(drive: Drive, ratio: float) -> float:
    """Torque behind the gear at rated power [N m]."""
    engine = drive.engine
    return float(gear_output_torque(engine.crankshaft_rated_power, engine.rated_speed, ratio, drive.gear_efficiency))


def deepest_ratio(plan: Plan) -> float | None:
    """The ratio chosen, else the deepest on offer: it loads the shaft most. None while there is none."""
    if plan.gear.ratio is not None:
        return plan.gear.ratio.si
    return max((ratio.si for ratio in plan.gear.ratios), default=None)
