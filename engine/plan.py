"""The plan: what the owner has said so far, section by section, frozen. A change makes a new plan.

A field is named by its path, "hull.waterline_length" or "engine.candidate.0.rated_power". Text that could not be
understood is never dropped: it waits in `unread` under its path until the owner mends it, and is saved with the rest.
What the owner says not to know is empty, and its path is in `not_known`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, is_dataclass, replace
from typing import Any

from engine.answers import said_of_motor
from engine.entries import NOT_KNOWN, Entry, Value, entries, is_given, says_not_known, table_words, tables
from engine.quoting import quoted
from engine.sections.costs import Costs
from engine.sections.drive import Gear, Propeller
from engine.sections.electric import Motor
from engine.sections.engine import Candidate, Engine
from engine.sections.fit import Fit
from engine.sections.hull import Hull
from engine.sections.performance import Power, Speed
from engine.sections.present import Present
from engine.sections.shaft import Shaft
from engine.sections.trial import Trial
from engine.sections.voyage import Range, is_whole, lacks_width
from engine.showing import band_text

QUESTIONS: Mapping[str, str] = {
    "hull": "What boat is it?",
    "speed": "How fast should she go?",
    "power": "What does that take?",
    "engine": "Which engine?",
    "gear": "Which ratio?",
    "propeller": "Which propeller?",
    "shaft": "Which shaft?",
    "range": "How far will she go?",
    "fit": "Does it all fit?",
    "costs": "What will it cost?",
    "trial": "What did she do?",
    "review": "What is the plan?",
}
"""Page -> its question: every stage in its order, and the review last."""

PAGES = tuple(QUESTIONS)
STAGES = PAGES[:-1]
UNITS = ("metric", "imperial")
SPREAD_KEYS = ("best", "low", "high")
"""Of an unsure value in the file."""
_ON_THE_CHOSEN = frozenset(
    (
        *("fit.mounts_ahead", "fit.mounts_behind", "fit.new_place"),
        *("trial.vibration", "trial.run.engine_speed", "trial.season.engine_speed"),
    )
)
"""Fields on what goes in, engine or motor, without the number of their row."""


@dataclass(frozen=True)
class Variant:
    """The plan with other decisions, kept to compare.   choices: path -> text, see `engine.variants`."""

    name: str
    choices: Mapping[str, str]


@dataclass(frozen=True)
class Plan:
    """Everything that is saved.

    extra: what the file holds besides, under the section or row it stands in ("hull", "engine.candidate.0"; "" is the
    head of the file) and its key. It means nothing here and is kept.
    """

    name: str = "Untitled"
    stage: str = "hull"
    units: str = "metric"
    notes: str = ""
    hull: Hull = field(default_factory=Hull)
    present: Present = field(default_factory=Present)
    speed: Speed = field(default_factory=Speed)
    power: Power = field(default_factory=Power)
    engine: Engine = field(default_factory=Engine)
    gear: Gear = field(default_factory=Gear)
    propeller: Propeller = field(default_factory=Propeller)
    shaft: Shaft = field(default_factory=Shaft)
    range: Range = field(default_factory=Range)
    fit: Fit = field(default_factory=Fit)
    costs: Costs = field(default_factory=Costs)
    trial: Trial = field(default_factory=Trial)
    unread: Mapping[str, Any] = field(default_factory=dict)
    not_known: frozenset[str] = frozenset()
    variants: tuple[Variant, ...] = ()
    extra: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)


SECTIONS: Mapping[str, type[Any]] = {name: type(part) for name, part in vars(Plan()).items() if is_dataclass(part)}
"""Name -> section: the parts of a plan, whose fields are described."""

STAGE_SECTIONS: Mapping[str, tuple[str, ...]] = {
    stage: ("hull", "present") if stage == "hull" else (stage,) for stage in STAGES
}
"""Which sections a stage asks about: its own, and the hull stage also about what is in her now."""


@dataclass(frozen=True)
class Problem:
    """Something in a plan that wants the owner's hand: where, and one plain sentence."""

    path: str
    text: str


def page_of(path: str) -> str:
    """The stage that asks the field or table at a path; "" when none does."""
    section = path.partition(".")[0]
    return next((stage for stage, sections in STAGE_SECTIONS.items() if section in sections), "")


def entry_at(path: str) -> Entry:
    """The description of the field at a path. Raises: KeyError when there is no such field."""
    section, *rest = path.split(".")
    kind = SECTIONS[section]
    if len(rest) == 3:
        kind = tables(kind)[rest[0]]
    return entries(kind)[rest[-1] if rest else ""]


def label_at(plan: Plan, path: str) -> str:
    """What a field of a plan is called: one on the machine that goes in is said of a motor where that is one.

    Raises: KeyError when there is no such field.
    """
    label = entry_at(path).label
    kind = ".".join(part for part in path.split(".") if not part.isdigit())
    is_of_motor = kind in _ON_THE_CHOSEN and isinstance(plan.engine.selected, Motor)
    return said_of_motor(label) if is_of_motor else label


def label_in_row(plan: Plan, path: str) -> str:
    """The same where the row does not stand round it: of a table of several, "Speed, one way (run 2)"."""
    section, *rest = path.split(".")
    label = label_at(plan, path)
    if len(rest) != 3 or len(getattr(getattr(plan, section), rest[0])) < 2:
        return label
    return f"{label} ({table_words(SECTIONS[section])[rest[0]].one} {int(rest[1]) + 1})"


def value_at(plan: Plan, path: str) -> Value | None:
    """The value of a field; None (or () or "") while it is empty."""
    section, *rest = path.split(".")
    holder = getattr(plan, section)
    if len(rest) == 3:
        holder = getattr(holder, rest[0])[int(rest[1])]
    found: Value | None = getattr(holder, rest[-1])
    return found


def chosen_path(plan: Plan) -> str:
    """Where the chosen candidate stands in a plan, "engine.motor.0"; "" while there is none."""
    chosen = plan.engine.selected
    table = "motor" if isinstance(chosen, Motor) else "candidate"
    rows = enumerate(getattr(plan.engine, table))
    return next((f"engine.{table}.{index}" for index, row in rows if row is chosen), "")


def with_value(plan: Plan, path: str, value: Value | None) -> Plan:
    """A plan with one field changed; whatever was unread or not known there is gone."""
    section, *rest = path.split(".")
    holder = getattr(plan, section)
    value = entry_at(path).empty if value is None else value
    if len(rest) == 3:
        table, index, name = rest[0], int(rest[1]), rest[2]
        lines = list(getattr(holder, table))
        lines[index] = replace(lines[index], **{name: value})
        changed = replace(holder, **{table: tuple(lines)})
    else:
        changed = replace(holder, **{rest[-1]: value})
    unread = {at: text for at, text in plan.unread.items() if at != path}
    return replace(plan, **{section: changed}, unread=unread, not_known=plan.not_known - {path})


def with_text(plan: Plan, path: str, text: str) -> Plan:
    """A plan with one field as the owner typed it; text that cannot be understood is kept as unread."""
    entry = entry_at(path)
    if not text.strip():
        return with_value(plan, path, None)
    if entry.can_be_unknown and says_not_known(text):
        cleared = with_value(plan, path, None)
        return replace(cleared, not_known=cleared.not_known | {path})
    try:
        return with_value(plan, path, entry.read(text, plan.units))
    except ValueError:
        cleared = with_value(plan, path, None)
        return replace(cleared, unread={**cleared.unread, path: text})


def with_units(plan: Plan, units: str) -> Plan:
    """A plan that bare numbers are read and shown in other units of.

    What was understood stays as it is; what was not is read anew, as it would be from the file: 55 is no diameter in
    millimetres, and one in inches.
    """
    plan = replace(plan, units=units)
    for path, text in plan.unread.items():
        if isinstance(text, str):
            plan = with_text(plan, path, text)
    return plan


def _in_a_line(value: Any) -> str:
    """What the file has and was not understood, as it would be typed: a list and an unsure value, too."""
    if isinstance(value, list):
        return "; ".join(_in_a_line(item) for item in value)
    if isinstance(value, Mapping):
        if set(value) == set(SPREAD_KEYS):
            return band_text(*(str(value[key]) for key in SPREAD_KEYS))
        return "; ".join(f"{key} = {_in_a_line(item)}" for key, item in value.items())
    return str(value)


def text_at(plan: Plan, path: str) -> str:
    """A field as the owner wrote it, understood or not; "" while it is empty."""
    if path in plan.unread:
        return _in_a_line(plan.unread[path])
    if path in plan.not_known:
        return NOT_KNOWN
    value = value_at(plan, path)
    return "" if value is None else entry_at(path).write(value)


def with_row(plan: Plan, table_path: str, texts: Mapping[str, str] | None = None) -> Plan:
    """A plan with one row more at the end of a table such as "engine.candidate": an empty one, or with fields as
    typed."""
    section, name = table_path.split(".")
    holder = getattr(plan, section)
    kind = tables(SECTIONS[section])[name]
    index = len(getattr(holder, name))
    plan = replace(plan, **{section: replace(holder, **{name: (*getattr(holder, name), kind())})})
    for field_name, text in (texts or {}).items():
        plan = with_text(plan, f"{table_path}.{index}.{field_name}", text)
    return plan


def without_row(plan: Plan, table_path: str, index: int) -> Plan:
    """A plan with one row of a table taken out; what is kept by path for the rows behind it moves up with them."""
    section, name = table_path.split(".")
    holder = getattr(plan, section)
    lines = getattr(holder, name)
    kept = (*lines[:index], *lines[index + 1 :])
    return replace(
        plan,
        **{section: replace(holder, **{name: kept})},
        unread=_without_row_paths(plan.unread, table_path, index),
        not_known=frozenset(_without_row_paths(dict.fromkeys(plan.not_known), table_path, index)),
        extra=_without_row_paths(plan.extra, table_path, index),
    )


def _without_row_paths(by_path: Mapping[str, Any], table_path: str, index: int) -> dict[str, Any]:
    moved: dict[str, Any] = {}
    for path, value in by_path.items():
        head, found, tail = path.partition(f"{table_path}.")
        number, dot, rest = tail.partition(".")
        if head or not found or not number.isdigit():
            moved[path] = value
        elif int(number) != index:
            moved[f"{table_path}.{int(number) - (int(number) > index)}{dot}{rest}"] = value
    return moved


def paths(plan: Plan, section: str) -> Iterator[str]:
    """The paths of all fields of a section, tables last."""
    kind = SECTIONS[section]
    for name in entries(kind):
        yield f"{section}.{name}"
    for table, row_kind in tables(kind).items():
        for index in range(len(getattr(getattr(plan, section), table))):
            for name in entries(row_kind):
                yield f"{section}.{table}.{index}.{name}"


def why_unread(plan: Plan, path: str) -> str:
    """One sentence about text that was not understood; "" when all is well."""
    if path not in plan.unread:
        return ""
    text = _in_a_line(plan.unread[path])
    try:
        entry_at(path).read(text, plan.units)
    except ValueError as error:
        return str(error)
    return f"{quoted(text)} was not understood. Write it again."


def problems(plan: Plan, section: str) -> list[Problem]:
    """What is missing from a section, and what could not be understood, in the order in which it is asked."""
    found = []
    for path in paths(plan, section):
        entry = entry_at(path)
        if path in plan.unread:
            found.append(Problem(path, f"{label_in_row(plan, path)}: {why_unread(plan, path)}"))
        elif entry.needed and path not in plan.not_known and not is_given(value_at(plan, path)):
            found.append(Problem(path, f"Still missing: {label_in_row(plan, path)}."))
    if section == "engine" and not plan.engine.all:
        found.append(Problem("engine.candidate", "No engine is entered yet. Add a candidate."))
    if section == "range" and needs_fuel(plan):
        found += _of_tanks(plan)
    return found


def _of_tanks(plan: Plan) -> Iterator[Problem]:
    """What is missing of the tanks; beside one that is known, another that lacks its width only does not count."""
    if not _has_tank(plan):
        yield Problem("range.tank", "Still missing: Fuel tanks, or their measures.")
    elif not knows_tank(plan):
        for number, tank in enumerate(plan.range.measured):
            path = f"range.measured.{number}.width"
            if lacks_width(tank) and path not in plan.unread:
                yield Problem(path, f"Still missing: {entry_at(path).label}.")


def _has_tank(plan: Plan) -> bool:
    """Whether something is said of the tanks; a text that is not understood has a problem of its own."""
    return bool(plan.range.tank or plan.range.measured or "range.tank" in plan.unread)


def knows_tank(plan: Plan) -> bool:
    """Whether what one of the tanks holds is known."""
    return bool(plan.range.tank) or any(map(is_whole, plan.range.measured))


def needs_fuel(plan: Plan) -> bool:
    """Whether what is chosen burns fuel: all but a purely electric drive."""
    chosen = plan.engine.selected
    return not isinstance(chosen, Motor) or chosen.generator_power is not None


def may_be_diesel(plan: Plan) -> bool:
    """Whether a diesel is among the candidates, or could still come: while there are none."""
    return bool(plan.engine.candidate) or not plan.engine.motor


def may_be_electric(plan: Plan) -> bool:
    """The same of an electric drive."""
    return bool(plan.engine.motor) or not plan.engine.candidate


def may_burn_fuel(plan: Plan) -> bool:
    """Whether any of the candidates takes fuel from a tank: a diesel, or a motor with a generator."""
    return may_be_diesel(plan) or any(motor.generator_power is not None for motor in plan.engine.motor)


def holds_data(plan: Plan, path: str) -> bool:
    """Whether the owner has said anything in a field, understood or not, or entered a row of a table."""
    section, name, *_ = path.split(".")
    if name in tables(SECTIONS[section]):
        return bool(getattr(getattr(plan, section), name))
    return bool(text_at(plan, path))


def noun_of(item: Candidate | Motor | None) -> str:
    """What turns the propeller, in a word."""
    return "motor" if isinstance(item, Motor) else "engine"


def is_direct(plan: Plan, ratio: float | None, item: Candidate | Motor | None = None) -> bool:
    """Whether a motor turns the shaft itself, with nothing between that is rated: no gear, belt or chain.

    ratio: as far as it is known.   item: the candidate asked of; the chosen one while none is named.
    """
    has_rating = plan.gear.rating is not None or bool(plan.gear.ratings)
    return isinstance(item or plan.engine.selected, Motor) and ratio == 1.0 and not has_rating


def stage_problems(plan: Plan, stage: str) -> list[Problem]:
    """What is missing or unreadable in what a stage asks; the review page asks nothing."""
    return [problem for section in STAGE_SECTIONS.get(stage, ()) for problem in problems(plan, section)]
