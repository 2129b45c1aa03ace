"""What stands beside a field: the value as it was understood, the default in use, or what is wrong with the text."""

import textwrap

from engine.constants import FOOT
from engine.entries import Entry, Kind, Value, is_given
from engine.plan import Plan, entry_at, label_in_row, stage_problems, value_at
from engine.plan_defaults import default_at, default_in
from engine.showing import band_text, limits_shown, show
from engine.units import Quantity
from engine.usual import typical
from engine.usual.guesses import with_guesses
from wizard.wrapping import REST


def both_units(si: float, entry: Entry) -> str:
    """An SI value in the field's metric and imperial unit: "11.13 m = 36 ft 6 1/4 in"; once when they are the same."""
    shown = [show(si, unit, entry.dimension) for unit in (entry.metric, entry.imperial)]
    return shown[0] if shown[0] == shown[1] else " = ".join(shown)


def understood(entry: Entry, value: Value, units: str = "metric") -> str:
    """A value as it was understood, for the eye of the owner.   units: of the plan; how unsure it is stands in them."""
    if isinstance(value, Quantity):
        best = both_units(value.si, entry)
        if value.low is None or value.high is None:
            return best
        low, high = (show(part.si, entry.unit(units), entry.dimension) for part in (value.low, value.high))
        return band_text(best, low, high)
    if isinstance(value, tuple):
        return "; ".join(both_units(item.si, entry) for item in value)
    return str(value)


_MOST_NAMED = 3
"""So many fields that were not understood are named in a line."""


def unread_words(plan: Plan, page: str, but: str = "") -> str:
    """What is said of the fields of a page whose text was not understood: they may be out of sight; "" without any.

    but: the path of the field that is being typed in.
    """
    labels = [label_in_row(plan, path) for path in _unread_on(plan, page) if path != but]
    if not labels:
        return ""
    more = [f"{len(labels) - _MOST_NAMED} more"] if len(labels) > _MOST_NAMED else []
    return f"Not understood, so not counted: {'; '.join([*labels[:_MOST_NAMED], *more])}."


def _unread_on(plan: Plan, page: str) -> list[str]:
    """The paths of the fields of a page whose text was not understood."""
    if not plan.unread:
        return []
    return [problem.path for problem in stage_problems(plan, page) if problem.path in plan.unread]


def default_text(plan: Plan, path: str) -> str:
    """The value that is used while the field is empty; "" when there is none."""
    default = default_in(plan, path)
    return f"empty: {default}" if default else ""


def echo(plan: Plan, path: str) -> str:
    """The short text beside a field; "" while there is nothing to say."""
    entry = entry_at(path)
    if path in plan.unread:
        return "not understood"
    if path in plan.not_known:
        return not_known_text(plan, path)
    value = value_at(plan, path)
    if value is None or not is_given(value):
        return "needed" if entry.needed else default_text(plan, path)
    return understood(entry, value, plan.units) if echoes_value(plan, path) else ""


def not_known_text(plan: Plan, path: str) -> str:
    """What stands beside a field whose value the owner does not know."""
    taken = taken_instead(plan, path)
    if taken:
        return f"taken: {taken}"
    if not entry_at(path).can_be_guessed:
        return "estimated, or left out"
    if path.startswith(("hull.", "speed.")):
        return "no guess yet: say more of the boat, or give it"
    engine = plan.engine.selected
    if engine is None or engine.rated_power is None or engine.rated_speed is None:
        return "no guess yet: say more of the engine, or give it"
    return "no guess for such an engine: give it"


def taken_instead(plan: Plan, path: str) -> str:
    """What is taken in place of a value that the owner does not know; "" when nothing is."""
    entry = entry_at(path)
    return usual_text(with_guesses(plan), path) if entry.can_be_guessed else default_in(plan, path)


def _between(entry: Entry, units: str, low: float, high: float) -> str:
    """Two SI values that are themselves round or rough, with three digits; feet in the whole inches between them."""
    unit = entry.unit(units)
    if unit == "ft" and low >= FOOT and high - low >= FOOT / 2:
        return limits_shown(low, high, unit, entry.dimension, 3)
    return " to ".join(show(si, unit, entry.dimension, 3) for si in (low, high))


def usual_text(plan: Plan, path: str) -> str:
    """What most boats like this one have, in the owner's units: "8400 lb to 16100 lb"; "" when nothing is known."""
    usual, entry = typical(plan, path), entry_at(path)
    if usual is None:
        return ""
    return _between(entry, plan.units, usual.low, usual.high)


def usual_words(plan: Plan, path: str) -> str:
    """A sentence on what most boats like this one have; "" when nothing is known."""
    usual, has = usual_text(plan, path), typical(plan, path)
    return f"{has.called}: {usual}." if usual and has is not None else ""


def echoes_value(plan: Plan, path: str) -> bool:
    """True when a field holds quantities, which are repeated beside it as they were understood."""
    is_quantity = entry_at(path).kind in (Kind.QUANTITY, Kind.QUANTITIES)
    return is_quantity and path not in plan.unread and is_given(value_at(plan, path))


def limits_text(entry: Entry, units: str = "") -> str:
    """What can be believed in the field, in the owner's units or in both; "" when there are no limits."""
    if entry.limits is None:
        return ""
    low, high = entry.limits
    if entry.kind is Kind.COUNT:
        return f"a whole number from {low:.0f} to {high:.0f}"
    shown_in = [entry.unit(units)] if units else dict.fromkeys((entry.metric, entry.imperial))
    return ", or ".join(limits_shown(low, high, unit, entry.dimension, 3) for unit in shown_in)


def hint(plan: Plan, path: str, doubt: str = "", width: int = 78, rows: int = 4) -> str:
    """The lines under the form while a field has the focus, the more telling first, as many as fit.

    doubt: what not knowing the field better does to the answers.
    """
    entry = entry_at(path)
    limits = limits_text(entry, plan.units)
    default, source = default_in(plan, path), default_at(plan, path).source
    offered = (
        doubt,
        usual_words(plan, path),
        f"Empty: {default}{f' ({source})' if source else ''}." if default else "",
        f"Believable: {limits}." if limits else "",
    )
    rest = REST if len(REST) < width else ""  # a window that is being made small
    told = " ".join(textwrap.wrap(entry.what, width, max_lines=rows, placeholder=rest, break_on_hyphens=False))
    for part in offered:
        longer = f"{told} {part}".strip()
        if len(textwrap.wrap(longer, width)) <= rows:
            told = longer
    return told


def placeholder(entry: Entry, units: str) -> str:
    """The grey text in an empty field: the unit of a bare number."""
    if entry.kind is Kind.QUANTITIES:
        return f"{entry.unit(units)}; {entry.unit(units)}"
    if entry.kind is Kind.QUANTITY:
        return entry.unit(units) or "number"
    return "number" if entry.kind is Kind.COUNT else ""
