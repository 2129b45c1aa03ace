"""The card for the sea trial: what to expect at each engine speed, and room to write what she does."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil
from typing import Any

from engine.answers import Label, answer, detail, maybe
from engine.bands import Band
from engine.constants import RPM
from engine.data import table
from engine.machinery.sea_trial import FULL_THROTTLE_HIGH, FULL_THROTTLE_LOW, TRIAL_CONDITIONS
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.wording import Wording, percent
from wizard.handover.heads import assumed, cautions, reasons_against
from wizard.handover.lines import Asked, answered
from wizard.handover.predicted import predicted_at
from wizard.handover.sheet import Line, Part, Sheet, Table

TITLE = "Trial card"
_WORDS = table("sheets")["trial"]
_STATUS = table("trial")["preconditions"]["status"]
_STAGES = ("hull", "speed", "power", "engine", "gear", "propeller")
_STEP, _MOST_ROWS = 200.0, 14
"""Engine speeds in steps of this, or of a multiple of it when the card would not fit its page. Ours."""
_NEAR = 0.3
"""A step this near to full throttle, in steps, is left to the row of full throttle. Ours."""
_EMPTY_FROM, _EMPTY_TO = 800.0, 3000.0
"""Speeds on the card while no engine is known. Ours."""
_ASSUMED = ("hull.displacement", "power.time_since_cleaning", "chosen.kind", "gear.efficiency", "gear.shaft_efficiency")


@dataclass(frozen=True, kw_only=True)
class TrialRow:
    """What to expect at an engine speed.   engine_rpm: None where the boat decides."""

    at: str = answer("Engine, rpm")
    speed_kn: Band | None = maybe("Speed expected", spread=True)
    burn_l_per_h: Band | None = maybe("Burn expected", spread=True, only_known=True)
    drawn_kw: Band | None = maybe("Drawn, expected", metric="kW", imperial="kW", spread=True, only_known=True)
    engine_rpm: float | None = detail("Engine speed")


@dataclass(frozen=True, kw_only=True)
class ReadingRow:
    """One thing to read off beside the speeds."""

    reading: str = answer("Reading")
    usual: str = answer("Usual")


def trial_card(asked: Asked) -> Sheet:
    """The card to take aboard."""
    return Sheet(
        key="trial",
        title=TITLE,
        name=asked.plan.name,
        units=asked.units,
        parts=tuple(_parts(asked)),
        refusal="What is printed here to compare with is not settled yet; the boxes are good all the same.",
        reasons=reasons_against(asked, _STAGES),
        assumed=assumed(asked, _ASSUMED),
        cautions=cautions("sea-trial", "rotating-shaft", "hot-surfaces", "carbon-monoxide", "flooding"),
    )


def _parts(asked: Asked) -> Iterator[Part]:
    yield Part("A fair trial", sentences=(f"{TRIAL_CONDITIONS} ({_STATUS})", *_WORDS["how"]))
    yield Part("To be reached", tuple(_wanted(asked)), sentences=asked.not_yet("propeller"))
    yield Part("The day", blanks=("Date and place", "Water depth", "Wind and sea", "Load: crew, fuel, water"))
    yield Part(
        "The boat", blanks=("Hull and wheel cleaned on", "Tachometer checked with", "Draft bow, stern", "On board")
    )
    taken = "Drawn, kW" if asked.is_electric else "Fuel"
    own = ("Motor temp.", "Battery, V") if asked.is_electric else ("Coolant", "Exhaust press.")
    yield Part(
        "",
        table=Table(
            "predicted",
            "Expected clean, in calm water, with 10th to 90th percentile; and measured",
            tuple(_rows(asked)),
            boxes=("kn, one way", "kn, back", taken, *own, "Remark"),
        ),
        is_wide=True,
    )
    rows = tuple(_readings(asked))
    yield Part("", table=Table("readings", "To read off besides", rows, ("Read",), _WORDS["readings_status"]))


def _wanted(asked: Asked) -> Iterator[Line]:
    outcome = asked.outcome("propeller")
    yield from answered(
        PropellerAnswers, outcome, ("rated_rpm", "full_throttle_rpm", "top_kn", "reaches_rated_fraction")
    )
    rated = getattr(outcome.answers, "rated_rpm", None)
    for key, words, share, status in (
        ("least_rpm", "Loaded, full throttle, at least", FULL_THROTTLE_LOW, "printed, one large maker"),
        ("most_rpm", "and at most", FULL_THROTTLE_HIGH, "from memory"),
    ):
        yield Line(key, Label(words, digits=4), None if rated is None else share * rated, status)


def _rows(asked: Asked) -> Iterator[TrialRow]:
    propeller = asked.answers("propeller")
    drive = getattr(asked.answers("engine"), "drive", None)
    idle = None if drive is None or drive.engine.idle_speed is None else drive.engine.idle_speed / RPM
    full = None if propeller is None else propeller.full_throttle_rpm
    if idle is not None:
        yield _row(asked, f"idle, {idle:.0f}", idle)
    for rpm in trial_speeds(asked, idle, None if full is None else full.best):
        yield _row(asked, f"{rpm:.0f}", rpm)
    if full is not None:
        yield TrialRow(
            at=f"full, {full.best:.0f} ({full.low:.0f}-{full.high:.0f})",
            speed_kn=propeller.top_kn,
            **_burned(asked, full.best),
            engine_rpm=None,
        )
    else:
        yield TrialRow(at="full throttle", engine_rpm=None)


def trial_speeds(asked: Asked, idle: float | None, full: float | None) -> list[float]:
    """Round engine speeds [rpm] between idle and full throttle; from the lowest that is worked out where neither is."""
    propeller = asked.answers("propeller")
    lowest = propeller.match[0].engine_rpm if propeller is not None and propeller.match else _EMPTY_FROM
    low, high = lowest if idle is None else idle, _EMPTY_TO if full is None else full
    step = _STEP * max(ceil((high - low) / (_STEP * _MOST_ROWS)), 1)
    first = ceil((low + _NEAR * step) / step)
    found = [i * step for i in range(first, ceil(high / step) + 1)]
    return [rpm for rpm in found if rpm <= high - _NEAR * step]


def _row(asked: Asked, at: str, rpm: float) -> TrialRow:
    predicted = predicted_at(asked, rpm)
    speed = None if predicted is None else predicted.speed_kn
    return TrialRow(at=at, speed_kn=speed, **_burned(asked, rpm), engine_rpm=rpm)


def _burned(asked: Asked, rpm: float) -> dict[str, Any]:
    predicted, engine = predicted_at(asked, rpm), asked.answers("engine")
    if predicted is None or engine is None:
        return {}
    drive = engine.drive
    return {"burn_l_per_h": drive.if_fuel(predicted.per_hour), "drawn_kw": drive.if_electric(predicted.per_hour)}


def _readings(asked: Asked) -> Iterator[ReadingRow]:
    """Each reading with what is usual, in the owner's units."""
    kind = "electric" if asked.is_electric else "diesel"
    for reading in _WORDS["reading"]:
        if reading.get("drive", kind) == kind:
            usual = (_usual(asked, reading), reading.get("note", ""))
            yield ReadingRow(reading=reading["label"], usual="; ".join(filter(None, usual)))


def _usual(asked: Asked, reading: Mapping[str, Any]) -> str:
    ends = [reading[end] for end in ("low", "high") if end in reading]
    texts = [text for text in (_written(asked, reading["kind"], end) for end in ends) if text]
    if len(texts) == 2:
        return " to ".join(texts)
    return "".join(f"{'up to' if 'high' in reading else 'at least'} {text}" for text in texts)


def _written(asked: Asked, kind: str, value: float) -> str:
    """One end of what is usual."""
    is_metric = asked.units == "metric"
    match kind:
        case "temperature":
            return Wording(asked.units).temperature(value)
        case "rise":
            return f"{value:.0f} C" if is_metric else f"{1.8 * value:.0f} F"
        case "pressure":
            return f"{value / 100.0:g} bar" if is_metric else f"{value / _PSI:.0f} psi"
        case "share":
            return percent(value)
        case "of rated":
            rated = getattr(asked.answers("engine"), "rated_rpm", None)
            return percent(value) + " of rated" if rated is None else f"{value * rated:.0f} rpm"
    return ""


_PSI = 6.894757
"""Kilopascals."""
