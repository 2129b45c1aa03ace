"""What the shaft stage gives."""

from dataclasses import dataclass

from engine.answers import answer, maybe, table
from engine.bands import Band


@dataclass(frozen=True)
class SpanRow:
    """Critical speed of the chosen shaft for one bearing span."""

    span_m: float = answer("Span")
    critical_rpm: float = answer("Critical speed")
    dunkerley_rpm: float = answer("By the Dunkerley sum")


@dataclass(frozen=True, kw_only=True)
class RuleRow:
    """A diameter that another rule gives for the same shaft, to compare with."""

    rule: str = answer("Rule")
    diameter_m: float = answer("Diameter", metric="mm", imperial="in")
    standing: str = answer("What it is good for")


@dataclass(frozen=True, kw_only=True)
class FitRow:
    """A clearance, length or gap that the yard works to."""

    item: str = answer("Item")
    wanted: str = answer("Wanted")
    standing: str = answer("Where it is from")


@dataclass(frozen=True, kw_only=True)
class ShaftAnswers:
    """The shaft, and what carries it."""

    material: str = answer("Material")
    torque_nm: float = answer("Torque at rated power")
    shaft_rpm: float = answer("Shaft speed", digits=4)
    thrust_n: Band = answer("Thrust at full throttle")
    static_thrust_n: Band = answer("Thrust tied to the quay, one propeller", over_boats=False)
    safety_factor: float = answer("Safety factor asked for")
    needed_diameter_m: float = answer("Diameter needed", metric="mm", imperial="in")
    diameter_m: float = answer("Shaft diameter", metric="mm", imperial="in", digits=4)
    actual_safety_factor: float = answer("Safety factor of this diameter")
    allowed_power_kw: float = answer("Power this diameter may carry at this speed")
    present_safety_factor: float | None = maybe("Safety factor of the present shaft with this engine")
    class_diameter_m: float = answer("Class formula, for comparison only", metric="mm", imperial="in")
    largest_span_m: float = answer("Largest distance between bearings")
    span_m: float = answer("Longest distance between bearings, yours")
    span_over_diameter: float = answer("Span over diameter")
    critical_rpm: float = answer("Critical speed, by elements")
    dunkerley_rpm: float = answer("Critical speed, by the Dunkerley sum")
    whirling_margin_fraction: float = answer("Critical speed above fastest by")
    taper: str = answer("Taper and key")
    bore: str = answer("Bore of the propeller's hub")
    key_load_fraction: float | None = maybe("Load on the key, of what it may bear")
    hub_diameter_m: Band = answer("Hub of such propellers, about", metric="mm", imperial="in", over_boats=False)
    rules: tuple[RuleRow, ...] = table("What other rules give")
    fits: tuple[FitRow, ...] = table("What the yard works to")
    spans: tuple[SpanRow, ...] = table("Critical speed against bearing span")
