"""Classes of pitch of ISO 484-2 against what printed summaries say of one wheel."""

import itertools

import pytest

from engine.propeller.tolerance import PITCH_TOLERANCES, class_outside


@pytest.mark.parametrize(("name", "inches"), [("I", 0.15), ("II", 0.2), ("III", 0.6)])
def test_mean_pitch_of_a_wheel_of_20_inches(name: str, inches: float) -> None:
    """Printed in a trade summary: 0.15, 0.2 and 0.6 in on a pitch of 20 in, to the digits given."""
    assert 20.0 * PITCH_TOLERANCES[name].wheel == pytest.approx(inches, abs=0.005)


@pytest.mark.parametrize(
    ("name", "local", "blade", "wheel"),
    [("S", 1.5, 0.75, 0.5), ("I", 2.0, 1.0, 0.75), ("II", 3.0, 1.5, 1.0), ("III", None, 4.0, 3.0)],
)
def test_every_class_is_the_printed_one(name: str, local: float | None, blade: float, wheel: float) -> None:
    """Per cent of the pitch, as two published summaries of ISO 484-2 print it. The mean of one radius is left out: it
    stands here from memory."""
    tolerance = PITCH_TOLERANCES[name]
    assert tolerance.local == (None if local is None else pytest.approx(local / 100.0))
    assert (tolerance.blade, tolerance.wheel) == pytest.approx((blade / 100.0, wheel / 100.0))


def test_classes_get_coarser_and_the_whole_wheel_is_held_closer_than_its_parts() -> None:
    classes = list(PITCH_TOLERANCES.values())
    assert [each.name for each in classes] == ["S", "I", "II", "III"]
    for closer, coarser in itertools.pairwise(classes):
        assert closer.wheel < coarser.wheel
        assert closer.blade < coarser.blade
    for each in classes:
        assert each.wheel < each.blade < each.radius < (each.local or 1.0)


def test_small_wheels_lie_outside_the_standard() -> None:
    """Printed: from 0.80 to 2.50 m."""
    assert [class_outside(diameter) == () for diameter in (0.79, 0.80, 1.2, 2.50, 2.51)] == [
        False,
        True,
        True,
        True,
        False,
    ]
    (outside,) = class_outside(0.46)
    assert "agree with the shop" in outside.sentence()
