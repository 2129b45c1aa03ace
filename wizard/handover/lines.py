"""Figures of a sheet out of the answers of a stage, or out of what the owner gave."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from engine.answers import Label, labels, unit_of
from engine.assessment import Assessment
from engine.bands import Band
from engine.defaults import whole
from engine.entries import is_given
from engine.findings import Outcome
from engine.plan import Plan, chosen_path, entry_at, is_direct, value_at
from engine.plan_defaults import default_at
from engine.quoting import shortened
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.units import Dimension, Quantity, unit_named
from wizard.handover.sheet import NOT_GIVEN, NOT_YET, Line

_DIGITS_GIVEN = 4
"""Significant digits of what the owner gave, as the form shows it beside the field."""


@dataclass(frozen=True)
class Asked:
    """What a sheet is made from: an assessed plan, and the plan with guesses for what is not known."""

    assessment: Assessment

    @property
    def plan(self) -> Plan:
        """The plan as the owner has it."""
        return self.assessment.plan

    @cached_property
    def guessed(self) -> Plan:
        """The plan with guesses for what is not known: what was worked out."""
        return self.assessment.plan_with_guesses

    @property
    def units(self) -> str:
        """In which the sheet is written, "metric" or "imperial"."""
        return self.plan.units

    def outcome(self, stage: str) -> Outcome[Any]:
        """What a stage came to.   Raises: KeyError for another name."""
        return self.assessment.outcomes[stage]

    def answers(self, stage: str) -> Any:
        """The answers of a stage, None while there are none."""
        return self.outcome(stage).answers

    @property
    def item(self) -> Candidate | Motor | None:
        """The chosen candidate."""
        return self.guessed.engine.selected

    @property
    def is_electric(self) -> bool:
        """Whether the chosen candidate is a motor."""
        return isinstance(self.item, Motor)

    @property
    def screws(self) -> int:
        """How many engines and propellers she has."""
        return whole(self.guessed.hull, "screws")

    @property
    def is_direct(self) -> bool:
        """Whether a motor turns the shaft itself, as far as the ratio is known."""
        gear = self.answers("gear")
        return gear is not None and is_direct(self.guessed, gear.ratio)

    @property
    def item_path(self) -> str:
        """Where the chosen candidate stands in the plan. Raises: LookupError when there is none."""
        path = chosen_path(self.guessed)
        if not path:
            raise LookupError("there is no candidate")
        return path

    def not_yet(self, *stages: str) -> tuple[str, ...]:
        """A sentence for the first of these stages that is not worked out, and what to do; nothing when all are."""
        for stage in stages:
            outcome = self.outcome(stage)
            if outcome.answers is None:
                page = outcome.behind or stage
                waits = self.outcome(page).waits_for.rstrip(".")
                return (f"Not yet: the {page} page waits for {waits}. Fill that in, and print this sheet again.",)
        return ()


def answered(
    kind: type[Any], outcome: Outcome[Any], names: Sequence[str], notes: Mapping[str, str] | None = None
) -> Iterator[Line]:
    """The answers of these names as lines; while the stage has none, each says so. What is only shown when known is
    left out while it is not.
    """
    described = dict(labels(kind))
    for name in names:
        value = getattr(outcome.answers, name, None)
        if value is None and described[name].only_known and outcome.answers is not None:
            continue
        absent = NOT_YET if outcome.answers is None else NOT_GIVEN
        yield Line(name, described[name], value, (notes or {}).get(name, ""), absent)


def called(lines: Iterable[Line], **texts: str) -> Iterator[Line]:
    """The same lines, some under another label: on paper there is no page round them that says what they are of.

    texts: labels by the key of their line.
    """
    for line in lines:
        yield replace(line, label=replace(line.label, text=texts.get(line.key, line.label.text)))


def engine_name(asked: Asked) -> Line:
    """What the chosen candidate is called, once it can be reckoned with."""
    engine = asked.answers("engine")
    return Line("name", Label("Engine"), None if engine is None else shortened(engine.name))


def given(asked: Asked, path: str, key: str, label: str = "") -> Line:
    """What the owner gave, with its default or guess while the field is empty.

    key: of the line, which says the unit in which the number is kept.
    """
    entry, value = entry_at(path), value_at(asked.guessed, path)
    note = ""
    if path in asked.plan.not_known:
        note = "a guess"
    elif not is_given(value) and entry.default:
        value, note = entry.read(default_at(asked.guessed, path).text), "default"
    shape = Label(
        label or entry.label, entry.metric, entry.imperial, _DIGITS_GIVEN, to_one=entry.dimension is Dimension.RATIO
    )
    return Line(key, shape, _number(key, value), note, NOT_GIVEN)


def _number(key: str, value: Any) -> Any:
    """A quantity in the unit of its key, as a band when the owner is unsure; words and counts as they are."""
    if not isinstance(value, Quantity):
        return value if is_given(value) else None
    known = unit_of(key)
    unit = None if known is None else unit_named(known[0], known[1])

    def kept(quantity: Quantity) -> float:
        return quantity.si if unit is None else unit.from_si(quantity.si)

    if value.low is None or value.high is None:
        return kept(value)
    return Band(kept(value), kept(value.low), kept(value.high))
