"""Which fields a page asks, in which groups: what is needed first, then what the owner may know."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial

from engine.entries import entries, table_words
from engine.plan import (
    SECTIONS,
    STAGE_SECTIONS,
    Plan,
    holds_data,
    is_direct,
    may_be_diesel,
    may_be_electric,
    may_burn_fuel,
    text_at,
)
from engine.plan_defaults import sure_ratio
from engine.sections.electric import Motor

HIDDEN = frozenset({"engine.chosen"})
"""Fields that have a button instead of a line in the form."""

_OPTIONAL = "If you know it"
_TITLES = {
    ("hull", True): "Needed",
    ("present", False): "What is in her now, as far as you know it",
    ("power", False): "Leave empty what you do not know",
    ("shaft", False): "Empty fields take the careful choice",
    ("propeller", False): "Empty fields take what suits most boats",
    ("engine", False): "Air and water that a diesel works in",
    ("range", False): "Fuel",
    ("costs", False): "Prices, as far as you know them",
    ("trial", False): "What was fitted, and how she was tried",
}
_BEGINS = {
    "engine.altitude": "Where and how long they run",
    "range.reserve": "What is kept back",
    "range.leg": "The passage",
    "range.electricity_price": "Electricity",
    "fit.room_length": "Room",
    "fit.vent_area": "Air for a diesel",
    "fit.exhaust": "Exhaust of a diesel",
    "fit.inlet_bore": "Raw water for a diesel",
    "fit.fuel_line_bore": "Fuel line of a diesel",
    "fit.cranking_current": "Starting a diesel",
    "fit.mounts_ahead": "Mounts",
    "fit.present_place": "Where the weights are",
    "costs.hours_per_year": "A year under power",
    "costs.present_burn": "What she takes now",
    "costs.overhaul": "Whether it pays",
    "trial.air": "Read at full throttle",
    "trial.gear_oil": "Read at full throttle, on the gear",
    "trial.no_load_speed": "Read at full throttle, on a diesel",
    "trial.coolant_limit": "What the maker of a diesel allows",
}
"""Fields before which a group of its own begins."""
_TABLES_FIRST = frozenset({"engine"})
_TABLE_BEFORE = {"trial.run": "trial.air"}
"""Tables that stand between the groups of fields, and the field whose group follows."""
_FOR_FUEL = {"range.tank": "fuel", "range.measured": "measured tanks"}
_FOR_DIESEL = {
    "engine.intake_air": "air and raw water",
    "fit.vent_area": "air",
    "fit.exhaust": "exhaust",
    "fit.inlet_bore": "raw water",
    "fit.fuel_line_bore": "fuel line",
    "fit.cranking_current": "starting",
    "trial.no_load_speed": "smoke, water, exhaust and oil",
    "trial.coolant_limit": "the maker's limits",
}
"""Groups that what burns fuel, or a diesel alone, is asked, and what they are called where they are left out."""
_FOR_MOTOR = {"range.electricity_price": "price of electricity"}
"""The same of groups that an electric drive alone is asked."""
_FOR_GEAR = {"trial.gear_oil": "gear oil"}
"""The same of groups that are asked where there is a gear."""
_ROW_FOR_DIESEL = frozenset(
    {"trial.run.fuel_flow", "trial.run.coolant", "trial.run.back_pressure", "trial.season.fuel_flow"}
)
"""Fields of rows, without the number of the row, that a diesel alone has."""
_ROW_FOR_MOTOR = frozenset({"trial.run.drawn"})
"""The same that a motor alone has."""


def _may_have_gear(plan: Plan) -> bool:
    """Whether there is a gear, or there could be: as long as no motor is said to turn the shaft itself."""
    return not is_direct(plan, sure_ratio(plan))


_ASKED_WHEN: Mapping[str, Callable[[Plan], bool]] = {
    **dict.fromkeys(_FOR_FUEL, may_burn_fuel),
    **dict.fromkeys(_FOR_DIESEL, may_be_diesel),
    **dict.fromkeys(_FOR_MOTOR, may_be_electric),
    **dict.fromkeys(_FOR_GEAR, _may_have_gear),
}
"""Groups, by their first field or their table, that not every plan needs: what a plan must have to be asked them."""
_LEFT_OUT = (
    ("no diesel is among the candidates", _FOR_FUEL | _FOR_DIESEL),
    ("no electric drive is among the candidates", _FOR_MOTOR),
    ("the motor turns the shaft itself", _FOR_GEAR),
)
"""Why groups are left out, and what they are called then."""


@dataclass(frozen=True)
class Group:
    """A titled part of the form: the paths of its fields, or the path of a table."""

    title: str
    paths: tuple[str, ...] = ()
    table: str = ""

    @property
    def begins(self) -> str:
        """Its first field, or its table."""
        return self.table or self.paths[0]

    def has(self, path: str) -> bool:
        """Whether a field, or a table, is asked in it."""
        return path in self.paths or (self.table != "" and f"{path}.".startswith(f"{self.table}."))

    def is_asked(self, plan: Plan) -> bool:
        """Whether the plan needs it, or it holds something that the owner has said."""
        is_needed = _ASKED_WHEN.get(self.begins)
        if is_needed is None or is_needed(plan):
            return True
        return any(holds_data(plan, path) for path in self.paths or (self.table,))


def groups(stage: str) -> tuple[Group, ...]:
    """The groups of a page, in the order in which they are asked."""
    found: list[Group] = []
    for section in STAGE_SECTIONS.get(stage, ()):
        kind = SECTIONS[section]
        described = entries(kind)
        for needed in (True, False):
            named = [name for name, entry in described.items() if entry.needed is needed]
            paths = tuple(f"{section}.{name}" for name in named if f"{section}.{name}" not in HIDDEN)
            found += _parts(_TITLES.get((section, needed), "Needed" if needed else _OPTIONAL), paths)
        rows = [Group(words.asked, table=f"{section}.{table}") for table, words in table_words(kind).items()]
        found = [*rows, *found] if section in _TABLES_FIRST else [*found, *rows]
    return tuple(sorted(found, key=partial(_place, found)))


def is_asked_in_row(plan: Plan, path: str) -> bool:
    """Whether the plan needs a field of a row, or it holds something that the owner has said."""
    section, table, _, name = path.split(".")
    row_path = f"{section}.{table}.{name}"
    if row_path in _ROW_FOR_DIESEL and not may_be_diesel(plan):
        return bool(text_at(plan, path))
    if row_path in _ROW_FOR_MOTOR and not isinstance(plan.engine.selected, Motor):
        return bool(text_at(plan, path))
    return True


def left_out(groups_left: Iterable[Group]) -> str:
    """What is said of the groups of a page that are not asked, a sentence for each reason; "" when all are."""
    begins = [group.begins for group in groups_left]
    said = []
    for why, names in _LEFT_OUT:
        found = [names[path] for path in begins if path in names]
        if found:
            said.append(f"Left out while {why}: {', '.join(found)}.")
    return " ".join(said)


def _place(found: list[Group], group: Group) -> float:
    """Where a group stands among those found."""
    follows = _TABLE_BEFORE.get(group.table)
    at = next((at for at, other in enumerate(found) if follows in other.paths), None)
    return found.index(group) if at is None else at - 0.5


def _parts(title: str, paths: tuple[str, ...]) -> list[Group]:
    """The fields in the groups that begin among them, the first under the title given."""
    found: list[Group] = []
    for path in paths:
        if path in _BEGINS or not found:
            found.append(Group(_BEGINS.get(path, title)))
        found[-1] = Group(found[-1].title, (*found[-1].paths, path))
    return found
