"""Words of the trade in plain sentences: what each is, and why it matters to the repower."""

from dataclasses import dataclass
from functools import cache

from engine.data import table


@dataclass(frozen=True)
class Term:
    """One word of the trade.   also: other words for the same thing, and symbols that stand for it."""

    name: str
    text: str
    also: tuple[str, ...] = ()


@cache
def glossary() -> tuple[Term, ...]:
    """All terms in alphabetical order, case ignored.   Source: engine/data/glossary.toml, own wording."""
    terms = (Term(name, row["text"], tuple(row.get("also", ()))) for name, row in table("glossary")["term"].items())
    return tuple(sorted(terms, key=lambda term: term.name.lower()))


def find(words: str) -> tuple[Term, ...]:
    """The terms that have the words in name, other words or text, case ignored; all of them for no words.

    Returns: those with the words in their name first, then in their other words, then in their text only; each
    alphabetical.
    """
    wanted = " ".join(words.lower().split())
    found = [(place, term) for term in glossary() if (place := _place(term, wanted)) is not None]
    return tuple(term for _, term in sorted(found, key=lambda pair: pair[0]))


def _place(term: Term, wanted: str) -> int | None:
    """Where a term has the words: 0 in its name, 1 in other words, 2 in its text; None nowhere."""
    places = (term.name, " \n ".join(term.also), term.text)
    return next((place for place, text in enumerate(places) if wanted in text.lower()), None)
