"""What is aboard to go on, fuel or electricity, and the conditions that a passage is planned for."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe
from engine.constants import LITRE
from engine.defaults import amount, amount_or_none, word
from engine.machinery.electric import CHARGER_EFFICIENCY, usable_energy
from engine.machinery.fuel import DIESEL
from engine.machinery.range import (
    RESERVES,
    BestSpeed,
    best_range_speed,
    cruising_range,
    endurance,
    fastest_speed_for_leg,
    fuel_per_distance,
    usable_fuel,
)
from engine.machinery.tanks import box_volume, horizontal_cylinder_volume, tapered_volume, wedge_volume
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.sections.voyage import CYLINDER, SLOPING, V_BOTTOMED, MeasuredTank, is_whole
from engine.stages.drive import Drive, ElectricDrive


@dataclass(frozen=True)
class TankRow:
    """A tank measured with a tape."""

    name: str = answer("Tank")
    full_l: float = answer("Holds")
    aboard_l: float | None = maybe("In it now, by the dipstick")


@dataclass(frozen=True)
class Voyage:
    """What one drive may spend, and against what.

    usable: fuel [kg], or energy out of the battery [J].   reserve: share of it kept back.   reserve_words: which rule.
    hotel: what else is spent under way [kg/s] or [W].   current: ahead [m/s].   price: money per [kg] or [J], or None.
    currency: the owner's word for that money.
    """

    usable: float
    reserve: float
    reserve_words: str
    reserve_status: str
    hotel: float
    current: float
    price: float | None
    currency: str = ""

    @property
    def _conditions(self) -> dict[str, float]:
        """What every formula of range is told besides."""
        return {"hotel_rate": self.hotel, "head_current": self.current}

    def distance(self, speed: Real, rate: Real) -> Array:
        """Range over the ground [m] at speeds through the water [m/s]."""
        return np.asarray(cruising_range(self.usable, speed, rate, reserve=self.reserve, **self._conditions))

    def time(self, rate: Real) -> Array:
        """Endurance [s]."""
        return np.asarray(endurance(self.usable, rate, hotel_rate=self.hotel, reserve=self.reserve))

    def per_distance(self, speed: Real, rate: Real) -> Array:
        """Spent over the ground [kg/m] or [J/m]."""
        return np.asarray(fuel_per_distance(speed, rate, **self._conditions))

    def best_speed(self, speeds: Array, rates: Array) -> BestSpeed:
        """Speed through the water of the longest range, on a curve of rates (..., S)."""
        return best_range_speed(speeds, rates, **self._conditions)

    def fastest_for(self, leg: float, speeds: Array, rates: Array) -> Array:
        """Fastest speed through the water [m/s] that makes a leg [m] with the reserve left, NaN where none does."""
        fuel, kept = self.usable, self.reserve
        return np.asarray(fastest_speed_for_leg(speeds, rates, leg, fuel, reserve=kept, **self._conditions))

    def cost(self, per_distance: Real) -> Array | None:
        """Money per metre over the ground; None without a price."""
        return None if self.price is None else np.asarray(per_distance) * self.price


def voyage_of(plan: Plan, drive: Drive) -> Voyage | None:
    """What a drive may spend; None while the tanks that it needs are not known."""
    asked = plan.range
    rule = RESERVES[word(asked, "reserve")]
    own = amount_or_none(asked, "reserve_share")
    reserve = (rule.fraction, rule.name, rule.status) if own is None else (own, "your own", "given by you")
    current = amount(asked, "current")
    if isinstance(drive, ElectricDrive):
        price = amount_or_none(asked, "electricity_price")
        return Voyage(
            float(usable_energy(drive.battery)),
            *reserve,
            hotel=drive.house_load,
            current=current,
            price=None if price is None else price / CHARGER_EFFICIENCY,
            currency=plan.costs.currency,
        )
    fuel = fuel_aboard(plan)
    if fuel is None:
        return None
    price = amount_or_none(asked, "price")
    return Voyage(
        fuel,
        *reserve,
        hotel=amount(asked, "hotel") * DIESEL.density,
        current=current,
        price=None if price is None else price / DIESEL.density,
        currency=plan.costs.currency,
    )


def fuel_aboard(plan: Plan) -> float | None:
    """Usable fuel of full tanks [kg]; None while no tank is known."""
    gross = sum(tank.si for tank in plan.range.tank) + sum(row.full_l * LITRE for row in measured_tanks(plan))
    return float(usable_fuel(gross, DIESEL.density, amount(plan.range, "usable"))) if gross > 0.0 else None


def measured_tanks(plan: Plan) -> Iterator[TankRow]:
    """The tanks that were measured with a tape, those of them with all their measures."""
    for number, tank in enumerate(plan.range.measured, start=1):
        full = tank_volume(tank, None)
        if full is not None:
            now = None if tank.dip is None else tank_volume(tank, tank.dip.si)
            yield TankRow(tank.name or f"tank {number}", full / LITRE, None if now is None else now / LITRE)


def tank_volume(tank: MeasuredTank, depth: float | None) -> float | None:
    """Volume in a tank up to a depth [m], or full [m3]; None while a measure is missing or the depth is over its
    own."""
    shape = word(tank, "shape")
    length, width, height = tank.length, tank.width, tank.height
    if not is_whole(tank) or length is None or height is None:
        return None
    level = height.si if depth is None else depth
    if level > height.si:
        return None
    if width is None or shape == CYLINDER:
        return float(horizontal_cylinder_volume(length.si, 0.5 * height.si, level))
    if shape == V_BOTTOMED:
        return float(wedge_volume(0.5 * length.si * width.si * height.si, level, height.si))
    if shape == SLOPING:
        bottom = amount_or_none(tank, "bottom_width")
        bottom = width.si if bottom is None else bottom
        return float(tapered_volume(length.si, bottom, width.si, level, height.si))
    return float(box_volume(length.si, width.si, level))
