"""Boats drawn at random after their repower: what was fitted, the sea trial in any order, and a log of the seasons."""

from datetime import date, timedelta

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from engine.constants import KNOT, RPM
from engine.plan import Plan, entry_at
from engine.sections.trial import READING
from tests.engine.random_plans import plan_of, plausible_texts, with_texts

LAUNCHED = date(2026, 5, 3)


@st.composite
def tried_plans(draw: DrawFn) -> Plan:
    """A plan that hangs together, with runs and readings about as fast as was planned, some of them far from it."""
    plan = plan_of(draw(plausible_texts()), draw(st.sampled_from(["metric", "imperial"])))
    chosen, ratios = plan.engine.selected, plan.gear.ratios
    assert chosen is not None
    assert chosen.rated_speed is not None
    assert plan.speed.top is not None
    assert plan.propeller.room is not None
    rated_rpm, top_kn = chosen.rated_speed.si / RPM, plan.speed.top.si / KNOT
    diameter = min(0.85 * plan.propeller.room.si, 1.9)
    texts = {
        "trial.day": str(LAUNCHED),
        "trial.gear_ratio": f"{draw(st.sampled_from(ratios)).si:.3f}",
        "trial.propeller_diameter": f"{diameter:.3f} m",
        "trial.propeller_pitch": f"{diameter * draw(st.floats(0.4, 1.1)):.3f} m",
        "trial.propeller_blades": draw(st.sampled_from(["2", "3", "4"])),
        "trial.time_since_cleaning": draw(st.sampled_from(["", "0", "2 months"])),
    }
    share, off = st.floats(0.3, 1.15), st.one_of(st.floats(0.9, 1.1), st.floats(0.3, 3.0))
    for index, turning in enumerate(draw(st.lists(share, min_size=1, max_size=5))):
        speed_kn = min(max(turning * top_kn * draw(off), 0.5), 24.0)
        row = {
            "engine_speed": f"{turning * rated_rpm:.0f} rpm",
            "speed": f"{speed_kn:.2f} kn",
            "speed_back": draw(st.sampled_from(["", f"{1.05 * speed_kn:.2f} kn"])),
            "throttle": draw(st.sampled_from(entry_at("trial.run.0.throttle").choices)),
            "fuel_flow": draw(st.sampled_from(["", f"{1.0 + turning**3 * 10.0:.1f} L/h"])),
        }
        texts |= {f"trial.run.{index}.{name}": text for name, text in row.items()}
    whats = st.sampled_from([READING, READING, *entry_at("trial.season.0.what").choices])
    for index, days in enumerate(draw(st.lists(st.integers(-30, 900), max_size=7))):
        turning = draw(share)
        row = {
            "day": str(LAUNCHED + timedelta(days=days)),
            "what": draw(whats),
            "engine_speed": f"{turning * rated_rpm:.0f} rpm",
            "speed": f"{min(max(turning * top_kn * draw(off), 0.5), 24.0):.2f} kn",
        }
        texts |= {f"trial.season.{index}.{name}": text for name, text in row.items()}
    return with_texts(plan, texts)
