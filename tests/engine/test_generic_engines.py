"""Generic candidates: understood field by field, marked as invented, of plausible weight."""

import pytest

from engine.defaults import amount
from engine.machinery.generic_engines import GENERIC_ENGINES, GenericEngine, generic_mass
from engine.plan import Plan
from engine.sections.electric import FIGURES, Motor
from engine.units import Quantity
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

EACH = pytest.mark.parametrize("engine", GENERIC_ENGINES.values(), ids=GENERIC_ENGINES)


@EACH
def test_it_says_that_it_is_invented(engine: GenericEngine) -> None:
    assert "invented" in engine.name
    assert engine.changes["figures"] == FIGURES[1]


@EACH
def test_it_can_be_worked_out_and_the_page_warns(engine: GenericEngine, launch: Plan) -> None:
    outcome = assess(with_generic(launch, engine)).outcomes["engine"]
    assert outcome.answers.name == engine.name
    assert any("invented" in finding.text for finding in outcome.findings)


@pytest.mark.parametrize("name", [name for name, engine in GENERIC_ENGINES.items() if not engine.is_electric])
def test_a_diesel_weighs_what_the_placeholder_says(name: str, launch: Plan) -> None:
    """Rounded to 5 kg in the table."""
    row = with_generic(launch, GENERIC_ENGINES[name]).engine.candidate[-1]
    assert isinstance(row.weight, Quantity)
    assert row.weight.si == pytest.approx(generic_mass(amount(row, "rated_power")), abs=2.6)


def test_motors_are_motors(launch: Plan) -> None:
    motors = [engine for engine in GENERIC_ENGINES.values() if engine.is_electric]
    assert len(motors) == 3
    assert isinstance(with_generic(launch, motors[0]).engine.selected, Motor)
