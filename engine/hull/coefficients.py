"""Form coefficients of kinds of boats, and how to get a consistent set from what an owner knows."""

from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Real, plain
from engine.validity import require_positive

KINDS: tuple[str, ...] = tuple(table("hull_kinds")["kinds"])
"""Kinds of boats in the words owners use."""


@dataclass(frozen=True)
class Range:
    """What is usual for a kind of boat."""

    low: float
    high: float

    @property
    def half_log_width(self) -> float:
        """Half the width on a logarithmic scale; only for positive ranges."""
        return 0.5 * float(np.log(self.high / self.low))

    def contains(self, value: Real) -> NDArray[np.bool_]:
        array = np.asarray(value)
        return (array >= self.low) & (array <= self.high)


@dataclass(frozen=True)
class TypicalRange(Range):
    """A range with the value to take when nothing better is known."""

    middle: float


@dataclass(frozen=True)
class TypicalForm:
    """Usual form of one kind of boat, canoe body; fields as in HullForm. From memory, textbook consensus."""

    kind: str
    prismatic: TypicalRange
    midship: TypicalRange
    waterplane: TypicalRange
    lcb_percent: TypicalRange
    half_entrance_angle_deg: TypicalRange
    block: Range
    length_beam_ratio: Range
    displacement_length_ratio: Range
    source: str
    status: str


def typical(kind: str) -> TypicalForm:
    """The usual form of a kind of boat, one of KINDS.

    Raises: ValueError for another kind, naming the nearest.
    Source: engine/data/hull_kinds.toml; from memory, consensus of small-craft textbooks.
    """
    data = table("hull_kinds")
    if kind not in KINDS:
        nearest = get_close_matches(kind, KINDS, n=1)
        hint = f" Did you mean {nearest[0]!r}?" if nearest else ""
        raise ValueError(f"There is no kind of boat called {kind!r}; the kinds are: {', '.join(KINDS)}.{hint}")
    row = data["rows"][data["kinds"][kind]]

    def typical_range(name: str) -> TypicalRange:
        low, middle, high = row[name]
        return TypicalRange(low=low, middle=middle, high=high)

    return TypicalForm(
        kind=kind,
        prismatic=typical_range("prismatic"),
        midship=typical_range("midship"),
        waterplane=typical_range("waterplane"),
        lcb_percent=typical_range("lcb_percent"),
        half_entrance_angle_deg=typical_range("half_entrance_angle_deg"),
        block=Range(*row["block"]),
        length_beam_ratio=Range(*row["length_beam_ratio"]),
        displacement_length_ratio=Range(*row["displacement_length_ratio"]),
        source=data["source"],
        status=data["status"],
    )


@dataclass(frozen=True)
class FormCoefficients:
    """A prismatic and a midship coefficient, and whether each is usual for the kind of boat."""

    prismatic: Real
    midship: Real
    prismatic_is_usual: NDArray[np.bool_]
    midship_is_usual: NDArray[np.bool_]


def reconcile_coefficients(
    block: Real, typical_form: TypicalForm, *, prismatic: Real | None = None, midship: Real | None = None
) -> FormCoefficients:
    """A prismatic and a midship coefficient whose product is the block coefficient.

    block: volume / (length * beam * draft) [-]. prismatic, midship: given values [-], kept as they are; with one given
    the other follows, with both given both are returned (check_dimensions tells whether they agree with the block).
    With none given, the mismatch between the block and the product of the usual values is shared on a logarithmic
    scale, in proportion to the square of each one's half range (ours: the least surprising pair if the ranges are
    read as equally likely spreads).
    Returns: FormCoefficients, broadcast; nothing is clipped, so a value may leave its range or even exceed 1.
    Raises: ValueError naming a coefficient of zero and less.
    """
    require_positive(block_coefficient=block)
    if prismatic is not None:
        require_positive(prismatic_coefficient=prismatic)
    if midship is not None:
        require_positive(midship_coefficient=midship)
    CP: Real
    if prismatic is not None:
        CP = prismatic
    elif midship is not None:
        CP = block / midship
    else:
        usual_prismatic, usual_midship = typical_form.prismatic, typical_form.midship
        mismatch = np.log(block / (usual_prismatic.middle * usual_midship.middle))
        doubt_prismatic = usual_prismatic.half_log_width**2
        doubt_midship = usual_midship.half_log_width**2
        share = doubt_prismatic / (doubt_prismatic + doubt_midship)
        CP = plain(usual_prismatic.middle * np.exp(share * mismatch))
    CM = block / CP if midship is None else midship
    return FormCoefficients(
        prismatic=plain(CP),
        midship=plain(CM),
        prismatic_is_usual=typical_form.prismatic.contains(CP),
        midship_is_usual=typical_form.midship.contains(CM),
    )
