"""Burrill's chart: a printed area calculation, and the reading of the chart against a digitised line."""

from math import pi

import numpy as np
import pytest

from engine.propeller.cavitation import BURRILL_LINES, burrill_check, burrill_limit, dynamic_pressure
from engine.propeller.geometry import disc_area, expanded_ratio_from_projected, projected_area_ratio

KGF = 9.80665


class TestBulkCarrierOf25000Tonnes:
    """Sheng Zhenbang & Liu Yingzhong, "Ship Theory" vol. 2, section 6-5, table 6-2, as transcribed in a public test.

    Vapour pressure is not subtracted in this table. Printed: sigma 0.481, tau_c 0.175 (merchant line), AP 14.80 m2,
    AE 16.68 m2, A0 26.0 m2, AE/A0 0.642.
    """

    thrust = 88_800 * KGF
    diameter = 5.747
    pitch_ratio = 0.782
    dynamic = float(dynamic_pressure(5.747, 118.5 / 60, 5.46, 104.6 * KGF))
    pressure = 16_470 * KGF

    def test_cavitation_number(self):
        sigma = self.pressure / self.dynamic
        assert sigma == pytest.approx(0.481, abs=0.002)  # intermediate speeds are rounded in the table

    def test_area_ratio_with_the_printed_chart_reading(self):
        projected = self.thrust / (0.175 * self.dynamic)
        ratio = expanded_ratio_from_projected(projected / disc_area(self.diameter), self.pitch_ratio)
        assert ratio == pytest.approx(0.642, abs=0.006)

    def test_area_ratio_with_the_merchant_line(self):
        check = burrill_check(self.thrust, self.diameter, self.pitch_ratio, 0.65, self.dynamic, self.pressure)
        assert check.permitted_loading == pytest.approx(0.175, rel=0.04)  # line against one chart reading
        assert check.area_ratio_needed == pytest.approx(0.642, abs=0.015)
        assert check.thrust_loading < check.permitted_loading  # the ship was fitted with 0.65
        assert check.outside == ()

    def test_projected_area_multiplies_taylors_factor(self):
        """A document in circulation divides, which would give 12.4 m2 for the printed 14.80."""
        assert projected_area_ratio(16.68 / 26.0, self.pitch_ratio) * 26.0 == pytest.approx(14.80, abs=0.03)
        assert pi / 4 * self.diameter**2 == pytest.approx(26.0, abs=0.1)


def test_merchant_line_follows_the_digitised_five_percent_line():
    """Every tenth or so point of a public 94-point digitisation of Burrill's 5 % line; versions spread over 4-7 %."""
    sigma = np.array([0.25256, 0.300368, 0.354907, 0.405782, 0.50036, 0.621964, 0.797749, 1.01081, 1.178])
    tau = np.array([0.119626, 0.138267, 0.156246, 0.17131, 0.194318, 0.220584, 0.251009, 0.283619, 0.305198])
    np.testing.assert_allclose(burrill_limit(sigma), tau, rtol=0.07)


def test_lines_lie_in_the_order_of_the_chart():
    sigma = np.linspace(0.25, 1.2, 20)
    lower, merchant, ten = (burrill_limit(sigma, line) for line in ("lower", "merchant", "ten_percent"))
    assert np.all(lower < merchant)
    assert np.all(merchant < ten)
    assert np.all(np.diff(merchant) > 0)


def test_a_line_has_no_value_below_its_end():
    assert np.isnan(burrill_limit(0.02))
    assert np.isnan(burrill_limit(0.05, "ten_percent"))


def test_every_line_says_where_it_comes_from():
    assert all(line["status"] and line["words"] for line in BURRILL_LINES.values())


def test_an_unknown_line_is_refused_by_name():
    with pytest.raises(ValueError, match="merchant"):
        burrill_limit(0.5, "usual")


def test_a_low_cavitation_number_is_reported():
    check = burrill_check(20e3, 0.6, 0.5, 0.5, np.array([300e3, 900e3]), 108e3)
    assert [record.quantity for record in check.outside] == ["cavitation number", "pitch ratio"]
    assert check.outside[0].where.tolist() == [False, True]
