"""A stand-in for the engine's assessment: plausible shapes, quick, and without the formulas."""

import dataclasses
import typing
from collections.abc import Mapping
from importlib import import_module
from types import SimpleNamespace
from typing import Any

from engine.assessment import Assessment
from engine.bands import Band, Money
from engine.findings import Outcome, fits, look, stop
from engine.fleet import Fleet
from engine.plan import STAGES, Plan
from engine.stages.candidates import Rivals
from engine.stages.demand import Demand
from engine.stages.market import MarketAnswers, WheelRow

ROWS = 7


def made_up_wheel(size: str = "19 x 13 in, 3 blades", sections: str = "flat-faced (Gawn)", **more: Any) -> WheelRow:
    """One wheel of a made-up market, and the changes that take it into the plan."""
    diameter, _, rest = size.partition(" x ")
    changes = {
        "propeller.blades": "3",
        "propeller.sections": sections,
        "propeller.area_ratio": "0.55",
        "propeller.area_measure": "expanded area ratio",
        "propeller.diameter": f"{diameter} in",
        "propeller.pitch": rest.partition(",")[0],
        "gear.ratio": "2.63",
    }
    given: dict[str, Any] = {
        "area_ratio": 0.55,
        "ratio": 2.63,
        "reaches_rated_fraction": 0.972,
        "cruise_l_per_h": 2.39,
        "light_running_fraction": 0.034,
        "top_kn": 7.5,
        "cruise_efficiency_fraction": 0.54,
        "tip_clearance_fraction": 0.16,
        "tip_speed_m_per_s": 24.0,
        "remarks": "even blades [behind] a keel",
        "changes": changes,
    }
    return WheelRow(size=size, sections=sections, **given | more)


def made_up_market(*rows: WheelRow) -> Outcome[MarketAnswers]:
    """A market with two wheels of the sections asked for and one of others, or with the rows given."""
    found = rows or (made_up_wheel(), made_up_wheel("18 x 13.5 in, 3 blades", reaches_rated_fraction=0.911, remarks=""))
    others = (made_up_wheel("20 x 12 in, 3 blades", "airfoil (Wageningen B)"),)
    answers = MarketAnswers(wheels=6312, combinations=18936, feasible=295, tried=128, rows=found, others=others)
    return Outcome(answers, (fits("Recommended [kW]: the first.", "ours"), look("Ask the shop.", "no source")))


def made_up(kind: type[Any], step: float = 1.0) -> Any:
    """An object of an answers class with a value of the right type in every field; `step` makes rows differ."""
    hints = typing.get_type_hints(kind)
    return kind(**{item.name: _value(hints[item.name], item.name, step) for item in dataclasses.fields(kind)})


def _value(hint: Any, name: str, step: float) -> Any:
    if name == "path":
        return "hull.displacement"
    if name == "by_method_fraction":
        return {"Method A": 0.9, "Method B": 0.01}
    if hint in (Demand, Rivals):
        return None
    if hint in (Band, Band | None):
        return Band(2.0 * step, 1.9 * step, 2.2 * step)
    if hint in (Money, Money | None):
        return Money(2.0 * step, 1.9 * step, 2.2 * step, "EUR")
    if hint is Fleet:
        return SimpleNamespace(size=1024)
    if typing.get_origin(hint) is tuple:
        return tuple(made_up(typing.get_args(hint)[0], 1.0 + i) for i in range(ROWS))
    if hint is bool:
        return step > 2
    if hint is str:
        return f"{name} [x]"
    if hint is int:
        return int(step) + 1
    if typing.get_origin(hint) in (Mapping, dict):
        return {"Method A": step**2, "Method B": None if step > 4 else step**3}
    if "Form" in str(hint) or "Water" in str(hint):
        return None
    return 0.1 * step if name.endswith("fraction") else 2.0 * step


def stage_answers(stage: str) -> Any:
    """Made-up answers of one stage."""
    module = import_module(f"engine.stages.{stage}")
    return made_up(getattr(module, f"{stage.capitalize()}Answers"))


def fake_assessment(plan: Plan) -> Assessment:
    """Every stage has answers once the boat has a waterline length; else the first waits and so do the rest."""
    if plan.hull.waterline_length is None:
        waiting: Outcome[Any] = Outcome(None, (), "the waterline length.", behind=STAGES[0])
        return Assessment(plan, {**dict.fromkeys(STAGES, waiting), STAGES[0]: dataclasses.replace(waiting, behind="")})
    findings = (
        fits("It fits [kW] well.", "a source [1]"),
        look("Look at this [/x] again.", "a source"),
        stop("This stops.", "a rule", "hull.hull_draft"),
    )
    outcomes = {stage: Outcome(stage_answers(stage), findings[: 3 if stage == "hull" else 2]) for stage in STAGES}
    return Assessment(plan, outcomes)
