"""What to measure next: shares of doubt whose answer is known, worded as something to do."""

from collections.abc import Callable

import numpy as np
import pytest

from engine.data import table
from engine.fleet import Fleet, draw
from engine.numeric import Array
from engine.plan import Plan, with_value
from engine.stages.doubt import first_step, what_to_measure
from engine.stages.logbook import EMPTY, Logbook
from engine.stages.unknowns import COLUMN, LOG_IT, UNKNOWNS
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.fixture(scope="module")
def fleet() -> Fleet:
    return draw(1024, len(UNKNOWNS))


def score(fleet: Fleet, name: str) -> Array:
    return fleet.scores[:, COLUMN[name]]


def test_shares_are_those_of_a_sum_whose_parts_are_known(fleet: Fleet) -> None:
    """y = 3 a + 1 b has nine tenths of its variance from a and one from b."""
    rows = what_to_measure(fleet, 3.0 * score(fleet, "displacement") + score(fleet, "room"), EMPTY)
    assert [row.share_fraction for row in rows] == pytest.approx([0.9, 0.1], abs=0.01)
    assert "travel lift" in rows[0].action
    assert "aperture" in rows[1].action


def test_what_one_action_settles_is_added_up(fleet: Fleet) -> None:
    """Wake and the method's error go with the same log: 1 + 4 parts of 6, the rest from the draft."""
    value = score(fleet, "wake") + 2.0 * score(fleet, "method_error") + score(fleet, "hull_draft")
    rows = what_to_measure(fleet, value, EMPTY)
    assert rows[0].action == LOG_IT
    assert rows[0].share_fraction == pytest.approx(5.0 / 6.0, abs=0.02)
    assert "wake" in rows[0].settles


def test_a_curved_effect_counts_and_an_unknown_without_effect_does_not(fleet: Fleet) -> None:
    rows = what_to_measure(fleet, np.exp(0.5 * score(fleet, "hull_draft")), EMPTY)
    assert [row.settles for row in rows] == ["hull draft"]
    assert rows[0].share_fraction == pytest.approx(1.0, abs=0.02)


def test_nothing_is_asked_for_when_nothing_differs(fleet: Fleet) -> None:
    assert what_to_measure(fleet, np.full(fleet.size, 7.0), EMPTY) == ()


def test_who_has_logged_is_asked_for_more_of_it(fleet: Fleet) -> None:
    from engine.conditioning import Conditioned
    from engine.stages.logged_drive import Reading

    after = Conditioned(fleet, np.zeros(1, dtype=bool), False, 1.0, float(fleet.size), 0.0)
    book = Logbook((Reading(0, 30.0, 3.0, None, "log through the water"),), {}, (), None, after)
    (row,) = what_to_measure(fleet, score(fleet, "wake"), book)
    assert row.action.startswith("Log two more speeds")
    (row,) = what_to_measure(fleet, score(fleet, "wake"), EMPTY, trial=book)
    assert row.action.startswith("Run two more speeds of the sea trial")
    assert row.path == "trial.run"


@pytest.mark.parametrize("share", [1.0, 3.0])
def test_the_sentence_claims_no_more_of_the_doubt_than_the_row(fleet: Fleet, share: float) -> None:
    """Of four equal parts the largest takes away a quarter: that is not most of it."""
    parts = [score(fleet, name) for name in ("room", "displacement", "propeller_pitch", "engine_output")]
    rows = what_to_measure(fleet, share * parts[0] + sum(parts[1:]), EMPTY)
    (told,) = first_step("the power at cruise", rows)
    assert told.text.startswith("The best way to be surer of the power at cruise: ")
    assert rows[0].action in told.text
    assert f"take away {100.0 * rows[0].share_fraction:.0f} % of the doubt" in told.text
    assert "ost of the doubt" not in told.text
    assert not list(first_step("the power at cruise", ()))


class TestInThePlan:
    def test_a_boat_whose_weight_is_a_guess_is_sent_to_the_travel_lift(self, launch: Plan, change: Change) -> None:
        vague = change(launch, {"hull.displacement": "9 t (5 t to 14 t)"})
        first = assess(vague).outcomes["power"].answers.doubt[0]
        assert "travel lift" in first.action
        assert first.share_fraction > 0.4

    def test_without_room_given_the_aperture_is_to_be_measured(self, launch: Plan) -> None:
        open_question = with_value(launch, "propeller.room", None)
        actions = [row.action for row in assess(open_question).outcomes["power"].answers.doubt]
        assert any("aperture" in action for action in actions)

    def test_full_throttle_hangs_on_the_engine_and_the_wheel(self, launch: Plan) -> None:
        rows = assess(launch).outcomes["propeller"].answers.doubt
        assert any("test sheet" in row.action for row in rows)
        shares = [row.share_fraction for row in rows]
        assert shares == sorted(shares, reverse=True)
        assert 0.5 < sum(shares) <= 1.05


SPREADS = [(kind, name) for kind in ("given", "given_amount", "not_given", "made") for name in table("doubt")[kind]]


@pytest.mark.parametrize(("kind", "name"), SPREADS)
def test_a_value_may_be_off_either_way(kind: str, name: str) -> None:
    """A spread the wrong way round, or on one side alone, is a slip: only weights err more one way than the other."""
    low, high = table("doubt")[kind][name]
    assert low < 0.0 < high
    assert high == pytest.approx(0.10 if name == "displacement" else -low)
