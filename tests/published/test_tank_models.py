"""All resistance methods against tank tests of 22 yacht models: the errors that engine/data/*.toml quote.

Measurements: Gerritsma, Onnink & Versluis (1981), see data/delft_yacht_series_1981.csv. Residuary resistance there is
the total less ITTC 1957 friction on 0.7 of the waterline length; the models were towed with keel and rudder, the
estimates are for the bare hull, but for Delft 1992, which was made from these very models. The series gives neither
waterplane coefficient nor centre of flotation nor entrance angle: 0.69 is taken for the first, the methods' own
estimates for the others, 22 degrees of entrance for van Oortmerssen. All models have a midship coefficient below
0.70 and seven a beam-draft ratio above 4.0, outside the range of van Oortmerssen: for that method
they are held at those ends.

Two comparisons. As models of 1.6 m in fresh water of 15 C: residuary resistance over weight. As boats of 10 m in sea
water of 15 C: total resistance, the measured one being residuary resistance by Froude's law, friction on 0.7 of the
length with the Delft wetted surface, and the standard correlation allowance on the same surface.
"""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest

from engine.constants import GRAVITY
from engine.hull.consensus import DOUBT_OF_ANOTHER_KIND
from engine.hull.form import HullForm
from engine.hull.friction import friction_coefficient_ittc57
from engine.hull.holtrop_parts import correlation_allowance
from engine.hull.methods import METHODS
from engine.hull.wetted_surface import wetted_surface_delft
from engine.numeric import Array
from engine.water import Water, water

COLUMNS = ["model", "lcb_pct", "cp", "l_over_vol13", "b_over_t", "l_over_b", "fn", "rr_permille"]
ROWS = np.loadtxt(
    Path(__file__).parent / "data" / "delft_yacht_series_1981.csv", delimiter=",", skiprows=7, comments="#"
)
MODELS = dict(zip(COLUMNS, ROWS.T, strict=True))
MODEL_LENGTH, MODEL_WATER = 1.6, water("fresh", 15.0)
BOAT_LENGTH, BOAT_WATER = 10.0, water("sea", 15.0)
FROUDE_NUMBERS = np.unique(MODELS["fn"])
QUOTED_FROUDE_NUMBERS = FROUDE_NUMBERS[FROUDE_NUMBERS >= 0.15]
methods = pytest.mark.parametrize("method", METHODS)


def series(length: float) -> HullForm:
    """Every row's hull at a waterline length [m]."""
    beam = length / MODELS["l_over_b"]
    draft = beam / MODELS["b_over_t"]
    volume = (length / MODELS["l_over_vol13"]) ** 3
    return HullForm(
        waterline_length=length,
        waterline_beam=beam,
        draft=draft,
        volume=volume,
        midship_coefficient=volume / (length * beam * draft * MODELS["cp"]),
        waterplane_coefficient=0.69,
        lcb_percent=MODELS["lcb_pct"],
    )


def held_for_van_oortmerssen(form: HullForm) -> HullForm:
    """Beam-draft ratio 4.0 at most and midship coefficient 0.70 at least, with the prismatic coefficient unchanged."""
    draft = np.maximum(form.draft, form.waterline_beam / 4.0)
    midship = np.maximum(form.midship_coefficient, 0.70)
    volume = form.prismatic_coefficient * midship * form.waterline_length * form.waterline_beam * draft
    return replace(form, draft=draft, midship_coefficient=midship, volume=volume, half_entrance_angle_deg=22.0)


@dataclass(frozen=True)
class Estimate:
    """What a method says of every row at one scale [N]."""

    flat_plate: Array
    """Friction on 0.7 of the length, with the method's own wetted surface."""
    viscous: Array
    wave: Array
    correlation: Array
    weight: Array
    form: HullForm

    @property
    def residuary_permille(self) -> Array:
        """Total less friction on 0.7 of the length, in thousandths of the weight."""
        return 1e3 * (self.wave + self.viscous - self.flat_plate) / self.weight

    @property
    def wave_permille(self) -> Array:
        return 1e3 * self.wave / self.weight

    @property
    def total(self) -> Array:
        return self.viscous + self.wave + self.correlation


def estimate(method: str, length: float, medium: Water) -> Estimate:
    form = series(length)
    speed = MODELS["fn"] * np.sqrt(GRAVITY * length)
    result = METHODS[method].resistance(form, speed, medium)
    wave = np.asarray(result.wave)
    if method == "van_oortmerssen_1971":
        held = held_for_van_oortmerssen(form)
        wave = METHODS[method].resistance(held, speed, medium).wave * np.asarray(form.volume / held.volume)
    pressure = 0.5 * medium.density * speed**2
    return Estimate(
        flat_plate=pressure * result.wetted_surface * flat_plate_coefficient(form, speed, medium),
        viscous=np.asarray(result.friction + result.form),
        wave=wave,
        correlation=np.asarray(result.correlation),
        weight=np.asarray(medium.density * GRAVITY * form.volume),
        form=form,
    )


def flat_plate_coefficient(form: HullForm, speed: Array, medium: Water) -> Array:
    return np.asarray(friction_coefficient_ittc57(0.7 * np.asarray(form.reynolds_number(speed, medium))))


def measured_total(form: HullForm, length: float, medium: Water) -> Array:
    """The tank's resistance of every row at full size [N]."""
    speed = MODELS["fn"] * np.sqrt(GRAVITY * length)
    coefficient = flat_plate_coefficient(form, speed, medium) + correlation_allowance(form)
    viscous = 0.5 * medium.density * speed**2 * wetted_surface_delft(form) * coefficient
    return np.asarray(viscous + 1e-3 * MODELS["rr_permille"] * medium.density * GRAVITY * form.volume)


def at(froude_number: float, values: Array) -> Array:
    chosen = np.isclose(MODELS["fn"], froude_number)
    assert np.count_nonzero(chosen) == 22
    return values[chosen]


def root_mean_square(values: Array) -> float:
    return float(np.sqrt(np.mean(values**2)))


def residuary_error(method: str, froude_number: float) -> float:
    """Root mean square over the 22 models, in thousandths of the weight."""
    difference = estimate(method, MODEL_LENGTH, MODEL_WATER).residuary_permille - MODELS["rr_permille"]
    return root_mean_square(at(froude_number, difference))


def mean_error(method: str, froude_number: float) -> float:
    """Mean residuary estimate over mean measurement of the 22 models, less one."""
    residuary = estimate(method, MODEL_LENGTH, MODEL_WATER).residuary_permille
    return float(at(froude_number, residuary).mean() / at(froude_number, MODELS["rr_permille"]).mean() - 1.0)


def log_errors(method: str) -> Array:
    """ln(estimated / measured total resistance) of every row, as boats of 10 m."""
    boats = estimate(method, BOAT_LENGTH, BOAT_WATER)
    return np.log(boats.total / measured_total(boats.form, BOAT_LENGTH, BOAT_WATER))


def total_error(method: str, froude_number: float) -> float:
    return root_mean_square(at(froude_number, log_errors(method)))


def test_the_data_set_is_complete() -> None:
    assert ROWS.shape == (308, 8)


@methods
def test_quoted_errors_are_those_measured_to_their_two_digits(method: str) -> None:
    quoted = METHODS[method].errors
    assert [froude_number for froude_number, _ in quoted] == pytest.approx(list(QUOTED_FROUDE_NUMBERS))
    assert [f"{error:.2g}" for _, error in quoted] == [f"{total_error(method, fn):.2g}" for fn, _ in quoted]


def test_report_of_all_methods() -> None:
    """Run with -s to read it: rms error of residuary resistance, permille of weight, and rms of ln(total ratio)."""
    print("\nrms error of residuary resistance [permille of weight] | rms of ln(total estimated / measured)")
    print(f"{'':>22}" + "".join(f"{froude_number:>13.3f}" for froude_number in FROUDE_NUMBERS))
    for name, method in METHODS.items():
        pairs = [(residuary_error(name, fn), total_error(name, fn)) for fn in FROUDE_NUMBERS]
        print(f"{method.label:>22}" + "".join(f"{residuary:>7.2f}|{total:.3f}" for residuary, total in pairs))
    # The fit to these very models is nearest; no method is more than a quarter off up to hull speed.
    for froude_number in (0.25, 0.30, 0.35, 0.40):
        errors = {name: total_error(name, froude_number) for name in METHODS}
        assert min(errors, key=lambda name: errors[name]) == "delft_1992"
        assert max(errors.values()) < 0.25


def test_what_methods_made_from_other_vessels_miss_yachts_by_is_the_doubt_of_another_kind() -> None:
    """Made from ships, tugs and trawlers; root of the mean square over Froude numbers 0.25 to 0.40, three decimals."""
    made_from_others = [name for name, method in METHODS.items() if not method.kinds]
    working = [froude for froude in QUOTED_FROUDE_NUMBERS if 0.25 <= froude <= 0.40]
    missed = np.array([total_error(name, froude) for name in made_from_others for froude in working])
    assert made_from_others == ["holtrop_1982", "holtrop_1984", "van_oortmerssen_1971"]
    assert root_mean_square(missed) == pytest.approx(DOUBT_OF_ANOTHER_KIND, abs=5e-4, rel=0)


class TestHoltrop:
    @pytest.mark.parametrize("froude_number", [0.20, 0.225, 0.25, 0.275, 0.30, 0.325, 0.35, 0.375, 0.40])
    def test_1984_is_within_15_percent_on_average_to_froude_number_0_40(self, froude_number: float) -> None:
        assert abs(mean_error("holtrop_1984", froude_number)) < 0.15

    @pytest.mark.parametrize(("froude_number", "quoted"), [(0.425, -0.29), (0.45, -0.43)])
    def test_1984_is_as_low_on_its_bridge_as_the_owner_is_told(self, froude_number: float, quoted: float) -> None:
        # Quoted in whole percent.
        assert mean_error("holtrop_1984", froude_number) == pytest.approx(quoted, abs=0.005, rel=0)

    @pytest.mark.parametrize("froude_number", [0.30, 0.325, 0.35, 0.375, 0.40, 0.425, 0.45])
    def test_1982_is_9_to_13_percent_low_on_average_near_hull_speed(self, froude_number: float) -> None:
        assert -0.13 < mean_error("holtrop_1982", froude_number) < -0.09

    def test_1982_is_at_most_25_percent_low_in_the_middle_of_the_range(self) -> None:
        assert -0.25 < mean_error("holtrop_1982", 0.25) < -0.20


class TestDelft:
    @pytest.mark.parametrize(
        ("froude_number", "expected"),
        [
            *[(0.125, 0.05), (0.20, 0.12), (0.25, 0.15), (0.30, 0.23), (0.325, 0.22)],
            *[(0.35, 0.33), (0.375, 0.40), (0.40, 0.56), (0.425, 0.93), (0.45, 1.54)],
        ],
    )
    def test_1992_fits_the_models_it_was_made_from(self, froude_number: float, expected: float) -> None:
        # Two decimals, found by a second script of ours: half a unit, and a tenth of a unit for rounding of the rows.
        assert residuary_error("delft_1992", froude_number) == pytest.approx(expected, abs=0.006, rel=0)

    @pytest.mark.parametrize("method", ["delft_1998", "delft_2008"])
    @pytest.mark.parametrize("froude_number", [0.35, 0.375, 0.40, 0.425, 0.45])
    def test_the_bare_hull_is_12_to_22_percent_below_the_models_with_keel_and_rudder(self, method, froude_number):
        assert -0.22 < mean_error(method, froude_number) < -0.12


class TestVanOortmerssen:
    @pytest.mark.parametrize(
        ("froude_number", "expected"),
        [
            *[(0.20, 0.86), (0.25, 1.58), (0.30, 3.91), (0.325, 5.35), (0.35, 6.14)],
            *[(0.375, 10.19), (0.40, 19.70), (0.425, 33.05), (0.45, 47.00)],
        ],
    )
    def test_mean_residuary_resistance_with_the_plus_sign(self, froude_number: float, expected: float) -> None:
        # By a second script of ours, without smoothing; 3 % for that. With the minus sign 0.35 would be 17 % lower.
        mean = at(froude_number, estimate("van_oortmerssen_1971", MODEL_LENGTH, MODEL_WATER).wave_permille).mean()
        assert mean == pytest.approx(expected, rel=0.03)
