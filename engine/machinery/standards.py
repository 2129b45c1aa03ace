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
