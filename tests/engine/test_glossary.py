"""The glossary: every word of the trade that an owner meets, once, in plain sentences, and found again."""

import re

import pytest

from engine.data import table
from engine.entries import entries, tables
from engine.glossary import Term, find, glossary
from engine.plan import SECTIONS

# Words of the trade in labels of fields (engine/sections), of answers and of tables (engine/stages).
IN_FIELD_LABELS = (
    "anti-siphon loop", "back pressure", "bearers", "blade area ratio", "blade sections", "centre of buoyancy",
    "cold-cranking current", "coupling", "displacement", "duty class", "flange", "frontal area",
    "full-load curve", "gear rating", "gear ratio", "half angle of entrance", "half load", "head wind",
    "hull draft", "light-running margin", "margin", "midship coefficient", "mounts", "muffler", "overhang",
    "pitch", "prismatic coefficient", "rated engine speed", "rated power", "raw water", "reserve",
    "safety factor", "sea margin", "shaft angle", "shaft seal", "specific fuel consumption", "tachometer",
    "thrust deduction", "tip clearance", "torque", "usable share", "wake fraction", "waterline beam",
    "waterline length", "waterplane coefficient",
)  # fmt: skip
IN_ANSWER_LABELS = (
    "advance", "apparent slip", "band", "block coefficient", "bollard pull", "bore", "burn", "cavitation",
    "cruise", "critical speed", "delivered power", "developed", "displacement-length ratio", "effective power",
    "endurance", "engine load", "expanded", "foul", "Froude number", "full throttle", "hand", "hub",
    "hull efficiency", "hull speed", "key", "light running", "mean-width ratio", "pitch ratio", "plausible boats",
    "propulsive efficiency", "range", "regret", "resistance", "shaft power", "shaft torque", "span",
    "specific consumption", "speed-length ratio", "taper", "test cycle", "thrust", "tip speed", "wetted surface",
    "wheel",
)  # fmt: skip
IN_THE_YARD = (
    "airfoil section", "alignment", "aperture", "area ratio", "bearing span", "brake power", "derating", "duty",
    "expanded area", "flat-faced", "fouling", "governor", "hand of rotation", "keyway", "load factor",
    "overloaded", "propeller curve", "repower", "slip", "stern bearing", "stern tube", "strut", "stuffing box",
    "torsional vibration", "trim", "wake", "whirling",
)  # fmt: skip


def names(term: Term) -> set[str]:
    return {text.lower() for text in (term.name, *term.also)}


def explains(word: str) -> bool:
    """Whether a term stands under the word, or under a name that has the word in it."""
    return any(re.search(rf"\b{re.escape(word.lower())}\b", name) for term in glossary() for name in names(term))


def test_terms_are_alphabetical_and_many() -> None:
    found = [term.name for term in glossary()]
    assert found == sorted(found, key=str.lower)
    assert list(table("glossary")["term"]) == found
    assert 80 <= len(found) <= 120


def test_no_word_stands_for_two_things() -> None:
    taken = [text.lower() for term in glossary() for text in (term.name, *term.also)]
    assert sorted(taken) == sorted(set(taken))


@pytest.mark.parametrize("term", glossary(), ids=lambda term: term.name)
def test_each_term_is_one_to_three_plain_sentences(term: Term) -> None:
    for text in (term.name, term.text, *term.also):
        assert text.isascii()
        assert text.strip() == text != ""
    assert term.text.endswith(".")
    assert term.text[0].isupper()
    assert 1 <= len(re.findall(r"\.(?:\s|$)", term.text)) <= 3
    assert 40 < len(term.text) < 330


@pytest.mark.parametrize("word", [*IN_ANSWER_LABELS, *IN_THE_YARD])
def test_words_of_answers_and_of_the_yard_are_explained(word: str) -> None:
    assert explains(word)
    assert find(word)


@pytest.mark.parametrize("word", [word for word in IN_FIELD_LABELS if word not in ("fuel curve")])
def test_words_of_field_labels_are_explained_and_stand_in_labels(word: str) -> None:
    assert explains(word)
    assert find(word)
    sections = [kind for section in SECTIONS.values() for kind in (section, *tables(section).values())]
    labels = " | ".join(entry.label for section in sections for entry in entries(section).values()).lower()
    assert all(part in labels for part in word.lower().split())


def test_every_term_is_found_by_its_name_among_the_first_and_by_its_other_words() -> None:
    for term in glossary():
        named = [item for item in find(term.name) if term.name.lower() in item.name.lower()]
        assert find(term.name)[: len(named)] == tuple(named)
        assert term in named
        for other in term.also:
            assert term in find(other)


def test_find_looks_in_names_then_in_other_words_then_in_texts() -> None:
    found = find("Slip")
    assert found[0].name == "apparent slip"
    assert [term.name for term in find("overpropped")] == ["overloaded"]
    in_text_only = [term for term in found if not any("slip" in name for name in names(term))]
    assert "keyway" in {term.name for term in in_text_only}
    assert found[-len(in_text_only) :] == tuple(in_text_only)


def test_case_and_spaces_do_not_matter_and_no_words_give_all() -> None:
    assert find("FROUDE   Number ") == find("froude number") != ()
    assert find("") == find("  ") == glossary()
    assert find("spinnaker") == ()
