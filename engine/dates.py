"""Read a day as people write it: "2026-05-03", "3 May 2026", "3.5.2026". The clock is never asked."""

import re
from datetime import date

from engine.quoting import quoted

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_YEAR_FIRST = re.compile(r"(?P<year>\d{4})[-./](?P<month>\d{1,2})[-./](?P<day>\d{1,2})")
_DAY_FIRST = re.compile(r"(?P<day>\d{1,2})\.\s?(?P<month>\d{1,2})\.\s?(?P<year>\d{4})")
_DAY_NAMED = re.compile(r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?[\s-](?P<name>[a-z]{3,9})\.?,?[\s-](?P<year>\d{4})", re.I)
_NAME_FIRST = re.compile(r"(?P<name>[a-z]{3,9})\.?\s(?P<day>\d{1,2})(?:st|nd|rd|th)?,?\s(?P<year>\d{4})", re.I)
_FORMS = (_YEAR_FIRST, _DAY_FIRST, _DAY_NAMED, _NAME_FIRST)
_FIRST_YEAR, _LAST_YEAR = 1950, 2100
"""Years that a log of a boat of today can be of. Ours."""
_LIKE = "Write it like 2026-05-03 or 3 May 2026."


def read_day(text: str) -> date:
    """The day that a text means, 1950 to 2100.

    Raises: ValueError with one plain sentence when it is no day of these years, or can mean two (5/3/2026).
    """
    cleaned = " ".join(text.split())
    match = next((found for form in _FORMS if (found := form.fullmatch(cleaned))), None)
    if match is None:
        raise ValueError(f"{quoted(text)} cannot be read as a date. {_LIKE}")
    parts = match.groupdict()
    month = int(parts["month"]) if "month" in parts else _month_named(parts["name"])
    try:
        day = date(int(parts["year"]), month, int(parts["day"]))
    except ValueError:
        raise ValueError(f"{quoted(text)} is no day of the calendar. {_LIKE}") from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise ValueError(f"{quoted(text)} lies outside {_FIRST_YEAR} to {_LAST_YEAR}. {_LIKE}")
    return day


def _month_named(name: str) -> int:
    """1 to 12; 0, which is no month, for any other word."""
    beginning = name.lower()[:3]
    return _MONTHS.index(beginning) + 1 if beginning in _MONTHS else 0
