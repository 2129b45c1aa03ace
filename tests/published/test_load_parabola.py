"""Part-load consumption by the IMO parabola.

Source: US EPA marine emissions tool documentation (2022), after IMO (2014), Third GHG Study; example loads printed.
"""

import pytest

from engine.machinery.fuel import part_load_ratio_imo


@pytest.mark.parametrize(("load", "base", "printed"), [(0.5, 195.0, 202.5563), (0.7, 300.0, 301.7850)])
def test_documented_example_is_reproduced(load: float, base: float, printed: float) -> None:
    assert base * part_load_ratio_imo(load) == pytest.approx(printed, abs=5.1e-5)  # 202.55625 printed as ...63


def test_least_consumption_lies_near_eighty_percent_as_the_source_says() -> None:
    assert part_load_ratio_imo(0.80) < part_load_ratio_imo(0.70)
    assert part_load_ratio_imo(0.80) < part_load_ratio_imo(0.90)
