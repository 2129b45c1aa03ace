"""How a number was worked out, as the owner reads it: formula, what goes into it with its values, other methods."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from math import isfinite
from typing import TYPE_CHECKING, Any

from engine.answers import Label, best_of, columns, label_of, labels, row_tables, said_of_motor, shown, unit_of
from engine.bands import Band
from engine.constants import KNOT
from engine.entries import entries
from engine.plan import (
    STAGES,
    Plan,
    chosen_path,
    entry_at,
    label_at,
    may_be_electric,
    may_burn_fuel,
    page_of,
    text_at,
)
from engine.plan_defaults import default_at, default_in
from engine.stages.wording import more_or_less
from engine.workings import CHOSEN, Working, workings
from wizard.echo import not_known_text
from wizard.tables import value_lines
from wizard.wrapping import rows_of

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.stages.power import PowerRow

_GAP = 2
_LABEL_PER_CENT = 50
"""Labels of a list get at most this share of its width; longer ones are wrapped."""
_INDENT = "  "
_IN_EACH_ROW = "one value in each row of the table"
_NOT_YET = "not worked out yet"
_BY_METHOD = {"cruise_resistance_n": "resistance_n", "cruise_effective_power_kw": "effective_power_kw"}
"""Answers of the power page that each resistance method has a value of its own for: column of the curve for it."""
_OF_DRIVE: Mapping[str, Callable[[Plan], bool]] = {
    "range.price": may_burn_fuel,
    "range.electricity_price": may_be_electric,
}
"""Prices, and whether any candidate takes what they are of."""


@dataclass(frozen=True)
class Number:
    """A number on a page.   name: as in `engine.workings`, "cruise_kn" or, in a table, "curve.resistance_n"."""

    page: str
    name: str

    @property
    def is_column(self) -> bool:
        """Whether it is a column of a table, with a value in each row."""
        return "." in self.name


@dataclass(frozen=True)
class Part:
    """Some lines of a working, set for a width.

    leads_to: what Enter opens, a number or the (page, path) of a field; None for what is only read.
    """

    text: str
    leads_to: "Number | tuple[str, str] | None" = None
    is_heading: bool = False


# the numbers of a page


def numbers_of(page: str, assessment: "Assessment") -> list[Number]:
    """What can be looked up on a page: its answers, then the columns of its tables; of the review page that of all
    pages."""
    stages = (page,) if page in STAGES else STAGES
    return [number for stage in stages for number in _numbers_of_stage(stage, assessment)]


def _numbers_of_stage(stage: str, assessment: "Assessment") -> Iterator[Number]:
    answers = assessment.outcomes[stage].answers
    if answers is None:
        names = [name for name, label in labels(_answers_class(stage)) if not label.only_known]
    else:
        names = [name for name, _ in labels(answers)]
        for table, _, rows in row_tables(answers, on_page=True):
            names += [f"{table}.{column}" for column, _ in columns(rows, "metric")] if rows else []
    known = workings(stage)
    return (Number(stage, name) for name in names if name in known)


def _answers_class(stage: str) -> Any:
    return getattr(import_module(f"engine.stages.{stage}"), f"{stage.capitalize()}Answers")


def label_text(number: Number, assessment: "Assessment") -> str:
    """What a number is called on its page: "Wake", of a column "Power against speed: Shaft power"."""
    text = _words_of(number, assessment)
    return said_of_motor(text) if assessment.outcomes[number.page].of_motor else text


def _words_of(number: Number, assessment: "Assessment") -> str:
    if not number.is_column:
        return _label(number, assessment).text
    table, _, column = number.name.partition(".")
    answers = assessment.outcomes[number.page].answers
    title, rows = next((title, rows) for name, title, rows in row_tables(answers) if name == table)
    return f"{title.partition(',')[0]}: {label_of(type(rows[0]), column).text}"


def _label(number: Number, assessment: "Assessment") -> Label:
    answers = assessment.outcomes[number.page].answers
    return label_of(type(answers) if answers is not None else _answers_class(number.page), number.name)


def value_text(number: Number, assessment: "Assessment", units: str) -> str:
    """The value as its page shows it; in words while there is none, and for a column."""
    answers = assessment.outcomes[number.page].answers
    if answers is None:
        return _NOT_YET
    if number.is_column:
        return _IN_EACH_ROW
    return shown(number.name, _label(number, assessment), getattr(answers, number.name), units)


def list_lines(numbers: Sequence[Number], assessment: "Assessment", units: str, width: int) -> list[str]:
    """One text for each number, of one line or more: label, then value; of a column the label alone."""
    texts = [label_text(number, assessment) for number in numbers]
    longest = max((len(text) for text, number in zip(texts, numbers, strict=True) if not number.is_column), default=0)
    widest = min(longest, width * _LABEL_PER_CENT // 100)
    found = []
    for text, number in zip(texts, numbers, strict=True):
        if number.is_column:
            found.append(_wrapped(text, width, _INDENT))
            continue
        value = "-" if assessment.outcomes[number.page].answers is None else value_text(number, assessment, units)
        found.append(_beside(text, value_lines(value, max(width - widest - _GAP, 10)), widest))
    return found


def _beside(label: str, value: Sequence[str], widest: int) -> str:
    *before, last = rows_of(label, max(widest, 1)) or [""]
    first, *rest = value
    margin = " " * (widest + _GAP)
    return "\n".join([*before, f"{last:<{widest + _GAP}}{first}", *(f"{margin}{part}" for part in rest)])


def trail_text(numbers: Sequence[Number], width: int) -> str:
    """The pages on the way to a working, "Propeller > Power > Hull"; the first ones go when it is too long."""
    pages = [number.page.capitalize() for number in numbers]
    text = " > ".join(pages)
    while len(text) > width and len(pages) > 1:
        del pages[0]
        text = " > ".join(["...", *pages])
    return text


# one working


def working_parts(number: Number, plan: Plan, assessment: "Assessment", width: int) -> list[Part]:
    """All about one number but its head, set for a width; in the units of the plan."""
    working = workings(number.page)[number.name]
    return [
        *_standing(number, assessment, plan.units, width),
        *_section("Formula", working.formula, width, _INDENT),
        *_section("Where", working.where, width),
        *_fields(number.page, working, plan, width),
        *_answers(number.page, working, assessment, plan.units, width),
        *_others(number, working, assessment, plan.units, width),
        *_section("Source", working.source, width),
        *_section("Where it holds", working.valid, width),
    ]


def head_lines(number: Number, assessment: "Assessment", units: str, width: int) -> tuple[str, str]:
    """(what the number is called, its value in words), each on as many lines as it takes."""
    value = value_text(number, assessment, units)
    value = "no value for this plan" if value == "-" else value
    return _wrapped(label_text(number, assessment), width), _wrapped(value, width)


def _standing(number: Number, assessment: "Assessment", units: str, width: int) -> Iterator[Part]:
    """What the value waits for, or what its band means."""
    outcome = assessment.outcomes[number.page]
    if outcome.answers is None:
        text = f"The {number.page} page waits for: {outcome.waits_for or 'what is still missing.'}"
    else:
        text = _band_words(number, assessment, units)
    if text:
        yield Part(_wrapped(text, width))


def _band_words(number: Number, assessment: "Assessment", units: str) -> str:
    """What low and high of a band mean; "" for a number that has none."""
    value, hull = _value(number, assessment), assessment.outcomes["hull"].answers
    if not isinstance(value, Band) or not value.is_known or hull is None:
        return ""
    low, high = (shown(number.name, _label(number, assessment), end, units) for end in (value.low, value.high))
    if low == high:
        return ""
    if not _label(number, assessment).over_boats:
        return f"From {low} to {high} is what the formula leaves open; it is not how the plausible boats differ."
    return (
        f"Worked out in each of {hull.fleet.size:,} plausible boats: the middle one is shown, one in ten is below "
        f"{low}, one in ten above {high}."
    )


def _value(number: Number, assessment: "Assessment") -> Any:
    """The value itself; None for a column, and while there is none."""
    return None if number.is_column else getattr(assessment.outcomes[number.page].answers, number.name, None)


def _section(title: str, text: str, width: int, hanging: str = "") -> Iterator[Part]:
    """A heading and a text that is only read; nothing without a text."""
    if text.strip():
        yield _heading(title)
        yield Part("\n".join(_wrapped(line, width, hanging) for line in text.strip().splitlines()))


def _heading(title: str) -> Part:
    return Part(f"\n{title}", is_heading=True)


def _fields(here: str, working: Working, plan: Plan, width: int) -> Iterator[Part]:
    paths = [path for path in (plan_path(plan, path) for path in working.fields) if path]
    paths = [path for path in paths if path not in _OF_DRIVE or _OF_DRIVE[path](plan)]
    if paths:
        yield _heading("What goes into it: your fields")
    for path in paths:
        page = page_of(path)
        text = f"{label_at(plan, path)}: {field_text(plan, path)}{_page_words(page, here)}"
        yield Part(_wrapped(text, width, _INDENT), (page, path))


def plan_path(plan: Plan, path: str) -> str:
    """The path of a field in this plan, "chosen.x" as that of the chosen candidate; "" when the plan has no such
    field."""
    holder, _, name = path.rpartition(".")
    if holder != CHOSEN:
        try:
            entry_at(path)
        except KeyError:
            return ""
        return path
    chosen = plan.engine.selected
    if chosen is None or name not in entries(type(chosen)):
        return ""
    return f"{chosen_path(plan)}.{name}"


def field_text(plan: Plan, path: str) -> str:
    """A field as the owner typed it, or what is taken while it is empty or not known."""
    entry, text = entry_at(path), text_at(plan, path)
    if path in plan.unread:
        return f"{text}, not understood"
    if path in plan.not_known:
        return f"not known; {not_known_text(plan, path)}"
    if text:
        return text
    default, source = default_at(plan, path)
    if default:
        return f"empty: default {default_in(plan, path)}{f' ({source})' if source else ''}"
    return "empty: needed" if entry.needed else "empty: left out or estimated"


def _answers(here: str, working: Working, assessment: "Assessment", units: str, width: int) -> Iterator[Part]:
    """The answers that go into it; without those of another kind of drive, which are never shown."""
    numbers = [
        number
        for number in map(_named, working.answers)
        if assessment.outcomes[number.page].answers is None
        or _value(number, assessment) is not None
        or not _label(number, assessment).only_known
    ]
    if numbers:
        yield _heading("What goes into it: other answers")
    for number in numbers:
        yield Part(_wrapped(_line(number, here, assessment, units), width, _INDENT), number)


def _named(reference: str) -> Number:
    return Number(*reference.split(".", 1))


def _line(number: Number, here: str, assessment: "Assessment", units: str) -> str:
    page = _page_words(number.page, here)
    return f"{label_text(number, assessment)}: {value_text(number, assessment, units)}{page}"


def _page_words(page: str, here: str) -> str:
    """Where something stands, when it is not on the page of the number itself."""
    return f", on the {page} page" if page != here else ""


# other methods


def _others(number: Number, working: Working, assessment: "Assessment", units: str, width: int) -> Iterator[Part]:
    beside = [other for other in map(_named, working.beside) if _value(other, assessment) is not None]
    methods = list(_method_lines(number, assessment, units))
    if beside or methods:
        yield _heading("Other methods")
    for other in beside:
        text = f"{_line(other, number.page, assessment, units)}{_difference(number, other, assessment)}"
        yield Part(_wrapped(text, width, _INDENT), other)
    for line in methods:
        yield Part(_wrapped(line, width, _INDENT))


def _difference(number: Number, other: Number, assessment: "Assessment") -> str:
    """How far another answer is from this one, ", 12 % more"; "" where the two cannot be compared."""
    values = [_value(each, assessment) for each in (number, other)]
    if not all(isinstance(value, Band | float | int) and not isinstance(value, bool) for value in values):
        return ""
    if (unit_of(number.name) or ())[:2] != (unit_of(other.name) or ())[:2]:
        return ""
    return _share_words(*(float(best_of(value)) for value in values))


def _share_words(own: float, other: float) -> str:
    if not (isfinite(own) and isfinite(other)) or own <= 0.0:
        return ""
    change = other / own - 1.0
    return f", {more_or_less(change)}" if round(100.0 * change) else ", the same within 1 %"


def _method_lines(number: Number, assessment: "Assessment", units: str) -> Iterator[str]:
    """What each resistance method says by itself, or what it counts, where the number is made of them."""
    answers = assessment.outcomes[number.page].answers
    if answers is None:
        return
    if number == Number("hull", "methods.weight_fraction"):
        for row in answers.methods:
            yield f"{row.method}: {shown('weight_fraction', Label('', digits=2), row.weight_fraction, units)}"
    speed = assessment.outcomes["speed"].answers
    if number.page == "power" and number.name in _BY_METHOD and answers.curve and speed is not None:
        row = min(answers.curve, key=lambda row: abs(row.speed_kn - speed.cruise_kn))
        yield from _by_method_lines(_BY_METHOD[number.name], row, units)


def _by_method_lines(column: str, row: "PowerRow", units: str) -> Iterator[str]:
    own = getattr(row, column).best
    at = shown("speed_kn", Label(""), row.speed_kn, units)
    yield (
        f"Each method by itself at {at}, the row of the table nearest to cruise, for the boat as described, the log "
        f"left out; the answer there is {shown(column, Label(''), own, units)}:"
    )
    for method, power_kw in row.methods.items():
        if power_kw is None:
            yield f"{method}: does not apply to her at this speed"
            continue
        value = power_kw if column.endswith("_kw") else 1e3 * power_kw / (row.speed_kn * KNOT)
        weight = shown("weight_fraction", Label("", digits=2), row.by_method_fraction.get(method, 0.0), units)
        yield f"{method}: {shown(column, Label(''), value, units)}{_share_words(own, value)}; weight {weight}"


def _wrapped(text: str, width: int, hanging: str = "") -> str:
    """A text on as many lines as it takes, those after the first moved in."""
    return "\n".join(rows_of(text, max(width, 10), subsequent_indent=hanging, break_on_hyphens=False)) or ""
