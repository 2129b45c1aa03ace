"""The room there is for a propeller, shared by the stages that need the largest diameter."""

from engine.defaults import amount, amount_or_none
from engine.plan import Plan


def propeller_limit(plan: Plan) -> float | None:
    """Largest diameter [m] that leaves the tip clearance at both ends of the room; None while the room is unknown."""
    room = amount_or_none(plan.propeller, "room")
    return None if room is None else room / (1.0 + 2.0 * amount(plan.propeller, "tip_clearance"))


def tip_clearance(plan: Plan, diameter: float) -> float:
    """Gap at each blade tip over the diameter [-] in the room of the plan; NaN while the room is unknown."""
    room = amount_or_none(plan.propeller, "room")
    return float("nan") if room is None else (room / diameter - 1.0) / 2.0


def shaft_depth(plan: Plan) -> float:
    """Depth of the shaft centre [m]; at the hull draft while it is not given."""
    depth = amount_or_none(plan.propeller, "shaft_depth")
    return amount(plan.hull, "hull_draft") if depth is None else depth
