"""What the gear stage gives: every ratio on offer side by side, and the chosen one."""

from dataclasses import dataclass

from engine.answers import answer, maybe, table
from engine.bands import Band


@dataclass(frozen=True, kw_only=True)
class RatioRow:
    """One ratio with the best propeller for it that fits the room."""

    ratio: float = answer("Ratio")
    shaft_rpm: float = answer("Shaft speed")
    free_diameter_m: float = answer("Diameter it would like", metric="mm", imperial="in")
    diameter_m: float = answer("Diameter that fits", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    efficiency_fraction: Band = answer("Efficiency of the propeller at cruise")
    tip_clearance_fraction: float = answer("Tip clearance")
    top_kn: Band = answer("Top speed", spread=True)
    cruise_l_per_h: Band = answer("Burn at cruise", spread=True)
    free_cruise_l_per_h: float = answer("Burn, had it the room")
    tip_speed_m_per_s: float = answer("Tip speed")
    shaft_torque_nm: float = answer("Shaft torque")
    rating_margin_fraction: float | None = maybe("Margin of the gear rating")
    chosen: bool = answer("Chosen")

    @property
    def name(self) -> str:
        """As the trade writes it: "2.63:1"."""
        return f"{self.ratio:.4g}:1"


@dataclass(frozen=True, kw_only=True)
class GearAnswers:
    """The chosen ratio."""

    ratio: float = answer("Ratio")
    recommended_ratio: float = answer("Recommended ratio")
    shaft_rpm: float = answer("Shaft speed at rated engine speed")
    shaft_torque_nm: float = answer("Shaft torque at rated power")
    largest_diameter_m: float = answer("Largest diameter that fits", metric="mm", imperial="in")
    needed_rating_kw_per_100_rpm: float = answer("Gear rating needed")
    rating_margin_fraction: float | None = maybe("Margin of the gear rating")
    options: tuple[RatioRow, ...] = table("Ratios side by side")

    @property
    def chosen(self) -> RatioRow:
        """The row of the chosen ratio."""
        return next(option for option in self.options if option.chosen)
