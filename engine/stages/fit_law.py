"""Where the law may have a say; what there is to ask."""

from collections.abc import Iterator

from engine.findings import Finding, fits, look
from engine.machinery.engine_law import LAW_NOTE, POWER_INCREASE, is_deemed_quiet, noise_limit
from engine.machinery.standards import named
from engine.numeric import told_apart
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.stages.engine import EngineAnswers
from engine.stages.hull import HullAnswers
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import is_told_in_times, more_or_less, percent

_LAW = f"{named('EU 2013/53/EU')}; {named('US 40 CFR 1042')}; not legal advice"
_BATTERY = named("ISO 16315", "ABYC E-30", "ISO 23625", "ABYC E-13")
_NOISE = f"limits from memory, a default; {named('ISO 14509-1')} and {named('EU 2013/53/EU')} decide"


def law_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, engine: EngineAnswers) -> Iterator[Finding]:
    """Power, kind of propulsion and noise against what is printed of the European directive."""
    old, item = plan.present.engine_power, engine.chosen.item
    if isinstance(item, Motor):
        yield look(
            "Changing a boat from diesel to electric drive may count as a major conversion, with an assessment of "
            f"its own (from memory). {LAW_NOTE}",
            f"{_LAW}; {named('ISO 16315')}",
            "engine.motor",
        )
        yield look(
            "Leave the battery's fuses, isolation, ventilation and charging, and all over 50 V, to a qualified person: "
            "what is aboard must be built for propulsion.",
            f"{_BATTERY}; licensed practice decides",
            "engine.motor",
        )
        return
    rated = engine.rated_power_kw * 1e3
    if old is not None:
        more = rated / old.si - 1.0
        if is_told_in_times(more):
            much = f"{more_or_less(more)} power as"
        else:
            share = told_apart(100.0 * abs(more), 100.0 * POWER_INCREASE)
            much = f"{share} % {'more' if more >= 0 else 'less'} power than"
        text = f"The new engine has {much} the present one"
        if more > POWER_INCREASE:
            yield look(
                f"{text}: over {percent(POWER_INCREASE)} European law calls it a major engine modification.",
                _LAW,
                "present.engine_power",
            )
        else:
            yield fits(f"{text}.", _LAW)
    yield fits(f"New engines must meet the emission rules of their power band. {LAW_NOTE}", _LAW)
    limit = noise_limit(rated, engine.engines)
    quiet = is_deemed_quiet(speed.top_froude_number, rated * engine.engines, hull.displacement_kg.best)
    deemed = (
        "so slow and lightly powered a boat may be deemed to keep it" if quiet else "have it measured, or ask the maker"
    )
    yield fits(f"Where European noise limits apply, {limit:.0f} dB is hers at 25 m (82 ft); {deemed}.", _NOISE)
