"""Tanks that were measured with a tape, by the geometry of their sections."""

from collections.abc import Callable

import pytest

from engine.plan import Plan, with_row
from engine.stages.voyage import TankRow, measured_tanks

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(
    ("shape", "bottom", "full", "at_half"),
    [
        ("box", "", 360.0, 180.0),  # 1.2 x 0.5 x 0.6 m
        ("sloping sides", "30 cm", 288.0, 126.0),  # 0.3 m wide at the bottom, 0.4 m half way up
        ("sloping sides", "", 360.0, 180.0),  # upright as long as no bottom is given
        ("V-bottomed", "", 180.0, 45.0),  # half a box; half way up a quarter of it
    ],
)
def test_a_tank_holds_what_its_section_has_room_for(
    launch: Plan, change: Change, shape: str, bottom: str, full: float, at_half: float
) -> None:
    measures = {"length": "1.2 m", "width": "0.5 m", "height": "0.6 m", "shape": shape, "bottom_width": bottom}
    given = {f"range.measured.0.{name}": text for name, text in measures.items() if text}

    def dipped(depth: str) -> TankRow:
        (tank,) = measured_tanks(change(with_row(launch, "range.measured"), {**given, "range.measured.0.dip": depth}))
        return tank

    assert dipped("30 cm").full_l == pytest.approx(full)
    assert dipped("30 cm").aboard_l == pytest.approx(at_half)
    assert dipped("61 cm").aboard_l is None, "a dip deeper than the tank tells nothing"
