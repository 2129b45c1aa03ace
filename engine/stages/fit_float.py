"""How the change of weight moves her in the water."""

from collections.abc import Iterator
from typing import Any

from engine.defaults import amount, whole
from engine.findings import Finding, fits, look
from engine.machinery.float_change import (
    MOMENT_DOUBT,
    STABILITY_SHARE,
    added_weights,
    float_change,
    mass_per_immersion,
    moment_per_trim,
)
from engine.machinery.standards import named
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.boats import is_sailing_yacht
from engine.stages.engine import EngineAnswers
from engine.stages.fit_answers import FitAnswers
from engine.stages.hull import HullAnswers
from engine.stages.weights import machinery_of, moved_weights
from engine.stages.wording import Wording, percent

_PART_THREE = 6.0
"""Hull length under which ISO 12217-3 holds [m]: its title, from memory. A shorter waterline leaves it open."""
_AS_HEAVY = 0.05
"""A change of weight that is none [kg]: no scale aboard tells it. Ours."""
_TRIM = "waterplane and moment to change trim, within 15 %: ours between the handbook's and theory's; small changes"


def float_figures(plan: Plan, hull: HullAnswers, engine: EngineAnswers) -> dict[str, Any]:
    """The figures of the answers by their names; sinkage and trim only where weights and places are known."""
    form, density = hull.form, float(hull.water.density)
    area = float(form.waterplane_area)
    per_immersion = float(mass_per_immersion(area, density))
    figures: dict[str, Any] = {"immersion": Wording(plan.units).immersion(per_immersion)}
    changes = _changes(plan, engine)
    if changes is None:
        return figures
    mass, moment = added_weights(changes)
    figures["weight_change_kg"] = mass
    if plan.fit.present_place is None:
        figures["sinkage_m"] = mass / per_immersion
        return figures
    length = float(form.waterline_length)
    flotation = length * (0.5 + float(form.flotation_percent) / 100.0)
    per_trim = float(moment_per_trim(area, float(form.waterline_beam), density))
    moved = float_change(mass, moment, flotation, length, per_immersion, per_trim)
    return figures | {
        "sinkage_m": moved.sinkage,
        "trim_m": moved.trim,
        "bow_m": moved.bow,
        "stern_m": moved.stern,
    }


def _changes(plan: Plan, engine: EngineAnswers) -> tuple[tuple[float, float], ...] | None:
    """What moved_weights has, and the other weight where its place is known or no place is."""
    moved, asked = moved_weights(plan, engine.chosen.item, engine.engines), plan.fit
    if moved is None or asked.other_weight is None:
        return moved
    if asked.other_place is None:
        return moved if asked.present_place is not None else (*moved, (asked.other_weight.si, 0.0))
    return (*moved, (asked.other_weight.si, asked.other_place.si))


def _stability(plan: Plan) -> str:
    """The threshold, and the part of the standard for her kind; the shorter boats' part where she may be one."""
    parts = [named("ISO 12217-2" if is_sailing_yacht(plan) else "ISO 12217-1")]
    if amount(plan.hull, "waterline_length") < _PART_THREE:
        parts.insert(0, named("ISO 12217-3"))
    return f"2 % of displacement: our own threshold; {' or '.join(parts)}, with a qualified person"


def float_findings(plan: Plan, hull: HullAnswers, chosen: Candidate | Motor, answers: FitAnswers) -> Iterator[Finding]:
    """Sentences about weight, sinkage and trim, and the caution on stability."""
    say, change = Wording(plan.units), answers.weight_change_kg
    if change is None:
        yield look(
            "The weights of what comes out and what goes in are not all known: weigh them, trim and stability hang "
            "on it.",
            _stability(plan),
            "present.engine_weight",
        )
        return
    new = machinery_of(chosen)
    if new is not None and new.is_estimated:
        yield look(
            f"The battery is reckoned at {say.mass(new.battery)} by its energy and kind: weigh it, or ask its maker.",
            "specific energy of packs, from memory, a default",
            "engine.motor",
        )
    share = abs(change) / hull.displacement_kg.best
    text = "All together she keeps her weight"
    if abs(change) >= _AS_HEAVY:
        text = f"All together she gets {say.mass(abs(change))} {'heavier' if change > 0 else 'lighter'}"
    if answers.sinkage_m is not None:
        text += f" and floats {say.gap_of_float(answers.sinkage_m)}"
    if answers.bow_m is not None and answers.stern_m is not None:
        text += f", at the bow {say.gap_of_float(answers.bow_m)}, at the stern {say.gap_of_float(answers.stern_m)}"
        text += f" (trim within {percent(MOMENT_DOUBT)})"
    if share > STABILITY_SHARE:
        yield look(
            f"{text}. That is {percent(share, 1)} of her displacement: have her stability checked before she goes to "
            "sea. Taking weight from low down raises her centre of gravity, putting it high does so too.",
            _stability(plan),
            "present.engine_weight",
        )
    else:
        yield fits(f"{text}; {percent(share, 1)} of her displacement.", f"{_TRIM}; {_stability(plan)}")
    if plan.fit.other_weight is not None and plan.fit.other_place is None and plan.fit.present_place is not None:
        yield look("Say where the other weight goes: without its place it is left out.", _TRIM, "fit.other_place")
    if answers.trim_m is None:
        yield look(
            f"Say where the present engine{'s stand' if whole(plan.hull, 'screws') == 2 else ' stands'}, ahead of the "
            "after end of the waterline, to see how she trims.",
            _TRIM,
            "fit.present_place",
        )
