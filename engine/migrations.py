"""Older formats of the plan file, brought up to the newest one table by table."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

Table = Mapping[str, Any]
Migration = Callable[[Table], dict[str, Any]]

MIGRATIONS: tuple[Migration, ...] = ()
"""The n-th, counted from 1, makes a table of format n + 1 out of one of format n, and leaves the old one as it is."""
FORMAT = 1 + len(MIGRATIONS)
"""The format that is written."""


def migrated(table: Table, found: int, migrations: Sequence[Migration] = MIGRATIONS) -> dict[str, Any]:
    """The table of a plan file in the newest format.

    found: the format it is in, from 1 to the newest.
    """
    newest = 1 + len(migrations)
    for number in range(found, newest):
        table = {**migrations[number - 1](table), "format": number + 1}
    return dict(table)
