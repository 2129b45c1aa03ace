"""The twin-screw vessel of the worked example of Holtrop (1984), and its water."""

from engine.hull.form import HullForm
from engine.water import Water

SHIP = HullForm(
    waterline_length=50.0,
    waterline_beam=12.0,
    draft=3.2,
    trim=0.2,
    volume=900.0,
    midship_coefficient=0.78,
    waterplane_coefficient=0.80,
    lcb_percent=-4.5,
    half_entrance_angle_deg=25.0,
    transom_area=10.0,
    appendage_area=50.0,
    appendage_factor=3.0,
)
WATER = Water(1025.0, 1.18831e-6)
