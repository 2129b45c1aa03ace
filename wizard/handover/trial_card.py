"""The card for the sea trial: what to expect at each engine speed, and room to write what she does."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from engine.answers import Label, answer, detail, maybe, said_of_motor, shown_unit
from engine.bands import Band
from engine.constants import RPM
from engine.data import table
from engine.machinery.sea_trial import full_throttle_wanted, trial_conditions
from engine.plan import needs_fuel
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.trial_answers import PredictedRow, TrialAnswers
from engine.stages.trial_cause import consumption_doubt
from engine.stages.trial_checks import least_depth, trial_checks
from engine.stages.wording import Wording, percent
from wizard.handover.heads import assumed, cautions, reasons_against
from wizard.handover.lines import Asked, answered
from wizard.handover.sheet import Line, Part, Sheet, Table

_WORDS = table("sheets")["trial"]
_STATUS = table("trial")["preconditions"]["status"]
_STAGES = ("hull", "speed", "power", "engine", "gear", "propeller")
_ITEMS = ("engine",)
_OFF: float = table("trial")["accept"]["tachometer_error"]
_MOST_ROWS = 14
"""Every second step of engine speed, or fewer, when the card would not fit its page. Ours."""
_EMPTY = range(800, 3000, 200)
"""Engine speeds [rpm] on the card while no propeller is known. Ours."""
_ASSUMED = ("hull.displacement", "power.time_since_cleaning", "chosen.kind", "gear.efficiency", "gear.shaft_efficiency")


@dataclass(frozen=True, kw_only=True)
class TrialRow:
    """What to expect at an engine speed.   engine_rpm: None where the boat decides."""

    at: str = answer("Engine, rpm")
    speed_kn: Band | None = maybe("Speed expected", spread=True)
    burn_l_per_h: Band | None = maybe("Fuel, one engine", spread=True, only_known=True)
    drawn_kw: Band | None = maybe("Drawn, expected", metric="kW", imperial="kW", spread=True, only_known=True)
    engine_rpm: float | None = detail("Engine speed")


@dataclass(frozen=True, kw_only=True)
class ReadingRow:
    """One thing to read off beside the speeds."""

    reading: str = answer("Reading")
    usual: str = answer("Usual")


def trial_card(asked: Asked) -> Sheet:
    """The card to take aboard."""
    live = ("battery",) if asked.is_electric else ()
    burnt = ("hot-surfaces", "carbon-monoxide") if needs_fuel(asked.guessed) else ()
    return Sheet(
        key="trial",
        name=asked.plan.name,
        units=asked.units,
        parts=tuple(_parts(asked)),
        refusal="What is printed here to compare with is not settled yet; the boxes are good all the same.",
        reasons=reasons_against(asked, _STAGES, _ITEMS),
        assumed=assumed(asked, _ASSUMED),
        cautions=cautions("sea-trial", "rotating-shaft", *live, *burnt, "flooding"),
    )


def _parts(asked: Asked) -> Iterator[Part]:
    burns = needs_fuel(asked.guessed)
    fair = trial_conditions(burns_fuel=burns)
    fair = said_of_motor(fair) if asked.is_electric else fair
    stop = _WORDS["stop_motor" if asked.is_electric else "stop_diesel"]
    yield Part("A fair trial", sentences=(f"{fair} ({_STATUS})", _WORDS["how"][0], stop, *_WORDS["how"][1:]))
    yield Part("To be reached", tuple(_wanted(asked)), sentences=asked.not_yet("trial"))
    load = "Load: crew, fuel, water" if burns else "Load: crew, water, gear"
    yield Part("The day", blanks=("Date and place", _depth(asked), "Wind and sea", load))
    yield Part(
        "The boat", blanks=("Hull and wheel cleaned on", "Tachometer checked with", "Draft bow, stern", "On board")
    )
    flow, temperature, pressure = (shown_unit(name, asked.units) for name in ("_l_per_h", "_c", "_kpa"))
    taken = "Drawn, kW" if asked.is_electric else f"Fuel, {flow}"
    own = () if asked.is_electric else (f"Coolant, {temperature}", f"Exhaust, {pressure}")
    yield Part(
        "",
        table=Table(
            "predicted",
            "Expected clean, in calm water, with 10th to 90th percentile; and measured",
            tuple(_rows(asked)),
            boxes=("Rpm read", "kn, one way", "kn, back", taken, *own, "Remark"),
            note=" ".join(_notes(asked)),
        ),
        is_wide=True,
    )
    rows = tuple(_readings(asked))
    yield Part("", table=Table("readings", "To read off besides", rows, ("Read",), _WORDS["readings_status"]))


def _wanted(asked: Asked) -> Iterator[Line]:
    """Of the wheel that the trial page judges, as it was expected before any run: the same as in the last row below."""
    trial = asked.answers("trial")
    yield from answered(TrialAnswers, asked.outcome("trial"), ("size", "gear_ratio", "rated_rpm", "full_throttle_rpm"))
    top = None if trial is None or not trial.predicted else trial.predicted[-1].speed_kn
    yield Line("top_kn", Label("Speed at full throttle, expected"), top)
    if not asked.plan.trial.run and (trial is None or trial.is_of_plan):
        yield from answered(PropellerAnswers, asked.outcome("propeller"), ("reaches_rated_fraction",))
    rated = getattr(trial, "rated_rpm", None)
    least, most = full_throttle_wanted(is_electric=asked.is_electric)
    above = "ours: beyond it the wheel is far too light" if asked.is_electric else "from memory"
    for key, words, share, status in (
        ("least_rpm", "Loaded, full throttle, at least", least, "printed, one large maker"),
        ("most_rpm", "and at most", most, above),
    ):
        yield Line(key, Label(words, digits=4), None if rated is None else share * rated, status)


def _rows(asked: Asked) -> Iterator[TrialRow]:
    """Idle, steps of engine speed, full throttle; round speeds without figures while there is nothing to expect."""
    drive, trial = getattr(asked.answers("engine"), "drive", None), asked.answers("trial")
    idle = None if drive is None or drive.engine.idle_speed is None else drive.engine.idle_speed / RPM
    rows = list(_from_slowest_to_full(trial))
    if idle is not None:
        at_idle = next((row for row in rows if row.at == f"{idle:.0f}"), TrialRow(at="", engine_rpm=idle))
        yield replace(at_idle, at=f"idle, {idle:.0f}")
        rows = [row for row in rows if row.engine_rpm is None or round(row.engine_rpm) > round(idle)]
    yield from rows


def _depth(asked: Asked) -> str:
    """How deep the water is to be, once the boat is known."""
    if asked.answers("hull") is None:
        return "Water depth"
    return f"Water depth, at least {Wording(asked.units).length(least_depth(asked.guessed))}"


def _from_slowest_to_full(trial: TrialAnswers | None) -> Iterator[TrialRow]:
    """Steps of engine speed and full throttle."""
    if trial is None:
        yield from (TrialRow(at=f"{rpm:.0f}", engine_rpm=rpm) for rpm in _EMPTY)
        yield TrialRow(at="full throttle", engine_rpm=None)
        return
    *steps, full = trial.predicted or (None,)
    for row in steps[:: ceil(len(steps) / _MOST_ROWS) or 1]:
        yield _row(row, f"{row.engine_rpm:.0f}", row.engine_rpm)
    band = trial.full_throttle_rpm
    yield _row(full, f"full, {band.best:.0f} ({band.low:.0f}-{band.high:.0f})", None)


def _row(expected: PredictedRow | None, at: str, rpm: float | None) -> TrialRow:
    if expected is None:
        return TrialRow(at=at, engine_rpm=rpm)
    return TrialRow(
        at=at,
        speed_kn=expected.speed_kn,
        burn_l_per_h=expected.burn_l_per_h,
        drawn_kw=expected.drawn_kw,
        engine_rpm=rpm,
    )


def _notes(asked: Asked) -> Iterator[str]:
    """How far what is taken may be out besides, and how two engines are run."""
    trial = asked.answers("trial")
    if trial is not None and trial.predicted:
        words = _WORDS["besides_motor" if asked.is_electric else "besides_diesel"]
        yield words.format(share=percent(consumption_doubt(asked.guessed)))
    if asked.screws == 2:
        yield _WORDS["two"]


def _readings(asked: Asked) -> Iterator[ReadingRow]:
    """The lines that a trial is accepted by, and what else is worth a look."""
    yield ReadingRow(reading="tachometer off by", usual=f"up to {percent(_OFF)}")
    rated = getattr(asked.answers("engine"), "rated_rpm", None)
    if rated is not None:
        for check in trial_checks(asked.guessed, rated * RPM, getattr(asked.answers("gear"), "ratio", None)):
            yield ReadingRow(reading=check.row.item, usual=check.row.wanted)
    kind = "electric" if asked.is_electric else "diesel"
    for reading in _WORDS["reading"]:
        if reading.get("drive", kind) == kind:
            yield ReadingRow(reading=reading["label"], usual=reading["usual"])
