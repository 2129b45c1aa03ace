"""`assess` for tests that change one plan in many ways: what the change leaves alone is worked out once."""

from engine import assessment
from engine.assessment import Assessment
from engine.plan import Plan

_first: dict[str, Assessment] = {}


def assess(plan: Plan) -> Assessment:
    """The assessment of a plan, after that of the first plan of its name; test_reuse.py shows that it is the same."""
    after = _first.get(plan.name)
    found = assessment.assess(plan, after)
    if found.is_complete:
        _first.setdefault(plan.name, found)
    return found
