"""Hull, propeller or engine: which of them explains the trial, from the traces that each of them leaves."""

from collections.abc import Iterator

import numpy as np

from engine.data import table
from engine.diagnosis import NOTHING, Diagnosis, Fault, Suspect, diagnose
from engine.findings import Finding, fits, look
from engine.numeric import Array
from engine.plan import Plan
from engine.quasirandom import normal_scores
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.drive import ElectricDrive
from engine.stages.logged_drive import Reading
from engine.stages.trial_answers import CauseRow
from engine.stages.trial_boats import TrialBoats, Tried
from engine.stages.unknowns import UNKNOWNS
from engine.stages.wording import capitalised, listed, more_or_less

_TRIAL = table("trial")
_DOUBT, _FAULTS = _TRIAL["reading"], _TRIAL["faults"]
_ROW_DOUBT: float = table("doubt")["reading"]["engine_speed"]
_LEAST = 2
"""Runs from which a cause is looked for (ours)."""
DIAGNOSED_BOATS = 256
"""Of the plausible boats, where many faults or pitches are tried on each (ours)."""
SOURCE = "evidence ratios as in Kass and Raftery (1995) over the boats before the trial; sizes of fault: ours"
_LABELS = {
    NOTHING: "no fault, only the doubts of the plan",
    "hull": "the hull",
    "propeller": "the propeller",
    "engine": "the engine",
}


def cause_of(expected: TrialBoats, readings: tuple[Reading, ...]) -> Diagnosis | None:
    """What explains the readings of a trial; None while there are too few that any of the boats can make.

    expected: the boats before the trial.
    """
    if len(readings) < _LEAST:
        return None
    traces = _Traces(expected, readings)
    sound = traces.of(expected.as_fitted)
    made = np.flatnonzero(np.isfinite(sound[:, : len(readings)]).any(axis=0))
    if made.size < len(readings):
        return cause_of(expected, tuple(readings[i] for i in made))
    faults = {}
    for cause, factors in _FAULTS.items():
        sizes = np.array(factors)
        rows = [sound if size == 1.0 else traces.of(_with(expected, cause, size)) for size in factors]
        faults[cause] = Fault(sizes, np.stack(rows))
    return diagnose(traces.observed, sound, faults, traces.doubt(sound), expected.fleet.weights, _DOUBT["least_fault"])


def _with(expected: TrialBoats, cause: str, size: float) -> Tried:
    match cause:
        case "hull":
            return expected.tried(hull=size)
        case "propeller":
            return expected.tried(pitch=size)
        case _:
            return expected.tried(engine=size)


class _Traces:
    """What a trial is read by: engine speed at each boat speed, fuel or power drawn there, and engine speed at full
    throttle."""

    def __init__(self, expected: TrialBoats, readings: tuple[Reading, ...]) -> None:
        self._readings = readings
        self._speed = np.array([reading.speed for reading in readings])
        taken = [each.taken(is_electric=isinstance(expected.drive, ElectricDrive)) for each in readings]
        self._fuelled = [i for i, each in enumerate(taken) if each is not None]
        self._taken = [each for each in taken if each is not None]
        self._full = [i for i, each in enumerate(readings) if each.full_throttle]
        self._tachometer = np.asarray(expected.fitted.tachometer_of(expected.boats))
        own = normal_scores(expected.fleet.size, len(UNKNOWNS) + 1)[:, -1:]
        self._thirst = np.exp(consumption_doubt(expected.plan) * own)

    @property
    def observed(self) -> Array:
        """Logarithms of what was read, (T,)."""
        turning = [each.engine_speed for each in self._readings]
        full = [turning[i] for i in self._full]
        return np.asarray(np.log(np.array([*turning, *self._taken, *full])))

    def of(self, tried: Tried) -> Array:
        """Logarithms of what each boat does, (N, T)."""
        turns, burns = tried.at(self._speed)
        turning, burnt = turns * self._tachometer, burns[:, self._fuelled] * self._thirst
        top = np.repeat((tried.full_throttle[:, None] * self._tachometer), len(self._full), axis=1)
        return np.asarray(np.log(np.hstack([turning, burnt, top])))

    def doubt(self, sound: Array) -> Array:
        """Standard deviation of each trace, (T,); the doubt of a speed counts by how steeply engine speed and fuel
        rise with it."""
        count = len(self._readings)
        share = np.array([each.speed_doubt for each in self._readings]) / self._speed
        rise = _slope(np.log(self._speed), np.nanmedian(sound[:, :count], axis=0))
        burns = count + np.arange(len(self._fuelled))
        burn_rise = _slope(np.log(self._speed[self._fuelled]), np.nanmedian(sound[:, burns], axis=0))
        return np.concatenate(
            [
                np.hypot(_ROW_DOUBT, rise * share),
                np.hypot(_DOUBT["fuel_flow"], burn_rise * share[self._fuelled]),
                np.full(len(self._full), _DOUBT["full_throttle"]),
            ]
        )


def _slope(x: Array, y: Array) -> Array:
    """Slope of a straight line through points (R,), the same for all; 1 and more, nought points give none."""
    if x.size < 2 or np.ptp(x) == 0.0:
        return np.ones(x.size)
    return np.full(x.size, max(float(np.polyfit(x, y, 1)[0]), 1.0))


def consumption_doubt(plan: Plan) -> float:
    """Of the consumption of the new engine, the same at every speed; of a motor that of its losses."""
    engine = plan.engine.selected
    if isinstance(engine, Motor):
        return float(_DOUBT["own_chain" if engine.chain_efficiency is not None else "default_chain"])
    has_curve = isinstance(engine, Candidate) and bool(engine.fuel_flows)
    return float(_DOUBT["own_fuel_curve"] if has_curve else _DOUBT["default_fuel"])


def _label(cause: str, is_electric: bool) -> str:
    return "the motor" if is_electric and cause == "engine" else _LABELS[cause]


def cause_rows(diagnosis: Diagnosis, is_electric: bool = False) -> Iterator[CauseRow]:
    """The explanations, the likeliest first."""
    for suspect in diagnosis.suspects:
        label = _label(suspect.cause, is_electric)
        yield CauseRow(cause=label, share_fraction=suspect.share, size=_size_words(suspect) or "-")


def cause_words(diagnosis: Diagnosis, is_electric: bool = False) -> str:
    """The likeliest explanation in a few words."""
    leader = diagnosis.leader
    sure = "" if diagnosis.is_clear else "not clear; most likely "
    size = _size_words(leader)
    return f"{sure}{_label(leader.cause, is_electric)}{f': {size}' if size else ''}"


def _size_words(suspect: Suspect) -> str:
    change = f"{'at least ' if suspect.is_at_end else ''}{more_or_less(suspect.size)}"
    match suspect.cause:
        case "hull":
            return f"{change} resistance than the boat that the plan has"
        case "propeller":
            return f"it works like one of {change} pitch"
        case "engine":
            return f"it gives {change} than it should"
        case _:
            return ""


_TO_DO = {
    "hull": "Look at the bottom and the propeller, at the load she carried, and at the weight in the plan. Growth, "
    "overload or a heavier boat do this; do not change the propeller for it before they are ruled out.",
    "propeller": "Have the pitch and the diameter of the wheel measured before anything is changed, and give here what "
    "they are. If they are as stamped, such wheels work otherwise than their series, by which the propeller page goes: "
    "for the next one trust this trial.",
    "engine": "Look at fuel, air filter, back pressure, throttle travel and turbocharger first: a propeller cannot "
    "mend an engine that does not give its power.",
    "motor": "Look at the voltage under load, the limits set in the controller and its temperature first: a propeller "
    "cannot mend a motor that does not give its power.",
}
_IS_WELCOME = {
    "hull": "That is no fault, if depth and current were fair: power and range follow on their pages.",
    "engine": "That is no fault; check the tachometer all the same, for one that reads high looks like this.",
}


def _to_do(suspect: Suspect, is_electric: bool) -> str:
    """What to do about the likeliest explanation."""
    if _is_welcome(suspect):
        return _IS_WELCOME[suspect.cause]
    return _TO_DO["motor" if is_electric and suspect.cause == "engine" else suspect.cause]


def _tachometer_first(suspect: Suspect) -> str:
    """What costs no haul-out: at one boat speed more rpm for the same fuel is less pitch, or rpm that are not there."""
    sense = "low" if suspect.size > 0.0 else "high"
    return f"A tachometer that reads {sense} in every run looks the same, and it was not checked: check it first."


def _is_welcome(suspect: Suspect) -> bool:
    """Whether it is better than the plan has it: a hull that drags less, an engine that gives more."""
    return (suspect.cause == "hull" and suspect.size < 0.0) or (suspect.cause == "engine" and suspect.size > 0.0)


def cause_finding(
    diagnosis: Diagnosis, is_electric: bool = False, doubted: str = "", more: str = "", *, is_unchecked: bool = False
) -> Finding:
    """One sentence on what explains the trial.   doubted: a fault that all runs seem to be read with; "" if none.

    more: a sentence on what would tell the causes apart.   is_unchecked: whether the tachometer is.
    """
    leader, next_one = diagnosis.suspects[:2]
    if leader.cause == NOTHING:
        if diagnosis.is_clear:
            turned = "motor" if is_electric else "engine"
            return fits(
                f"It takes no fault of hull, propeller or {turned} to explain the trial: the doubts of the plan do.",
                SOURCE,
            )
        return fits(
            "The trial can be explained without a fault, by the doubts of the plan; next to that by "
            f"{_LABELS[next_one.cause]}, {_size_words(next_one)}.",
            SOURCE,
        )
    if diagnosis.is_clear:
        to_do = _to_do(leader, is_electric)
        if is_unchecked and leader.cause == "propeller" and not doubted:
            to_do = f"{_tachometer_first(leader)} {to_do}"
        text = f"What explains the trial is {_LABELS[leader.cause]}: {_size_words(leader)}. {to_do}"
        if doubted:
            text = (
                f"If the readings are right, {text[0].lower()}{text[1:]} But it may be the readings: {doubted}. "
                "Settle that first."
            )
        elif _is_welcome(leader):
            return fits(text, SOURCE)
    else:
        other = _size_words(next_one)
        text = (
            f"The trial does not say clearly what explains it. Most likely is {_LABELS[leader.cause]}: "
            f"{_size_words(leader)}; then {_LABELS[next_one.cause]}{f', {other}' if other else ''}. {more}".rstrip()
        )
    return look(text, SOURCE, "trial.run")


def tells_apart(readings: tuple[Reading, ...], is_electric: bool) -> str:
    """What a trial still lacks that would tell hull, propeller and engine apart, as a sentence."""
    taken = "the power drawn" if is_electric else "fuel flow"
    lacking = {
        f"{taken} at each run": any(each.taken(is_electric=is_electric) is None for each in readings),
        "one run at full throttle": not any(each.full_throttle for each in readings),
    }
    wanted = [words for words, is_lacking in lacking.items() if is_lacking]
    if not wanted:
        return "More runs, at other engine speeds and both ways, may tell them apart."
    return f"{capitalised(listed(wanted))} would tell them apart."
