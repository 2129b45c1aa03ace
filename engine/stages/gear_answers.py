"""What the gear stage gives: every ratio on offer side by side, and the chosen one."""

from dataclasses import dataclass

from engine.answers import answer, first_known, maybe, table
from engine.bands import Band

_TIGHT = 1.02
"""Times the diameter that fits: what a shaft would like beyond it is held back by the room (ours)."""


@dataclass(frozen=True, kw_only=True)
class RatioRow:
    """One ratio with the best propeller for it that fits the room."""

    ratio: float = answer("Ratio", digits=4, to_one=True)
    shaft_rpm: float = answer("Shaft speed", digits=4)
    free_diameter_m: float = answer("Diameter it would like", metric="mm", imperial="in")
    diameter_m: float = answer("Diameter that fits", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    efficiency_fraction: Band = answer("Efficiency of the propeller at cruise")
    tip_clearance_fraction: float = answer("Tip clearance")
    top_kn: Band = answer("Top speed", spread=True)
    cruise_l_per_h: Band | None = maybe("Burn at cruise, calm", spread=True, only_known=True)
    cruise_drawn_kw: Band | None = maybe(
        "Drawn at cruise, calm", metric="kW", imperial="kW", spread=True, only_known=True
    )
    free_saving_fraction: float | None = maybe("Saved, had it the room", only_known=True)
    tip_speed_m_per_s: float = answer("Tip speed")
    shaft_torque_nm: float = answer("Shaft torque")
    rating_margin_fraction: float | None = maybe("Margin of the gear rating", only_known=True)
    chosen: bool = answer("Chosen")

    @property
    def cruise_consumption(self) -> Band:
        """Burn of a diesel or draw of a motor at cruise, whichever it is."""
        return first_known(self.cruise_l_per_h, self.cruise_drawn_kw)

    @property
    def is_held_back(self) -> bool:
        """Whether the room is too small for the diameter that the shaft would like."""
        return self.free_diameter_m > self.diameter_m * _TIGHT

    @property
    def is_carried(self) -> bool:
        """Whether the gear is rated for the engine in this ratio, as far as that is known."""
        return self.rating_margin_fraction is None or self.rating_margin_fraction >= 0.0

    @property
    def name(self) -> str:
        """As the trade writes it: "2.63:1"."""
        return f"{self.ratio:.4g}:1"


@dataclass(frozen=True, kw_only=True)
class GearAnswers:
    """The chosen ratio."""

    ratio: float = answer("Ratio", digits=4, to_one=True)
    recommended_ratio: float = answer("Recommended ratio", digits=4, to_one=True)
    shaft_rpm: float = answer("Shaft speed at rated engine speed", digits=4)
    shaft_torque_nm: float = answer("Shaft torque at rated power")
    largest_diameter_m: float = answer("Largest diameter that fits", metric="mm", imperial="in")
    needed_rating_kw_per_100_rpm: float | None = maybe("Gear rating needed", only_known=True)
    rating_margin_fraction: float | None = maybe("Margin of the gear rating", only_known=True)
    options: tuple[RatioRow, ...] = table("Ratios side by side")

    @property
    def chosen(self) -> RatioRow:
        """The row of the chosen ratio."""
        return next(option for option in self.options if option.chosen)
