"""Which fields a page asks, in which groups: what is needed first, then what the owner may know."""

from dataclasses import dataclass

from engine.entries import entries, tables
from engine.plan import SECTIONS, STAGE_SECTIONS

HIDDEN = frozenset({"engine.chosen"})
"""Fields that have a button instead of a line in the form."""

_OPTIONAL = "If you know it"
_TITLES = {
    ("hull", True): "Needed",
    ("present", False): "What is in her now, as far as you know it",
    ("power", False): "Leave empty what you do not know",
    ("shaft", False): "Empty fields take the careful choice",
    ("propeller", False): "Empty fields take what suits most boats",
}
_TABLE_TITLES = {
    "hull.appendage": "What hangs below the hull, one by one, instead of the one surface above",
    "present.log": "Log: steady readings of engine speed and boat speed",
    "engine.candidate": "Candidates, as on their data sheets",
}


@dataclass(frozen=True)
class Group:
    """A titled part of the form: the paths of its fields, or the path of a table."""

    title: str
    paths: tuple[str, ...] = ()
    table: str = ""


def groups(stage: str) -> tuple[Group, ...]:
    """The groups of a page, in the order in which they are asked."""
    found: list[Group] = []
    for section in STAGE_SECTIONS.get(stage, ()):
        described = entries(SECTIONS[section])
        for needed in (True, False):
            named = [name for name, entry in described.items() if entry.needed is needed]
            paths = tuple(f"{section}.{name}" for name in named if f"{section}.{name}" not in HIDDEN)
            if paths:
                title = _TITLES.get((section, needed), "Needed" if needed else _OPTIONAL)
                found.append(Group(title, paths))
        for table in tables(SECTIONS[section]):
            path = f"{section}.{table}"
            found.append(Group(_TABLE_TITLES[path], table=path))
    return tuple(found)
