"""Standards and rules that bear on a repower; only those whose number was confirmed."""

from dataclasses import dataclass

from engine.data import table


@dataclass(frozen=True)
class Standard:
    """body, number, title as published.   applies: subject.   status: what of it was seen."""

    body: str
    number: str
    title: str
    applies: str
    status: str

    @property
    def designation(self) -> str:
        """ "ISO 8665"."""
        return f"{self.body} {self.number}"


STANDARDS: tuple[Standard, ...] = tuple(Standard(**row) for row in table("standards")["standard"])

_BY_DESIGNATION = {standard.designation: standard for standard in STANDARDS}


def named(*designations: str) -> str:
    """Standards by number and title: "ISO 10088 (Small craft - Permanently installed fuel systems)".

    A title that nobody has compared with the standard says so.   Raises: KeyError for a number not in the table.
    """
    found = [_BY_DESIGNATION[designation] for designation in designations]
    return "; ".join(
        f"{standard.designation} ({standard.title}{', title from memory' if 'memory' in standard.status else ''})"
        for standard in found
    )
