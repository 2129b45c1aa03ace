"""What the trial says of the propeller: right, or so much pitch; never diameter first."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from engine.constants import INCH, RPM
from engine.data import table
from engine.diagnosis import Diagnosis
from engine.findings import Finding, fits, look, stop
from engine.machinery.sea_trial import FULL_THROTTLE_LOW, full_throttle_wanted, full_throttle_words
from engine.sections.trial import LIGHT_LOAD
from engine.stages.drive import ElectricDrive
from engine.stages.logged_drive import Reading
from engine.stages.trial_boats import TrialBoats
from engine.stages.wording import Wording, percent

_REPITCH = table("trial")["repitch"]
_REACH = "one large engine maker (anonymised), printed: the engine must reach its rated speed at full throttle"
_BAND = "rated to rated plus 3 %, light plus 2 to 4 %: trade practice, from memory"
_MOTOR_BAND = "rated to rated plus 7 %, light plus 2 to 9 %, where a motor still gives its power: ours"
_SOLVED = "pitch changed on the boats as the trial leaves them, by the series that stands for the propeller"
_MOST_STEPS = 8
"""Steps of pitch that are tried, one way: four inches, or eight centimetres. Ours."""
_JUST_SHORT = 0.01
"""So much below the band the sea may account for: look, but not yet a stop. Ours."""
_SPREADS = 2.0
"""And so many standard deviations of the tachometer. Ours."""
_TACHOMETER: Mapping[str, float] = table("doubt")["reading"]["tachometer"]


@dataclass(frozen=True)
class Judged:
    """The propeller at full throttle.

    reached: engine speed [rev/s].   low, high: what is wanted [rev/s].   light_running: wanted [-].
    change: of pitch [m], 0 when it is right, None when no pitch that could be tried brings it there.
    least: of pitch that would just do [m].   tried: the furthest change that was tried [m], either way.
    has_power: whether by its data sheet the engine gives any power at what was reached.
    """

    reached: float
    rated: float
    low: float
    high: float
    light_running: float
    step: float
    change: float | None
    least: float | None
    tried: float
    has_power: bool = True

    @property
    def series_ends(self) -> bool:
        """Whether fewer changes were tried than would have been, as the series describes no such wheel."""
        return self.tried < (_MOST_STEPS - 0.5) * self.step

    @property
    def is_governed(self) -> bool:
        """Whether she was tried light and reached rated speed, but not what a light boat should: above it the governor
        hides how much the propeller takes, and no change of pitch can be told from it."""
        return self.rated * (1.0 - 1e-9) <= self.reached < self.low * (1.0 - 1e-9)

    @property
    def is_right(self) -> bool:
        """Whether the pitch may stay as it is."""
        return self.change == 0.0


def judged(
    now: TrialBoats, readings: tuple[Reading, ...], rated: float, load: str, step: float, light_running: float
) -> Judged | None:
    """The propeller by the fastest run at full throttle; None while there is none.

    now: the boats after the trial.   rated: engine speed [rev/s].   step: of pitch that is ordered [m].
    light_running: that the plan asks for [-]; a light boat is to have as much more as her band lies higher.
    """
    full = [reading.engine_speed for reading in readings if reading.full_throttle]
    if not full:
        return None
    reached = max(full)
    is_electric = isinstance(now.drive, ElectricDrive)
    low, high = full_throttle_wanted(is_light=load == LIGHT_LOAD, is_electric=is_electric)
    band, wanted = (low * rated, high * rated), light_running + low - FULL_THROTTLE_LOW
    inside = band[0] * (1.0 - 1e-9) <= reached <= band[1] * (1.0 + 1e-9)
    unchanged = Judged(reached, rated, *band, wanted, step, change=0.0, least=0.0, tried=0.0)
    if inside:
        return unchanged
    unhelped = replace(unchanged, change=None, least=None)
    if unhelped.is_governed:
        return unhelped
    if not float(now.drive.full_load(reached)) > 0.0:
        return replace(unhelped, has_power=False)
    return _with_pitch_changed(now, unhelped)


def _with_pitch_changed(now: TrialBoats, told: Judged) -> Judged:
    """The same with the changes of pitch that help, tried step by step one way; without them where none does.

    A change helps that lets the engine reach its speed, and no more than is wanted. Of those the one is taken that
    leaves the light running nearest to what is wanted: full throttle alone does not tell, as above rated speed the
    governor holds it, however light the propeller. For the same reason a reading above what is wanted tells how light
    she runs too poorly to aim at: there the least is taken.
    Each boat is given the output at which she reaches what was read, with the pitch as it is.
    """
    fitted, fleet, matched = now.fitted, now.fleet, now.reaching(told.reached)
    is_short = told.reached < told.low
    lowest, way = (told.rated, -told.step) if is_short else (told.low, told.step)
    nearest = math.inf
    for change in (count * way for count in range(1, _MOST_STEPS + 1)):
        if not fitted.kind.series.describes(fitted.diameter, fitted.pitch + change):
            break
        tried = matched.tried(pitch=1.0 + change / fitted.pitch)
        told = replace(told, tried=abs(change))
        helps = lowest <= float(fleet.median(tried.full_throttle)) <= told.high
        off = abs(float(fleet.median(tried.light_running)) - told.light_running)
        if told.change is not None and not (helps and off < nearest):
            break
        if helps:
            told, nearest = replace(told, change=change, least=told.least or change), off
            if not is_short:
                break
    return told


def may_be_out(tachometer: str) -> float:
    """By what share an engine speed may be read wrong [-].   tachometer: whether it was checked, as in the plan."""
    return max(_JUST_SHORT, _SPREADS * _TACHOMETER[tachometer])


def propeller_finding(
    say: Wording,
    verdict: Judged,
    diagnosis: Diagnosis | None,
    doubted: str = "",
    *,
    out: float = _JUST_SHORT,
    is_electric: bool = False,
) -> Finding:
    """What is said of the propeller, and what to do before it is changed.

    doubted: why the run that it is judged by is left out of the evidence; "" when it counts.   out: as `may_be_out`.
    """
    practice = _MOTOR_BAND if is_electric else _BAND
    wanted = f"{verdict.low / RPM:.0f} to {verdict.high / RPM:.0f} rpm is wanted"
    turned = full_throttle_words(verdict.reached, verdict.rated)
    reached = f"{turned}; {wanted}"
    if not verdict.has_power:
        is_slow = verdict.reached < verdict.rated
        why = "under its idle speed" if is_slow else "over the speed at which the governor ends it"
        return look(
            f"{reached}. By the engine page that is {why}, where it gives no power at all, so nothing is said of the "
            "propeller. Check the tachometer, the run as entered, and the speeds of the data sheet.",
            practice,
            "trial.run",
        )
    if verdict.is_right:
        source = f"{_REACH}; {practice}"
        if doubted:
            text = f"{turned}, and {wanted}. Nothing is settled before that run is sound: {doubted}."
            return look(text, source, "trial.run")
        return fits(f"{turned}, and {wanted}: {_in_the_band(diagnosis)}.", source)
    if verdict.is_governed:
        return look(
            f"{reached} of a boat so light. Above rated speed the governor hides how much the propeller takes: try her "
            "again at normal load before the pitch is changed.",
            practice,
            "trial.load",
        )
    is_short = verdict.reached < verdict.low
    is_surely_short = verdict.reached < (FULL_THROTTLE_LOW - out) * verdict.rated
    say_it, sense = stop if is_surely_short else look, "less" if is_short else "more"
    if verdict.change is None:
        return say_it(
            f"{reached}{_in_vain(say, verdict, sense)}. Have the wheel measured, and the tachometer and the throttle's "
            "travel checked; then work out another wheel on the propeller page.",
            f"{_SOLVED}; {practice}",
            "trial.propeller_pitch",
        )
    check = ""
    if is_short and not is_surely_short and out > _JUST_SHORT:
        check = "Have the tachometer checked before anything else: unchecked, it may be as far out. "
    first = "The" if doubted else _before_the_propeller(diagnosis, is_short)
    text = (
        f"{reached}. {check}{first} propeller wants {say.about_size(abs(verdict.change))} {sense} pitch, its diameter "
        f"as it is{_aim(say, verdict) if is_short else ''}: {_why(is_short, is_electric)} {_how(say, verdict.change)}"
    )
    if doubted:
        text += f" Change nothing before that run is sound: {doubted}."
    return say_it(text, f"{_SOLVED}; {_REACH}; {practice}", "trial.run")


def _before_the_propeller(diagnosis: Diagnosis | None, is_short: bool) -> str:
    """How the sentence on its pitch begins: with what to look at first, where that explains the trial better."""
    if diagnosis is None or not (diagnosis.is_clear and _comes_first(diagnosis, is_short)):
        return "The"
    cause = diagnosis.leader.cause
    return (
        f"Leave the propeller as it is until the {cause} has been looked at, which explains the trial better: mend "
        f"what is found, and try her again. If the {cause} is sound, the"
    )


def _in_vain(say: Wording, verdict: Judged, sense: str) -> str:
    """What was tried, where no change of pitch that was brings full throttle where it is wanted."""
    ends = f"the series that stands for the propeller describes none like it with {sense} pitch"
    if verdict.tried < 0.5 * verdict.step:
        return f"; what change of pitch that takes is not worked out, as {ends}"
    vain = f", and {say.about_size(verdict.tried)} of pitch {sense} do not bring it there"
    return f"{vain}; {ends} than that" if verdict.series_ends else vain


def _in_the_band(diagnosis: Diagnosis | None) -> str:
    """What a full throttle as it is wanted says of the propeller, where the other runs have something against it."""
    if diagnosis is None or not diagnosis.is_clearly("propeller"):
        return "the propeller is right"
    if diagnosis.leader.size > 0.0:
        return "that is right, though the runs below it say that the propeller takes more than it should"
    return (
        "the engine is safe. But the runs below it say that the propeller takes less than it should: she is slower for "
        "her engine speed, and the governor may hold the engine back before it gives its power"
    )


def _aim(say: Wording, verdict: Judged) -> str:
    """What the change is to leave, and what would just do, where that is less."""
    aim = f", to run about {percent(verdict.light_running)} light as planned"
    if verdict.least is None or verdict.least == verdict.change:
        return aim
    return f"{aim} ({say.about_size(abs(verdict.least))} would just bring it there, with little in hand)"


def _comes_first(diagnosis: Diagnosis, is_short: bool) -> bool:
    """Whether a hull that drags or an engine that is weak is what holds the engine down."""
    cause, size = diagnosis.leader.cause, diagnosis.leader.size
    return is_short and ((cause == "hull" and size > 0.0) or (cause == "engine" and size < 0.0))


def _why(is_short: bool, is_electric: bool) -> str:
    if is_short:
        harm = (
            "a motor held down gives less than its power" if is_electric else "an engine held down runs hot and smokes"
        )
        return f"with the pitch it has, it holds the engine down, and {harm}."
    return "the engine is safe, but it cannot give its power before its governor holds it back."


def _how(say: Wording, change: float) -> str:
    """How far a wheel can be bent, and why the diameter stays."""
    bronze, stainless = _REPITCH["bronze_in"], _REPITCH["stainless_in"]
    inches = abs(change) / INCH
    if inches <= stainless + 1e-9:
        bend = "A propeller shop can bend that into a bronze or a stainless wheel."
    elif inches <= bronze + 1e-9:
        most = say.about_size(stainless * INCH)
        bend = f"A propeller shop can bend that into a bronze wheel; a stainless one takes about {most} at most."
    else:
        bend = "That is more than a shop bends into a wheel: another wheel is needed."
    return f"{bend} Pitch comes first: it can be put back, and a diameter that is cut cannot."
