"""Generic candidates put into a plan, for tests."""

from engine.machinery.generic_engines import GenericEngine
from engine.plan import Plan, with_row, with_text


def with_generic(plan: Plan, engine: GenericEngine) -> Plan:
    """The plan with the generic candidate added and chosen."""
    plan = with_row(plan, "engine.motor" if engine.is_electric else "engine.candidate", engine.changes)
    assert not plan.unread
    return with_text(plan, "engine.chosen", engine.name)
