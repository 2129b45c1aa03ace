"""The underwater form of a boat, as the resistance methods need it."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from functools import cached_property, wraps
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from engine import constants
from engine.numeric import Real, plain
from engine.validity import require_not_negative, require_positive
from engine.water import Water

_Worked = TypeVar("_Worked")


def once_for_a_form(formula: Callable[["HullForm"], _Worked]) -> Callable[["HullForm"], _Worked]:
    """A formula of a form alone, worked out once for each form: several methods, and several sets of speeds, ask."""

    @wraps(formula)
    def known(form: HullForm) -> _Worked:
        if formula not in form.known:
            form.known[formula] = formula(form)
        worked: _Worked = form.known[formula]
        return worked

    return known


@dataclass(frozen=True, kw_only=True)
class HullForm:
    """Canoe body (the hull without keel and skeg) at rest, with what is fixed to it. Every field broadcasts.

    What follows from the fields is worked out once: the methods ask for it dozens of times.

    waterline_length, waterline_beam: [m].
    draft: mean draft of the canoe body [m], not down to the keel.
    trim: draft aft minus draft forward [m].
    volume: displaced volume of the canoe body [m3].
    midship_coefficient: largest section area / (beam * draft), up to 1.
    waterplane_coefficient: waterplane area / (length * beam), up to 1.
    lcb_percent: centre of buoyancy, % of waterline length forward of half length (aft is negative).
    lcf_percent: centre of flotation, counted like lcb_percent; None: see flotation_percent.
    half_entrance_angle_deg: half angle of the waterline at the stem [deg]; None: each method estimates its own.
    wetted_surface: of the canoe body [m2]; None: each method uses its own formula.
    transom_area: immersed at rest [m2].
    bulb_area: cross-section of a bulb at the forward perpendicular [m2]; bulb_height: its centre above keel [m].
    stern_coefficient: -25 pram with gondola, -10 V-shaped sections, 0 normal, +10 U-shaped (Holtrop's Cstern).
    appendage_area: wetted surface of all appendages [m2]; appendage_factor: their equivalent 1 + k2, see appendages.
    keel_volume: displaced by a fin keel, not part of `volume` [m3]; keel_draft: down to the bottom of it [m].
    Raises: ValueError naming the argument, when the volume does not fit in length * beam * draft * midship, or for a
    keel volume without a keel draft, or with one that is less than the draft of the canoe body.
    """

    waterline_length: Real
    waterline_beam: Real
    draft: Real
    volume: Real
    midship_coefficient: Real
    waterplane_coefficient: Real
    lcb_percent: Real
    trim: Real = 0.0
    lcf_percent: Real | None = None
    half_entrance_angle_deg: Real | None = None
    wetted_surface: Real | None = None
    transom_area: Real = 0.0
    bulb_area: Real = 0.0
    bulb_height: Real = 0.0
    stern_coefficient: Real = 0.0
    appendage_area: Real = 0.0
    appendage_factor: Real = 1.0
    keel_volume: Real = 0.0
    keel_draft: Real | None = None

    def __post_init__(self) -> None:
        require_positive(
            waterline_length=self.waterline_length,
            waterline_beam=self.waterline_beam,
            draft=self.draft,
            volume=self.volume,
            midship_coefficient=self.midship_coefficient,
            waterplane_coefficient=self.waterplane_coefficient,
            appendage_factor=self.appendage_factor,
            draft_forward=self.draft_forward,
            draft_aft=self.draft_aft,
        )
        require_not_negative(
            transom_area=self.transom_area,
            bulb_area=self.bulb_area,
            bulb_height=self.bulb_height,
            appendage_area=self.appendage_area,
            keel_volume=self.keel_volume,
        )
        if self.wetted_surface is not None:
            require_positive(wetted_surface=self.wetted_surface)
        if self.half_entrance_angle_deg is not None:
            require_positive(half_entrance_angle_deg=self.half_entrance_angle_deg)
            if np.any(np.asarray(self.half_entrance_angle_deg) >= 90.0):
                raise ValueError("The half entrance angle must be less than 90 degrees.")
        for name in ("midship_coefficient", "waterplane_coefficient"):
            if np.any(np.asarray(getattr(self, name)) > 1.0):
                raise ValueError(f"The {name.replace('_', ' ')} cannot exceed 1.")
        if np.any(np.asarray(self.prismatic_coefficient) >= 1.0):
            raise ValueError(
                "The displaced volume does not fit: it is more than the waterline length times the largest section "
                "(beam x draft x midship coefficient). Check the displacement and the dimensions."
            )
        keel_draft = np.nan if self.keel_draft is None else self.keel_draft
        if np.any((np.asarray(self.keel_volume) > 0.0) & ~(np.asarray(keel_draft) >= self.draft)):
            raise ValueError("A keel with a volume needs a keel draft, not less than the draft of the canoe body.")

    def rows(self, rows: NDArray[np.intp]) -> "HullForm":
        """Some of the hulls whose fields are columns (N, 1), each as often as its row is named.

        They are not checked again: these can be hulls, as all of them can. Kept, with what is worked out of them: the
        boats of a method are asked at several sets of speeds.
        """
        key = rows.tobytes()
        if key in self.some:
            return self.some[key]
        some = object.__new__(HullForm)
        for item in fields(self):
            value = getattr(self, item.name)
            object.__setattr__(some, item.name, value.take(rows, axis=0) if np.ndim(value) else value)
        self.some[key] = some
        return some

    @cached_property
    def some(self) -> dict[bytes, "HullForm"]:
        """Some of the hulls, by their rows, see `rows`."""
        return {}

    @cached_property
    def known(self) -> dict[Callable[["HullForm"], Any], Any]:
        """What formulas have come to, see `once_for_a_form`."""
        return {}

    @cached_property
    def draft_forward(self) -> Real:
        return plain(self.draft - 0.5 * self.trim)

    @cached_property
    def draft_aft(self) -> Real:
        return plain(self.draft + 0.5 * self.trim)

    @cached_property
    def block_coefficient(self) -> Real:
        """Volume / (length * beam * draft)."""
        return plain(self.volume / (self.waterline_length * self.waterline_beam * self.draft))

    @cached_property
    def prismatic_coefficient(self) -> Real:
        """Volume / (length * area of the largest section)."""
        return plain(self.block_coefficient / self.midship_coefficient)

    @cached_property
    def length_beam_ratio(self) -> Real:
        return plain(self.waterline_length / self.waterline_beam)

    @cached_property
    def beam_draft_ratio(self) -> Real:
        return plain(self.waterline_beam / self.draft)

    @cached_property
    def slenderness(self) -> Real:
        """Length / cube root of the volume."""
        return plain(self.waterline_length / np.cbrt(self.volume))

    @cached_property
    def midship_area(self) -> Real:
        """Immersed area of the largest section [m2]."""
        return plain(self.waterline_beam * self.draft * self.midship_coefficient)

    @cached_property
    def waterplane_area(self) -> Real:
        """[m2]."""
        return plain(self.waterline_length * self.waterline_beam * self.waterplane_coefficient)

    @cached_property
    def waterplane_volume_ratio(self) -> Real:
        """Waterplane area / volume^(2/3)."""
        return plain(self.waterplane_area / np.square(np.cbrt(self.volume)))

    @cached_property
    def flotation_percent(self) -> Real:
        """Centre of flotation, % of waterline length forward of half length.

        Where the form has none, 1.5 aft of the centre of buoyancy (ours: on the Delft yacht models it lies 1 to 3 aft,
        from memory).
        """
        return plain(self.lcb_percent - 1.5) if self.lcf_percent is None else self.lcf_percent

    def froude_number(self, speed: Real, *, gravity: float = constants.GRAVITY) -> Real:
        """Speed [m/s] / sqrt(gravity * waterline length)."""
        return plain(speed / np.sqrt(gravity * self.waterline_length))

    def reynolds_number(self, speed: Real, water: Water) -> Real:
        """Speed [m/s] * waterline length / kinematic viscosity."""
        return plain(speed * self.waterline_length / water.kinematic_viscosity)
