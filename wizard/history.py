"""Every change of a plan as a step that can be taken back and made again. Steps are differences between plan files."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from engine.entries import entries, table_words, tables
from engine.plan import SECTIONS, SPREAD_KEYS, Plan, label_at, label_in_row
from engine.plan_document import document_from_plan, plan_from_document
from engine.showing import band_text
from engine.toml_lines import are_rows

MOST = 1000
"""Steps that are kept; the oldest go first."""
_NO_CHANGE = ("format", "stage")
"""Keys of a plan file that do not count: where the owner is belongs to no change."""
_LABELS = {"name": "Name of the plan", "notes": "Notes", "units": "Units", "variant": "Variants"}
_SPOKEN = 2
"""Changes of one step that are told in full."""
_Rows = list[Mapping[str, Any]]


@dataclass(frozen=True)
class Step:
    """One change.   path: the field, table or "" for several things at once.

    was, now: what the plan file has before and after under each key that differs ("hull.displacement"); a key that is
    missing stands for nothing there.
    """

    path: str
    was: Mapping[str, Any]
    now: Mapping[str, Any]

    @property
    def is_empty(self) -> bool:
        """Whether nothing differs."""
        return not self.was and not self.now


@dataclass(frozen=True)
class History:
    """The steps of a plan.   at: so many of them are done; the rest have been taken back and can be made again.

    is_open: whether the next change in the same place still belongs to the last step, as with letters of one number.
    """

    steps: tuple[Step, ...] = ()
    at: int = 0
    is_open: bool = False

    def recorded(self, before: Plan, after: Plan, path: str = "") -> "History":
        """With the change from one plan to the next; what had been taken back is gone then."""
        was, now = difference(_flat(before), _flat(after))
        if not was and not now:
            return self
        done = self.steps[: self.at]
        if self.goes_on_at(path):
            was, now = _joined(done[-1], was, now)
            done = done[:-1]
        if was or now:
            done = (*done, Step(path, was, now))[-MOST:]
        return History(done, len(done), True)

    def goes_on_at(self, path: str) -> bool:
        """Whether a change in a place still belongs to the last step."""
        return self.is_open and path != "" and self.last is not None and self.last.path == path

    def sealed(self) -> "History":
        """The owner has left the field: a later change there is a step of its own."""
        return replace(self, is_open=False) if self.is_open else self

    @property
    def last(self) -> Step | None:
        """The step that would be taken back."""
        return self.steps[self.at - 1] if self.at else None

    @property
    def next(self) -> Step | None:
        """The step that would be made again."""
        return self.steps[self.at] if self.at < len(self.steps) else None

    def undone(self, plan: Plan, step: Step) -> tuple[Plan, "History"]:
        """The plan before the last step, and the history that goes with it."""
        return _changed(plan, step.now, step.was), History(self.steps, self.at - 1)

    def redone(self, plan: Plan, step: Step) -> tuple[Plan, "History"]:
        """The plan after the next step, and the history that goes with it."""
        return _changed(plan, step.was, step.now), History(self.steps, self.at + 1)


def _flat(plan: Plan) -> dict[str, Any]:
    return flat(document_from_plan(plan))


def flat(document: Mapping[str, Any]) -> dict[str, Any]:
    """The document of a plan with one key for each field, table or word of the head."""
    found: dict[str, Any] = {}
    for key, value in document.items():
        if key in SECTIONS and isinstance(value, Mapping):
            found |= {f"{key}.{name}": inner for name, inner in value.items()}
        elif key not in _NO_CHANGE:
            found[key] = value
    return found


def changes(before: Plan, after: Plan) -> Step:
    """All that differs between two plans as one step."""
    return Step("", *difference(_flat(before), _flat(after)))


def difference(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """What two flat documents have under the keys in which they differ."""
    nothing = object()
    keys = [key for key in {**before, **after} if _differ(before.get(key, nothing), after.get(key, nothing))]
    return {key: before[key] for key in keys if key in before}, {key: after[key] for key in keys if key in after}


def _differ(before: object, after: object) -> bool:
    """Whether two values of a plan file differ; a nan written by hand is the same as another."""
    return before != after and repr(before) != repr(after)


def _joined(last: Step, was: Mapping[str, Any], now: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """Two steps as one."""
    changed = {*was, *now}
    before = dict(last.was) | {key: value for key, value in was.items() if key not in {*last.was, *last.now}}
    after = {key: value for key, value in last.now.items() if key not in changed} | dict(now)
    return difference(before, after)


def _changed(plan: Plan, gone: Mapping[str, Any], come: Mapping[str, Any]) -> Plan:
    """The plan with some keys of its file taken out and others put in. A file of steps that was changed by hand may
    name what belongs to no change, or a field of what is no section: the one is left alone, the other written over."""
    document = document_from_plan(plan)
    for key in gone:
        holder, name = _place(document, key)
        holder.pop(name, None)
    for key, value in come.items():
        holder, name = _place(document, key)
        holder[name] = value
    return plan_from_document(document)


def name_in_row(history: History, table: str, index: int) -> str:
    """What a row that has no name was called last, as the steps that are done tell; "" when it never had a name.

    table, index: as "engine.motor", 0. Rows are told apart by their place: what was before a row went is not looked at.
    """
    for step in reversed(history.steps[: history.at]):
        if table not in step.was and table not in step.now:
            continue
        found = _rows_in(step, table)
        if found is None or not index < len(found[0]) <= len(found[1]):
            return ""
        if name := str(found[0][index].get("name", "")):
            return name
    return ""


def _rows_in(step: Step, table: str) -> tuple[_Rows, _Rows] | None:
    """The rows of a table before and after a step; None where a word by hand stands for them."""
    rows, others = ([] if value is None else value for value in (step.was.get(table), step.now.get(table)))
    return (rows, others) if are_rows(rows) and are_rows(others) else None


def _place(document: dict[str, Any], key: str) -> tuple[dict[str, Any], str]:
    """What holds a key of a flat document, and its name there."""
    section, dot, name = key.partition(".")
    if key in _NO_CHANGE:
        return {}, key
    if not dot or section not in SECTIONS:
        return document, key
    if not isinstance(document.get(section), dict):
        document[section] = {}
    return document[section], name


# in words


def place_of(step: Step) -> str:
    """The path that a step is about: its own, else the first key that differs; of a table the row that came or went."""
    path = step.path or next(iter({**step.was, **step.now}), "")
    found = _rows_in(step, path)
    if found is None or len(found[0]) == len(found[1]):
        return path
    rows, others = found
    at = next((at for at, (row, other) in enumerate(zip(rows, others, strict=False)) if row != other), None)
    return f"{path}.{min(len(rows), len(others)) if at is None else at}"


def step_words(step: Step, plan: Plan, *, back: bool) -> str:
    """What a step means when it is taken back, or made again: "Displacement: 9 t (it was 8.5 t)".

    plan: as `differences`.
    """
    found = differences(step, plan)
    told = [f"{label}: {was if back else now} (it was {now if back else was})" for label, was, now in found]
    more = f"; and {len(told) - _SPOKEN} more" if len(told) > _SPOKEN else ""
    return "; ".join(told[:_SPOKEN]) + more


def differences(step: Step, plan: Plan) -> Iterator[tuple[str, str, str]]:
    """(label, before, after) of everything that differs.   plan: whose engine or motor the labels are said of."""
    for key in {**step.was, **step.now}:
        section, _, name = key.partition(".")
        inner = tables(SECTIONS[section]) if section in SECTIONS else {}
        before, after = step.was.get(key), step.now.get(key)
        found = _rows_in(step, key) if name in inner else None
        if found is None:
            yield _called(plan, key), _said(before), _said(after)
            continue
        rows, others = found
        if len(rows) == len(others):
            described = entries(inner[name])
            for index, (row, other) in enumerate(zip(rows, others, strict=True)):
                for field in sorted({*row, *other}):
                    if _differ(row.get(field), other.get(field)):
                        label = label_in_row(plan, f"{key}.{index}.{field}") if field in described else field
                        yield label, _said(row.get(field)), _said(other.get(field))
        else:
            yield _called(plan, key), str(len(rows)), str(len(others))


def _called(plan: Plan, key: str) -> str:
    """What a key of the plan file is called: a field, all rows of a table, else the key itself."""
    section, _, name = key.partition(".")
    kind = SECTIONS.get(section, Plan)
    if name in entries(kind):
        return label_at(plan, key)
    return table_words(kind)[name].several if name in tables(kind) else _LABELS.get(key, key)


def _said(value: Any) -> str:
    """A value of the plan file, in a few words."""
    if value is None:
        return "empty"
    if isinstance(value, Mapping) and set(SPREAD_KEYS) <= set(value):
        return band_text(*(str(value[key]) for key in SPREAD_KEYS))
    if isinstance(value, Mapping) and "name" in value:
        return str(value["name"])
    if isinstance(value, list):
        return "; ".join(_said(item) for item in value)
    text = str(value)
    return text if len(text) <= 60 else f"{text[:57]}..."
