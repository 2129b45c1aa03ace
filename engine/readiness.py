"""Whether each of the four things that are ordered can be ordered: go, or not yet and why. Of a motor that turns the
shaft itself they are three: there is no gear."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from engine.assessment import Assessment
from engine.defaults import whole
from engine.findings import Verdict
from engine.plan import STAGES, Plan, entry_at, is_direct, noun_of, stage_problems
from engine.plan_defaults import sure_ratio
from engine.reasons import Reason, reasons, stops
from engine.showing import share_of_boats

ITEMS = ("engine", "gear", "propeller", "shaft")

_OWN: Mapping[str, tuple[str, ...]] = {
    "engine": ("hull", "speed", "power", "engine", "fit"),
    "gear": ("gear",),
    "propeller": ("propeller",),
    "shaft": ("shaft",),
}
"""Item -> the stages that say something about it which they do not say about an item before it."""

_AFTER: Mapping[str, tuple[str, ...]] = {
    "engine": (),
    "gear": ("engine",),
    "shaft": ("engine", "gear"),
    "propeller": ("engine", "gear", "shaft"),
}
"""Item -> what must be settled before it, in the order in which they are settled. The bore of the propeller is that of
the shaft; so they are ordered together."""


@dataclass(frozen=True)
class Readiness:
    """Whether an item can be ordered.

    item: one of ITEMS.   called: in a sentence, where the engine may be a motor.
    reasons: what stands against it, the first to clear first; none when it is a go.
    notes: second looks that the stages ask for about it, go or not.
    """

    item: str
    called: str
    go: bool
    reasons: tuple[Reason, ...]
    notes: int


def readiness(assessment: Assessment) -> tuple[Readiness, ...]:
    """Go or not yet for engine, gear, propeller and shaft, in this order; without a gear that is not there.

    Not yet: where something is missing, not understood, guessed or stops, where too much doubt is left, or where an
    item that comes before it is not settled. What decides it beyond the verdicts of the stages is our own choice.
    """
    own = {item: tuple(_own_reasons(assessment, item)) for item in _AFTER}
    ordered = [item for item in ITEMS if item != "gear" or not _has_no_gear(assessment)]
    return tuple(_readiness(assessment, item, own) for item in ordered)


def _has_no_gear(assessment: Assessment) -> bool:
    """Whether the chosen motor turns the shaft itself, as far as the ratio is known."""
    plan, answers = assessment.plan, assessment.outcomes["gear"].answers
    return is_direct(plan, sure_ratio(plan) if answers is None else answers.ratio)


def _readiness(assessment: Assessment, item: str, own: Mapping[str, tuple[Reason, ...]]) -> Readiness:
    before = (_before(assessment, earlier, own[earlier][0]) for earlier in _AFTER[item] if own[earlier])
    against = tuple(dict.fromkeys((*before, *own[item])))
    findings = [finding for stage in _OWN[item] for finding in assessment.outcomes[stage].findings]
    called = _called(assessment, item)
    return Readiness(item, called, not against, against, [finding.verdict for finding in findings].count(Verdict.LOOK))


def _before(assessment: Assessment, earlier: str, first: Reason) -> Reason:
    """The first reason against an earlier item, as told of those after it; a gear that is not there is not named."""
    if earlier == "gear" and _has_no_gear(assessment):
        return first
    return Reason(f"First settle the {_called(assessment, earlier)}: {_lowered(first.text)}", first.path)


def _called(assessment: Assessment, item: str) -> str:
    """An item in a sentence."""
    return noun_of(assessment.plan.engine.selected) if item == "engine" else item


def _own_reasons(assessment: Assessment, item: str) -> Iterator[Reason]:
    """What stands against an item by itself; what is missing explains why stages after it have no answers."""
    found = [reason for stage in _OWN[item] for reason in reasons(assessment, stage)]
    yield from found
    if not any(reason.is_missing for reason in found):
        yield from _waiting(assessment, item)
    yield from order_reasons(assessment, item)


def order_reasons(assessment: Assessment, item: str) -> Iterator[Reason]:
    """What stands against ordering one of ITEMS although it stands against no page of the plan: what only an order
    needs. Raises: KeyError for another item."""
    yield from _FOR_AN_ORDER[item](assessment)


def _waiting(assessment: Assessment, item: str) -> Iterator[Reason]:
    """The first stage without answers, and where the trouble began. That is not told twice: where it began with an
    item that comes before, that is the reason; where a finding stops the stage, the finding is."""
    waits = next((stage for stage in _OWN[item] if assessment.outcomes[stage].answers is None), None)
    if waits is None:
        return
    began = next(stage for stage in STAGES if assessment.outcomes[stage].answers is None)
    is_told = any(began in _OWN[earlier] for earlier in _AFTER[item])
    outcome = assessment.outcomes[waits]
    if not is_told and not any(finding.verdict is Verdict.STOP for finding in outcome.findings):
        path = next((problem.path for problem in stage_problems(assessment.plan, began)), began)
        yield Reason(f"The {waits} page waits for {outcome.waits_for or 'what is still missing.'}", path)


# what only an order needs


def _against_engine(assessment: Assessment) -> Iterator[Reason]:
    plan = assessment.plan
    chosen = plan.engine.selected
    if len(plan.engine.all) > 1 and not any(item.name == plan.engine.chosen for item in plan.engine.all):
        first = "" if chosen is None else f" The first, {chosen.name or 'without a name'}, stands in."
        yield Reason(f"No candidate is chosen.{first}", "engine.chosen")


def _against_gear(assessment: Assessment) -> Iterator[Reason]:
    answers, noun = assessment.outcomes["gear"].answers, noun_of(assessment.plan.engine.selected)
    without_gear = _has_no_gear(assessment)
    if answers is not None and answers.rating_margin_fraction is None and not without_gear:
        yield Reason(f"The rating of the gear is not known, nor whether it carries this {noun}.", "gear.rating")
    yield from _hand_not_known(assessment.plan, without_gear)


def _hand_not_known(plan: Plan, without_gear: bool) -> Iterator[Reason]:
    """Two screws turn outward, whatever the gears are; of one the gear decides, and without a gear the owner."""
    if plan.gear.output_turns is None and whole(plan.hull, "screws") == 1:
        text = "It is not known which way the gear's output turns: ask its maker."
        if without_gear:
            text = "It is not chosen which way the motor turns the shaft; it drives ahead either way."
        yield Reason(text, "gear.output_turns")


def _against_propeller(assessment: Assessment) -> Iterator[Reason]:
    """Also what the sea trial holds against the wheel that was fitted, while the plan has no other: the same is not
    ordered again."""
    trial = assessment.outcomes["trial"].answers
    if trial is not None and trial.is_of_plan:
        yield from stops(assessment, "trial")
    answers, noun = assessment.outcomes["propeller"].answers, noun_of(assessment.plan.engine.selected)
    if answers is None:
        return
    if not answers.light_running_fraction.is_known:
        yield Reason(
            f"It is not known whether the propeller takes the {noun}'s power: most boats outrun what was worked out.",
            "engine.candidate",
        )
    elif not answers.takes_the_power:
        yield Reason(f"The propeller is far too light: it would not take the {noun}'s power.", "propeller.pitch")
    elif not answers.is_sure_enough:
        share = share_of_boats(answers.reaches_rated_fraction)
        yield Reason(
            f"Too much doubt is left: in only {share} plausible boats the {noun} reaches its rated speed.",
            "propeller.pitch",
        )


def _against_shaft(assessment: Assessment) -> Iterator[Reason]:
    if assessment.plan.shaft.material is None:
        yield Reason(
            f"The material is not chosen; {entry_at('shaft.material').default} stands in for it.", "shaft.material"
        )


_FOR_AN_ORDER = {
    "engine": _against_engine,
    "gear": _against_gear,
    "propeller": _against_propeller,
    "shaft": _against_shaft,
}


def _lowered(text: str) -> str:
    """A sentence set behind a colon."""
    return f"{text[:1].lower()}{text[1:]}"
