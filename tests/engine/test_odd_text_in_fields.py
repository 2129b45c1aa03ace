"""Whatever is typed or pasted into any field is read, or refused in a plain sentence and kept as it was typed."""

import math
import re
import sys
from collections.abc import Iterator
from types import FrameType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine import assess
from engine.entries import MOST_VALUES, Entry, Kind, Value, says_not_known
from engine.plan import Plan, entry_at, problems, text_at, with_row, with_text, with_value
from engine.quoting import UNSEEN, quoted, shortened, visible
from engine.units import Quantity
from tests.engine.random_plans import TABLES, path_patterns
from wizard.handover import report

PATHS = tuple(path_patterns())

LONG = (
    "9" * 10_000,
    "x" * 10_000,
    "5" + " " * 10_000 + "m",
    "9 " * 5000,
    "(" * 10_000,
    "1/" * 5000,
    ";" * 10_000,
    "5;" * 5000,
    "1/" + "9" * 5000,
    "9" * 5000 + "/1",
    "9" * 400 + "/1",
    "1 1/" + "9" * 400,
    "9" * 190 + "e99",
    "'" * 10_000,
    "1'" * 5000,
    "1 ft 1 in " * 1000,
    "5 (" * 3000 + ")" * 3000,
    "5 (4 to 6" * 1000,
    "5 (" + "4 to 6 " * 2000 + ")",
    "5 (" + "to " * 3000 + ")",
    "1e5" * 3000,
    "1" + "\u00a0234" * 3000,
    "1." * 5000,
    "-" * 10_000,
)
NUMBERS = ("1e308", "1e309", "1e99", "-1e99", "1e-99", "1e-320", "-0", "0", "inf", "-inf", "nan", "0x10", "1_0", "1e5")
SIGNS = ("[/x] [kW]", "½", "١٢", "٣/٤", "²", "5²", "५ m", "5::1", "2 x", "x 2", "2 x 2 x 3", ";", " ; ", "5 m\n6 m")
UNSEEN_ONES = (
    "\x00",
    "\x07",
    "5\x00 m",
    "\x1b[31m",
    "5 \x1b[31m m",
    "\x7f",
    "5 \x9b m",
    "\u0085",
    "5\u0085m",
    "\ud800",
    "5 \udfff m",
    "\u200f5",
    "5\u200e m",
    "\u202e5 m",
    "\ufeff5",
)
ODD = (*LONG, *NUMBERS, *SIGNS, *UNSEEN_ONES)

NOT_PLAIN = re.compile(r"could not convert|Exceeds|invalid literal|\bint\b|\bfloat\b|codec|surrogate|\\[xu]|None|Error")
QUOTED = re.compile(r"'.*'|\".*\"")
LONGEST, LONGEST_READ, MOST_CALLS = 320, 160, 300


def sentence_about(entry: Entry, text: str, units: str) -> str:
    """Why a text is refused; "" when it is read, and then it is written as it reads back."""
    try:
        value = entry.read(text, units)
    except ValueError as error:
        return str(error)
    assert all(math.isfinite(number) for number in numbers_in(value))
    if isinstance(value, str):
        assert not re.search(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]", value)
    assert entry.read(entry.write(value), units) == value
    return ""


def numbers_in(value: Value | None) -> Iterator[float]:
    if isinstance(value, tuple):
        for one in value:
            yield from numbers_in(one)
    elif isinstance(value, Quantity):
        yield value.si
        yield from (*numbers_in(value.low), *numbers_in(value.high))


def assert_plain(sentence: str, entry: Entry) -> None:
    most = LONGEST + sum(map(len, entry.choices)) + 2 * len(entry.choices)
    assert len(sentence) <= most, sentence
    assert sentence.endswith("."), sentence
    assert visible(sentence) == sentence
    assert not NOT_PLAIN.search(QUOTED.sub("", sentence)), sentence


@pytest.fixture(scope="module")
def open_plan() -> Plan:
    """An empty plan with one row in each table."""
    plan = Plan()
    for table in TABLES:
        plan = with_row(plan, table)
    return plan


def alike() -> dict[object, str]:
    """One field for each way of reading there is: fields that differ only in their labels read alike."""
    return {
        (entry.kind, entry.dimension, entry.limits, entry.metric, entry.imperial, entry.choices, entry.needed): path
        for path in PATHS
        for entry in [entry_at(path)]
    }


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_field_reads_odd_text_or_refuses_it_in_a_plain_sentence(units: str) -> None:
    read, refused = 0, 0
    for path in alike().values():
        entry = entry_at(path)
        for text in ODD:
            sentence = sentence_about(entry, text, units)
            read, refused = read + (not sentence), refused + bool(sentence)
            if sentence:
                assert_plain(sentence, entry)
    assert read > 100
    assert refused > 1000


def calls_to_read(path: str, text: str) -> int:
    """How many calls, Python's own among them, it takes to read a text or to refuse it."""
    calls = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        sentence_about(entry_at(path), text, "metric")
    finally:
        sys.setprofile(None)
    return calls


@pytest.mark.parametrize(
    "path", ["hull.displacement", "gear.ratios", "range.tank", "hull.screws", "hull.kind", "engine.chosen"]
)
def test_reading_takes_no_more_work_than_the_text_is_long(path: str) -> None:
    for text in LONG:
        once, twice = calls_to_read(path, text), calls_to_read(path, text + text)
        assert once <= 5 * len(text) + MOST_CALLS, text[:20]
        assert twice <= 2 * once + MOST_CALLS, text[:20]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_odd_text_that_is_just_short_enough_is_read_or_refused_too(units: str) -> None:
    """The beginnings of the long ones get past the limit on length, to what looks for numbers and units in them."""
    refused = 0
    for path in alike().values():
        entry = entry_at(path)
        for text in LONG:
            sentence = sentence_about(entry, text[:LONGEST_READ].strip(), units)
            if sentence:
                refused += 1
                assert_plain(sentence, entry)
    assert refused > 500


def test_every_field_keeps_what_was_typed_when_it_is_not_understood(open_plan: Plan) -> None:
    kept = 0
    for path in PATHS:
        for text in (*SIGNS, *UNSEEN_ONES, LONG[0]):
            plan = with_text(open_plan, path, text)
            if path in plan.unread:
                kept += 1
                assert text_at(plan, path) == text
            elif text.strip():
                assert text_at(plan, path), (path, text)
    assert kept > 1000


@settings(max_examples=max(1000, settings.default.max_examples))
@given(
    st.sampled_from(PATHS),
    st.one_of(
        st.text(max_size=60),
        st.text("0123456789 .,;:/'\"-+x*()%e", max_size=40),
        st.from_regex(
            r"-?\d{1,4}[.,]?\d{0,3} ?(m|kW|hp|t|ft|in|%|kn|rpm|:1)?( \(\d+ to \d+ ?[a-zA-Z]*\))?", fullmatch=True
        ),
        st.lists(st.sampled_from(ODD), min_size=2, max_size=3).map("".join),
    ),
    st.sampled_from(["metric", "imperial"]),
)
def test_any_text_in_any_field_is_read_or_refused_in_a_plain_sentence(path: str, text: str, units: str) -> None:
    entry = entry_at(path)
    sentence = sentence_about(entry, text, units)
    if sentence:
        assert_plain(sentence, entry)
        plan = Plan(units=units)
        for table in TABLES:
            plan = with_row(plan, table)
        if text.strip() and not says_not_known(text):
            assert text_at(with_text(plan, path, text), path) == text


@pytest.mark.parametrize(
    ("path", "text", "part"),
    [
        ("hull.waterline_length", "9" * 10_000, "is too long to be a number"),
        ("hull.waterline_length", "5 \x1b[31m m", "a character in '5 " + UNSEEN + "[31m m' that cannot be seen"),
        ("hull.waterline_length", "\u200f5", "cannot be seen"),
        ("engine.candidate.0.name", "pump\x07", "cannot be seen"),
        ("engine.candidate.0.name", "\ud800", "cannot be seen"),
        ("hull.screws", "1_0", "is not a whole number"),
        ("hull.screws", "9" * 5000, "cannot be right here"),
        ("range.tank", "5;" * 5000, "5000 values are more than fit in here"),
        ("range.tank", ";", "no number in it"),
        ("range.tank", "21 x 100 L", "from 1 to 20"),
        ("range.tank", "0 x 100 L", "from 1 to 20"),
    ],
)
def test_odd_text_is_refused_for_what_is_odd_in_it(path: str, text: str, part: str) -> None:
    assert part in sentence_about(entry_at(path), text, "metric")


@pytest.mark.parametrize(
    "text", ["2 x 120 L", "2 X 120", "2×120 L", "2 * 120 L", "2*0.12 m3", "120; 120", "120, 120 L"]
)
def test_equal_tanks_can_be_written_once_with_how_many_there_are(text: str) -> None:
    entry = entry_at("range.tank")
    value = entry.read(text)
    assert list(numbers_in(value)) == pytest.approx([0.12, 0.12])
    assert entry.read(entry.write(value), "imperial") == value


def test_equal_tanks_stand_among_others_and_may_be_unsure() -> None:
    value = entry_at("range.tank").read("2 x 120 L (100 L to 130 L); 80 L")
    assert isinstance(value, tuple)
    assert [round(1e3 * one.si) for one in value] == [120, 120, 80]
    assert [one.low is not None for one in value] == [True, True, False]


@pytest.mark.parametrize("path", [path for path in PATHS if entry_at(path).kind is Kind.QUANTITIES])
@pytest.mark.parametrize("text", ["200 200 80", "200 and 80", "five", "1e30"])
def test_a_field_for_several_values_says_how_to_part_them(path: str, text: str) -> None:
    assert sentence_about(entry_at(path), text, "metric").endswith("Put semicolons between several values.")


def test_as_many_values_as_a_field_can_hold_are_read_and_one_more_is_not() -> None:
    entry = entry_at("range.tank")
    assert len(list(numbers_in(entry.read("; ".join(["50 L"] * MOST_VALUES))))) == MOST_VALUES
    assert sentence_about(entry, "; ".join(["50 L"] * (MOST_VALUES + 1)), "metric")


@pytest.mark.parametrize(
    ("text", "best", "low", "high"),
    [
        ("5 long ton (4 long ton to 6 long ton)", 5080.2, 4064.2, 6096.3),
        ("5 t (4 tonnes to 6 metric tons)", 5000.0, 4000.0, 6000.0),
        ("9000 kg (8000to10000)", 9000.0, 8000.0, 10000.0),
    ],
)
def test_a_unit_with_to_in_its_name_does_not_part_low_from_high(
    text: str, best: float, low: float, high: float
) -> None:
    read = entry_at("hull.displacement").read(text)
    assert isinstance(read, Quantity)
    assert list(numbers_in(read)) == pytest.approx([best, low, high], rel=1e-4)
    assert entry_at("hull.displacement").read(read.written) == read


def test_an_unsure_ratio_may_be_written_with_to_one() -> None:
    assert list(numbers_in(entry_at("gear.ratio").read("2.5 to 1 (2 to 1 to 3 to 1)"))) == [2.5, 2.0, 3.0]


def test_words_stay_on_one_line_and_keep_the_signs_of_any_language() -> None:
    entry = entry_at("engine.candidate.0.name")
    assert entry.read(" port\tengine\n ") == "port engine"
    assert entry.read("\u200fمحرك [/x] é") == "\u200fمحرك [/x] é"


def test_a_quoted_text_is_short_visible_and_marked_at_both_ends() -> None:
    assert quoted("36 ft") == "'36 ft'"
    assert quoted("36'") == '"36\'"'
    assert quoted("a\x00b") == f"'a{UNSEEN}b'"
    assert shortened("x" * 40) == "x" * 40
    assert shortened("x" * 41) == "x" * 40 + " ..."
    assert shortened("a" + " " * 500 + "b") == "a ..."


def test_nothing_that_a_terminal_would_obey_gets_into_a_report(launch: Plan) -> None:
    plan = with_text(launch, "hull.windage_area", "8 \x1b[31m m2")
    plan = with_text(plan, "present.engine_power", "\ud800" + "7" * 10_000)
    plan = with_value(plan, "speed.cruise", None)
    assert {"hull.windage_area", "present.engine_power"} <= plan.unread.keys()
    assert any("cannot be seen" in problem.text for problem in problems(plan, "hull"))
    assessment = assess(plan)
    for form in ("text", "markdown", "html", "json"):
        sheet = report(assessment, form)
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff]", sheet), form
        assert "31m" in sheet
