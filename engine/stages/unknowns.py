"""What is not known for certain about the boat, and what the owner can do about each."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.data import table
from engine.defaults import settled
from engine.doubts import usual_doubt
from engine.entries import entries
from engine.findings import Finding, look
from engine.numeric import Array, Real, plain
from engine.plan import Plan
from engine.showing import show
from engine.units import Quantity

_DOUBT = table("doubt")
_CUT: float = _DOUBT["range"]["cut"]
_HELD = "low and high are the ends of eight boats in ten, drawn out on two halves of a normal curve: ours"
TENTH = 1.2815515655446004
"""Standard normal score of the 90th percentile."""


@dataclass(frozen=True)
class Unknown:
    """Something that differs between the plausible boats.

    label: what it is.   action: how the owner would come to know it.   path: the field that takes the answer.
    """

    name: str
    label: str
    action: str
    path: str


LOG_IT = "Log rpm and speed of the present engine, at two speeds or more, well apart."

UNKNOWNS: tuple[Unknown, ...] = (
    Unknown("displacement", "displacement", "Weigh her on the travel lift, in cruising trim.", "hull.displacement"),
    Unknown(
        "waterline_length",
        "waterline length",
        "Measure the waterline afloat, with plumb lines.",
        "hull.waterline_length",
    ),
    Unknown("waterline_beam", "waterline beam", "Measure the waterline beam afloat.", "hull.waterline_beam"),
    Unknown("hull_draft", "hull draft", "Measure the hull draft when she is hauled out.", "hull.hull_draft"),
    Unknown("fullness", "fullness of her ends", "Measure her largest section when she is hauled out.", "hull.midship"),
    Unknown("waterplane", "waterplane", "Measure the half breadths of her waterline.", "hull.waterplane"),
    Unknown(
        "buoyancy_centre",
        "centre of buoyancy",
        "Read both slings of the travel lift one by one.",
        "hull.buoyancy_centre",
    ),
    Unknown("entrance_angle", "angle of entrance", "Measure the waterline at the stem.", "hull.entrance_angle"),
    Unknown(
        "appendage_area",
        "surface of keel and rudder",
        "Take the area of keel and rudder from a photograph on the hard.",
        "hull.appendage_area",
    ),
    Unknown("appendage_factor", "drag of keel and rudder", LOG_IT, "present.log"),
    Unknown("method", "which of the methods is right", LOG_IT, "present.log"),
    Unknown("method_error", "how far off that method is", LOG_IT, "present.log"),
    Unknown("method_tilt", "how that changes with speed", LOG_IT, "present.log"),
    Unknown("wake", "wake", LOG_IT, "present.log"),
    Unknown("thrust_deduction", "thrust deduction", LOG_IT, "present.log"),
    Unknown("room", "room for the propeller", "Measure the aperture, or the room under the hull.", "propeller.room"),
    Unknown(
        "propeller_pitch",
        "making of the new propeller",
        "Order the wheel to a closer tolerance class, and have its pitch measured before it is fitted.",
        "propeller.pitch",
    ),
    Unknown(
        "present_propeller_pitch",
        "pitch of the present propeller",
        "Have the present wheel's pitch measured by a propeller shop.",
        "present.propeller_pitch",
    ),
    Unknown(
        "engine_output",
        "output of the new engine",
        "Ask the maker for the test sheet of this engine, or its power tolerance.",
        "engine.candidate",
    ),
    Unknown(
        "fouling",
        "rate of fouling",
        "Log the same rpm before and after a cleaning.",
        "power.time_since_cleaning",
    ),
    Unknown("air_drag", "drag in the wind", "Say what stands above the water.", "hull.upperworks"),
    Unknown("tachometer", "tachometer", "Check the tachometer with an optical one.", "present.tachometer"),
    Unknown(
        "blade_torque",
        "how the new blades differ from the tested ones",
        "Ask the shop which sections the wheel has, and how such wheels have turned out.",
        "propeller.sections",
    ),
    Unknown(
        "trial_tachometer", "tachometer at the trial", "Check the tachometer with an optical one.", "trial.tachometer"
    ),
)
"""One column of the fleet's scores each, in this order."""

COLUMN: dict[str, int] = {unknown.name: i for i, unknown in enumerate(UNKNOWNS)}

Score = Callable[[str], Real]
"""Gives the standard normal score of an unknown: nought for the boat as described, a column for a fleet."""


def scores_of(draws: Array) -> Score:
    """Scores as columns (boats, 1), held where doubt is cut off."""
    held = np.clip(draws, -_CUT, _CUT)
    return lambda name: held[:, COLUMN[name], None]


def as_described(_: str) -> Real:
    """The score of every unknown of the boat as the owner described her."""
    return 0.0


def between(score: Real, best: Real, low: Real, high: Real) -> Real:
    """A value at `best` in the middle, with low and high as 10th and 90th percentile: two halves of a normal curve."""
    side = np.where(np.asarray(score) < 0.0, np.asarray(best) - low, np.asarray(high) - best)
    return plain(best + np.asarray(score) * side / TENTH)


def share_of(score: Real, best: Real, low: float, high: float) -> Real:
    """Like `between`, with low and high as shares of best, less one (-0.05, 0.10)."""
    return best * between(score, 1.0, 1.0 + low, 1.0 + high)


def doubted(section: Any, name: str, score: Real, usual: tuple[float, float, float] | None = None) -> Real:
    """A field's value for the boats: as unsure as the owner is, else as such a value usually is.

    usual: low, middle and high for a field that is empty and has no default.
    The owner's own low and high are drawn out on a straight line; what leaves the limits of the field is held there,
    and `held_findings` says so.
    Raises: LookupError when the field is empty and there is no `usual`, or when its doubt is not in the table.
    """
    value = settled(section, name)
    if not isinstance(value, Quantity):
        if usual is None:
            raise LookupError(f"{name} is empty and has no default")
        low, middle, high = usual
        return between(score, middle, low, high)
    if value.low is not None and value.high is not None:
        return plain(np.clip(between(score, value.si, value.low.si, value.high.si), *_believable(section, name)))
    doubt = usual_doubt(name)
    if doubt is None:
        raise LookupError(f"no doubt is known for {name}")
    if doubt.is_share:
        return share_of(score, value.si, doubt.low, doubt.high)
    return between(score, value.si, value.si + doubt.low, value.si + doubt.high)


def _believable(section: Any, name: str) -> tuple[float, float]:
    """Lowest and highest SI value that a field takes."""
    return entries(type(section))[name].limits or (-np.inf, np.inf)


def held_findings(plan: Plan, section: str) -> Iterator[Finding]:
    """A sentence for each field of a section that is so unsure that boats are held at the limits of the field."""
    holder = getattr(plan, section)
    for name, entry in entries(type(holder)).items():
        value = getattr(holder, name) if usual_doubt(name) is not None else None
        if not isinstance(value, Quantity) or value.low is None or value.high is None:
            continue
        ends = [float(between(score, value.si, value.low.si, value.high.si)) for score in (-_CUT, _CUT)]
        least, most = _believable(holder, name)
        if ends[0] < least or ends[1] > most:
            low, high = (show(limit, entry.unit(plan.units), entry.dimension) for limit in (least, most))
            yield look(
                f"{entry.label}, {value.written}, is so unsure that some plausible boats would lie beyond what can be "
                f"believed of it ({low} to {high}); they are held there. Give a closer low and high if you can.",
                _HELD,
                f"{section}.{name}",
            )


def made(name: str, score: Real) -> Real:
    """What a made thing turns out to be, over what was ordered [-]: a pitch, an engine's output."""
    return share_of(score, 1.0, *_DOUBT["made"][name])
