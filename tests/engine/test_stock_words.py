"""How the size of a wheel is written."""

import pytest

from engine.constants import INCH
from engine.stages.stock import STEPS, Steps, fitted_words, size_words

INCHES = next(steps for steps in STEPS.values() if steps.unit == "in")
MILLIMETRES = next(steps for steps in STEPS.values() if steps.unit == "mm")


@pytest.mark.parametrize("asked", [INCHES, MILLIMETRES])
def test_a_wheel_that_is_there_is_written_in_the_unit_it_was_made_in(asked: Steps) -> None:
    assert fitted_words((0.660, 0.500), 4, asked) == "660 x 500 mm, 4 blades"
    assert fitted_words((20.0 * INCH, 16.5 * INCH), 3, asked) == "20 x 16.5 in, 3 blades"


def test_a_wheel_to_order_is_written_in_the_steps_of_the_plan() -> None:
    assert size_words((20.0 * INCH, 16.5 * INCH), 3, MILLIMETRES) == "508 x 419.1 mm, 3 blades"
