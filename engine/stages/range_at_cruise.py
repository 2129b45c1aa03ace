"""Whether the boats make the cruising speed at all, with all that is allowed for and the chosen propeller."""

from collections.abc import Iterator

from engine.findings import Finding, look, stop
from engine.numeric import told_apart
from engine.plan import noun_of
from engine.showing import share_of_boats
from engine.stages.range_about import SURE_ENOUGH, About
from engine.stages.wording import percent

_LARGER = 1.02
"""Times the diameter chosen: a propeller that much larger is another one (ours)."""
_SOURCE = "equilibrium in service"


def reach_findings(about: About) -> Iterator[Finding]:
    """That the boats, or some of them, do not make it; nothing where nine in ten do."""
    allowed = "With all that you allow for, and the chosen propeller,"
    reached = f"{share_of_boats(about.cruise.reached_fraction)} plausible boats make the cruising speed"
    if about.cruise_load > 1.0:
        yield stop(
            f"{allowed} the cruising speed takes {told_apart(100.0 * about.cruise_load, 100.0)} % of the power: the "
            f"figures at cruise are for power that the {noun_of(about.item)} has not. Plan with a lower speed."
            f"{_beside_the_engine_page(about)}",
            _SOURCE,
            "speed.cruise",
        )
    elif not about.makes_cruise:
        yield stop(
            f"{allowed} {reached}: for the others full throttle ends below it, though power may be left, and the "
            "figures at cruise are not to be had. Plan with a lower speed.",
            _SOURCE,
            "speed.cruise",
        )
    elif about.cruise.reached_fraction < SURE_ENOUGH:
        yield look(f"{allowed} {reached}; the others must slow down.", _SOURCE, "speed.cruise")


def _beside_the_engine_page(about: About) -> str:
    """What the engine page makes of the load, where it passes there.

    The propeller of that page is as large as there is room for, and turns as slowly as suits it.
    """
    if about.reference_load > 1.0:
        return ""
    there = f" The {percent(about.reference_load)} of the engine page are by "
    if about.reference_diameter > about.diameter * _LARGER:
        return (
            f"{there}a propeller of {about.say.size(about.reference_diameter)} that turns as slowly as suits it; a "
            "deeper ratio would bring the chosen one nearer to that."
        )
    return f"{there}the propeller of the power page."
