"""What the trade accepts on a trial: temperatures, pressures, smoke, and whether it was a fair one."""

from collections.abc import Iterator

from engine.constants import MONTH, RPM
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.findings import Finding, fits, look, stop
from engine.machinery.diesel import TURBOCHARGED
from engine.machinery.exhaust import back_pressure_limit
from engine.plan import Plan, is_direct
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.sections.present import NOT_CHECKED
from engine.sections.trial import BLACK_SMOKE, HEAVY_LOAD, LIGHT_LOAD, NO_SMOKE
from engine.showing import numbered
from engine.stages.blades import growth_is_beyond
from engine.stages.fit_answers import Check, CheckRow, checked
from engine.stages.fit_exhaust import has_dry_exhaust
from engine.stages.logged_drive import TWO_RUNS, Reading
from engine.stages.wording import Wording
from engine.units import Quantity

_TRIAL = table("trial")
_ACCEPT, _FAIR = _TRIAL["accept"], _TRIAL["preconditions"]
_MEMORY = "trade practice, from memory; the maker's manual decides"
_BAR = 1e5


def trial_checks(plan: Plan, rated_speed: float, ratio: float | None = None) -> list[Check]:
    """Every line that a trial of such a drive is accepted by, given or not.

    rated_speed: of the engine [rev/s].   ratio: of the gear, as far as it is known; a motor may have none.
    """
    if isinstance(plan.engine.selected, Motor):
        gear = () if is_direct(plan, ratio) else (_gear_oil(plan),)
        return [_engine_room(plan), *gear]
    trial, say = plan.trial, Wording(plan.units)
    return [
        _no_load(plan, rated_speed),
        _coolant(plan, say),
        _rise(
            "raw water, rise through the engine",
            trial.sea,
            trial.raw_water_out,
            _ACCEPT["raw_water_rise_k"],
            say,
            "Look at the inlet, the strainer, the pump's impeller and the coolers.",
            "trial.raw_water_out",
        ),
        *(() if has_dry_exhaust(plan) else (_exhaust_hose(plan),)),
        _back_pressure(plan, say),
        checked(
            "depression behind the air filter",
            f"under {say.pressure(_ACCEPT['intake_depression_kpa'])}, {say.pressure(_ACCEPT['intake_clean_kpa'])} "
            "with a clean filter",
            trial.intake_depression,
            lambda pascal: say.pressure(pascal / 1e3),
            holds=lambda pascal: pascal <= _ACCEPT["intake_depression_kpa"] * 1e3,
            why="The engine wants air: look at the filter and at the vents of the engine room.",
            source=_MEMORY,
            path="trial.intake_depression",
        ),
        _engine_room(plan),
        _oil_pressure("at full throttle", trial.oil_pressure, "oil_rated_low_bar", say, "trial.oil_pressure"),
        _oil_pressure("at idle", trial.idle_oil_pressure, "oil_idle_low_bar", say, "trial.idle_oil_pressure"),
        _gear_oil(plan),
        _smoke(plan),
    ]


def _exhaust_hose(plan: Plan) -> Check:
    why = "The hose burns through when it is hotter: more injected water is wanted, before she is run again."
    return _no_hotter("skin of the exhaust hose", plan, "exhaust_hose", why)


def _engine_room(plan: Plan) -> Check:
    return _rise(
        "engine room over the air outside",
        plan.trial.air,
        plan.trial.engine_room,
        _ACCEPT["engine_room_rise_k"],
        Wording(plan.units),
        "Hot air takes power from what works in it: look at vents and fans.",
        "trial.engine_room",
    )


def _gear_oil(plan: Plan) -> Check:
    why = "Look at the oil level, the cooler and the gear's shifting travel: a clutch that slips makes heat."
    return _no_hotter("gear oil", plan, "gear_oil", why)


def _no_hotter(item: str, plan: Plan, name: str, why: str) -> Check:
    """A temperature under the one that is accepted.   name: of its field, and of what is accepted of it."""
    say, most = Wording(plan.units), float(_ACCEPT[f"{name}_c"])
    return checked(
        item,
        f"under {say.temperature(most)}",
        getattr(plan.trial, name),
        say.temperature,
        holds=lambda c: c <= most,
        why=why,
        source=_MEMORY,
        path=f"trial.{name}",
    )


def _no_load(plan: Plan, rated: float) -> Check:
    low, high = (_ACCEPT[f"no_load_{end}"] * rated for end in ("low", "high"))
    return checked(
        "full throttle in neutral",
        f"{low / RPM:.0f} to {high / RPM:.0f} rpm",
        plan.trial.no_load_speed,
        lambda speed: f"{speed / RPM:.0f} rpm",
        holds=lambda speed: low <= speed <= high,
        why="Look at the travel of the throttle and the setting of the governor before the propeller is judged.",
        source=_MEMORY,
        path="trial.no_load_speed",
    )


def _coolant(plan: Plan, say: Wording) -> Check:
    """The hottest reading, of all runs."""
    low = float(_ACCEPT["coolant_low_c"])
    most = amount_or_none(plan.trial, "coolant_limit") or float(_ACCEPT["coolant_high_c"])
    read = [run.coolant for run in plan.trial.run if run.coolant is not None]
    return checked(
        "coolant, at its hottest",
        f"{say.temperature(low)} to {say.temperature(most)}",
        max(read, key=lambda each: each.si, default=None),
        say.temperature,
        holds=lambda c: low <= c <= most,
        why="Too hot: look at raw water, coolers and thermostat, and stop at the maker's limit. Too cold: the "
        "thermostat, or she was not warm yet.",
        source=_MEMORY,
        path="trial.coolant_limit",
    )


def _rise(
    item: str, cold: Quantity | None, warm: Quantity | None, most: float, say: Wording, why: str, path: str
) -> Check:
    """A rise of temperature between two readings."""

    def degrees(kelvin: float) -> str:
        return f"{kelvin:.0f} C" if say.units == "metric" else f"{1.8 * kelvin:.0f} F"

    rise = None if cold is None or warm is None else Quantity(warm.si - cold.si, "")
    return checked(
        item,
        f"at most {degrees(most)}",
        rise,
        degrees,
        holds=lambda k: 0.0 <= k <= most,
        why=why if rise is None or rise.si >= 0.0 else "The warm one is colder: look at both readings again.",
        source=_MEMORY,
        path=path,
    )


def _back_pressure(plan: Plan, say: Wording) -> Check:
    """The highest reading, against the maker's limit, else that of the fit page."""
    engine = plan.engine.selected
    is_turbocharged = isinstance(engine, Candidate) and word(engine, "kind") in TURBOCHARGED
    own = amount_or_none(plan.trial, "back_pressure_limit") or amount_or_none(plan.fit, "back_pressure_limit")
    limit = own or back_pressure_limit(is_turbocharged)
    read = [run.back_pressure for run in plan.trial.run if run.back_pressure is not None]
    return checked(
        "exhaust back pressure, at its highest",
        f"under {say.pressure(limit / 1e3)}",
        max(read, key=lambda each: each.si, default=None),
        lambda pascal: say.pressure(pascal / 1e3),
        holds=lambda pascal: pascal <= limit,
        why="The exhaust is too narrow, too long, or the muffler too full: the engine loses power and runs hot.",
        source="the maker's limit; while none is given, the usual one of the fit page",
        path="trial.back_pressure_limit",
    )


def _oil_pressure(when: str, given: Quantity | None, limit: str, say: Wording, path: str) -> Check:
    least = float(_ACCEPT[limit]) * _BAR
    return checked(
        f"oil pressure, hot, {when}",
        f"at least {say.oil_pressure(least / 1e3)}",
        given,
        lambda pascal: say.oil_pressure(pascal / 1e3),
        holds=lambda pascal: pascal >= least,
        why="Stop the engine and find out why: look at level, grade and gauge.",
        source=_MEMORY,
        path=path,
    )


def _smoke(plan: Plan) -> Check:
    smoke, item, wanted = plan.trial.smoke, "smoke at full throttle", NO_SMOKE
    if smoke is None:
        return Check(CheckRow(item=item, wanted=wanted, yours="-", standing="not given"), None)
    text = f"Smoke at full throttle: {smoke}."
    if smoke == BLACK_SMOKE:
        why = "The engine gets more fuel than it has air for: it is overloaded, or short of air. Do not run her so."
        finding = stop(f"{text} {why}", "general practice", "trial.smoke")
    elif smoke == NO_SMOKE:
        finding = fits(text, "general practice")
    else:
        finding = look(f"{text} Look again when she is warm and has run an hour.", "general practice", "trial.smoke")
    return Check(CheckRow(item=item, wanted=wanted, yours=smoke, standing=finding.verdict.value), finding)


def fairness_findings(plan: Plan, readings: tuple[Reading, ...]) -> Iterator[Finding]:
    """What keeps the trial from being a fair one."""
    trial, source = plan.trial, f"conditions of a trial: {_FAIR['status']}"
    single = [reading for reading in readings if reading.measured != TWO_RUNS]
    if single:
        have, runs = "has" if len(single) == 1 else "have", numbered(len(readings), "run")
        yield look(
            f"{len(single)} of {runs} {have} a speed of one way only: a current is still in it, and it counts for "
            "less. Run both ways over the same stretch.",
            source,
            "trial.run",
        )
    if word(trial, "tachometer") == NOT_CHECKED:
        yield look(
            "The tachometer was not checked: 2 % of rpm is 6 % of power, or half an inch (13 mm) of pitch. Check it "
            "with an optical one before anything is cut or bent.",
            f"{source}; power goes with the cube of rpm",
            "trial.tachometer",
        )
    if word(trial, "load") == LIGHT_LOAD:
        yield look(
            "She was light: with more aboard the engine will turn slower, so full throttle should lie 2 to 4 % above "
            "rated now.",
            source,
            "trial.load",
        )
    elif word(trial, "load") == HEAVY_LOAD:
        yield look("She was heavier than planned: part of the gap is the load.", source, "trial.load")
    months = amount(trial, "time_since_cleaning")
    if months > 0.0:
        held = ", on the wheel no more than light growth" if growth_is_beyond(months / MONTH) else ""
        yield look(
            f"Bottom and propeller were not clean. What growth usually takes is allowed for{held}; a trial with a "
            "clean bottom says more.",
            source,
            "trial.time_since_cleaning",
        )
    yield from _depth_findings(plan, source)
    if not any(reading.full_throttle for reading in readings):
        yield look(
            "No run is marked as full throttle, and only such a run judges the propeller. Make one, warm, for some "
            "minutes.",
            source,
            "trial.run",
        )


def least_depth(plan: Plan) -> float:
    """Of the water in a fair trial [m].   Raises: ValueError while draft or length are missing.

    Source: general practice, from memory.
    """
    draft = amount_or_none(plan.hull, "keel_draft") or amount(plan.hull, "hull_draft")
    length = amount(plan.hull, "waterline_length")
    return float(max(_FAIR["depth_over_draft"] * draft, _FAIR["depth_over_length"] * length))


def _depth_findings(plan: Plan, source: str) -> Iterator[Finding]:
    depth = plan.trial.depth
    if depth is None:
        return
    say, least = Wording(plan.units), least_depth(plan)
    if depth.si < least:
        yield look(
            f"The water was {say.length(depth.si)} deep, and {say.length(least)} is wanted: shallow water slows her, "
            "and the hull looks worse than it is.",
            source,
            "trial.depth",
        )


def vibration_findings(plan: Plan) -> Iterator[Finding]:
    """Where she shook."""
    shaking = plan.trial.vibration
    if shaking:
        speeds = ", ".join(f"{each.si / RPM:.0f}" for each in shaking)
        yield look(
            f"Vibration at {speeds} rpm. At one narrow band it is the shaft or the mounts, compare the shaft page; at "
            "all speeds and growing fast, a bent shaft, a damaged blade or alignment. Align again after the first "
            "hours.",
            "trade practice, from memory",
            "trial.vibration",
        )
