"""Fouling by the months since the hull was last cleaned, and which class of growth that amounts to."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.constants import DAY, MONTH
from engine.data import table
from engine.hull.friction import friction_coefficient_ittc57, hull_reynolds_number
from engine.hull.roughness import FOULING_CLASSES, fouling_allowance
from engine.numeric import Array, Real, plain
from engine.validity import OutOfRange, outside_range, require_not_negative, require_positive
from engine.water import Water

DAYS_PER_MONTH = MONTH / DAY


@dataclass(frozen=True)
class FoulingRate:
    """How fast growth raises friction in one kind of water: share of the clean hull's CF per day [1/day]."""

    name: str
    share_per_day: float
    status: str


FOULING_RATES: dict[str, FoulingRate] = {
    name: FoulingRate(name, **row) for name, row in table("fouling")["rates"].items()
}


def fouling_allowance_after(
    months: Real, speed: Real, waterline_length: Real, water: Water, *, share_per_day: Real
) -> Real:
    """Rise of the friction coefficient [-] of a hull not cleaned for some months.

    months: since the last cleaning [months of 30.4 days]; speed: [m/s]; waterline_length: [m].
    share_per_day: rise per day as a share of the clean hull's CF [1/day], see FOULING_RATES. All broadcast.
    Returns: dCF [-]. It grows in proportion to the months, without end: `fouling_outside` tells when it says no more.
    Raises: ValueError for a negative argument or a length of zero and less.
    Source: rule of thumb, textbook tradition, from memory; on the ITTC 1957 line (ours).
    """
    require_not_negative(months=months, speed=speed, share_per_day=share_per_day)
    require_positive(waterline_length=waterline_length)
    clean = friction_coefficient_ittc57(hull_reynolds_number(speed, waterline_length, water))
    return plain(clean * share_per_day * months * DAYS_PER_MONTH)


def nearest_class(allowance: Real, speed: Real, waterline_length: Real, water: Water) -> NDArray[np.intp]:
    """Place in FOULING_CLASSES of the class whose allowance is nearest; the broadcast shape.

    allowance: rise of the friction coefficient [-]; speed: [m/s], above zero; waterline_length: [m].
    Each case costs the roughness iteration of every class: one speed for each boat is enough to name it.
    Raises: ValueError for a negative allowance, a speed or length of zero and less.
    Source: `roughness_allowance` of each class.
    """
    require_not_negative(allowance=allowance)
    require_positive(speed=speed, waterline_length=waterline_length)
    distances = [
        np.abs(allowance - np.asarray(fouling_allowance(name, speed, waterline_length, water)))
        for name in FOULING_CLASSES
    ]
    return np.asarray(np.argmin(np.stack(np.broadcast_arrays(*distances)), axis=0))


def class_like(allowance: float, speed: float, waterline_length: float, water: Water) -> str:
    """Name of the fouling class an allowance is most like: "about as much as heavy slime".

    Arguments, Raises: as `nearest_class`, for one boat. An allowance beyond the heaviest class has that class's name:
    `fouling_outside` tells.
    """
    return list(FOULING_CLASSES)[int(nearest_class(allowance, speed, waterline_length, water))]


def fouling_outside(allowance: Real, speed: Real, waterline_length: Real, water: Water) -> tuple[OutOfRange, ...]:
    """A record where an allowance is beyond the heaviest of FOULING_CLASSES; empty when none is.

    Arguments, Raises: as `nearest_class`. The record's values are shares of the heaviest class's allowance.
    """
    require_not_negative(allowance=allowance)
    require_positive(speed=speed, waterline_length=waterline_length)
    heaviest = list(FOULING_CLASSES)[-1]
    most: Array = np.asarray(fouling_allowance(heaviest, speed, waterline_length, water))
    note = "fouling by the months grows without end and says nothing beyond it: clean the hull"
    return outside_range(f"added friction as a share of that of {heaviest}", plain(allowance / most), 0.0, 1.0, note)
