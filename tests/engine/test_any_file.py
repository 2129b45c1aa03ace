"""Any document is read and comes back exactly; any file that was spoilt is a plan or a sentence."""

from pathlib import Path
from random import Random

import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from engine.entries import entries, tables
from engine.odd_keys import odd_keys
from engine.plan import SECTIONS
from engine.planfile import PlanFileError, content_of, plan_from_text

HEAD = ["variant", "name", "units", "stage", "notes"]
KEYS = st.one_of(st.sampled_from([*SECTIONS, *HEAD, "displacement", "candidate", "a.b", "é", ""]), st.text(max_size=4))
TEXTS = st.one_of(
    st.sampled_from(["9 t", "?", "12 m (11 m to 13 m)", "imperial", "power", "[/x] [kW]", "\x00\x1b", "\u2028"]),
    st.text(max_size=12),
)
VALUES = st.recursive(
    st.one_of(TEXTS, st.integers(-(10**20), 10**20), st.floats(allow_nan=False), st.booleans(), st.dates(), st.times()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=4)),
    max_leaves=12,
)
FIELDS = [(section, name) for section, kind in SECTIONS.items() for name in (*entries(kind), *tables(kind))]
ROWS = st.lists(st.dictionaries(st.sampled_from(["name", "rated_power", "speed", "odd"]), VALUES), max_size=3)


@given(
    st.dictionaries(KEYS, VALUES, max_size=6),
    st.dictionaries(st.sampled_from(FIELDS), st.one_of(TEXTS, VALUES, ROWS), max_size=8),
)
def test_any_document_is_read_and_comes_back_exactly(
    document: dict[str, object], fields: dict[tuple[str, str], object]
) -> None:
    for (section, name), value in fields.items():
        held = document.get(section)
        if not isinstance(held, dict):
            held = document[section] = {}
        held[name] = value
    content = tomli_w.dumps({**document, "format": 1}).encode()
    plan = plan_from_text(content, "x")
    odd_keys(plan)
    assert plan_from_text(content_of(plan, content), "x") == plan
    assert content_of(plan_from_text(content_of(plan), "x")) == content_of(plan)


@given(st.sampled_from(["bittern", "mirabel", "two-sisters"]), st.integers(0, 2**32), st.integers(1, 8))
def test_a_file_that_was_spoilt_is_a_plan_or_a_sentence(root: Path, name: str, seed: int, slips: int) -> None:
    dice = Random(seed)
    content = bytearray((root / "saved_plans" / f"{name}.toml").read_bytes())
    for _ in range(slips):
        place = dice.randrange(len(content))
        sign = dice.choice([b"", b'"', b"[", b"]", b"=", b"\n", b"\xff", b"#", b"9", b".", b"{"])
        content[place : place + dice.choice([0, 1, 1, 20])] = sign
    try:
        plan = plan_from_text(bytes(content), name)
    except PlanFileError as error:
        refusal = str(error)
    else:
        refusal = ""
        assert plan_from_text(content_of(plan, bytes(content)), name) == plan
    assert "\n" not in refusal
    assert refusal == "" or refusal.startswith(f"{name} ")
